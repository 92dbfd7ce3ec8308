"""Rendering: a balance of fat and water, a gentle fire, never the shelf."""

import pytest

from stillroom.book.rendering import rendering_for, renderings
from stillroom.methods import render_fat
from stillroom.methods.method import Kept
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import ids_of, recipe_of, station, step_of, work_of

POUND = 0.45359237


def test_it_is_kept_cold_and_says_so():
    assert render_fat.KEPT is Kept.COLD
    checked = granted(render_fat.checks(recipe_of("lard", 4), station()))
    said = " ".join(caution.text for caution in checked.cautions)
    assert "never sealed for the shelf" in said
    assert "no water into hot fat" in said
    assert "spits" in said


def test_four_pounds_of_fat_by_hand():
    """4 lb is 1.814 kg; 70 to 90 % at 0.9 kg/L: 1.41 to 1.81 L, 2.98 to 3.83 pints."""
    made = granted(render_fat.expected_yield(recipe_of("lard", 4), "pint"))
    assert made.low == pytest.approx(1.814 * 0.7 / 0.9 / 0.473176, rel=1e-3)
    assert made.high == pytest.approx(1.814 * 0.9 / 0.9 / 0.473176, rel=1e-3)
    assert "common practice" in made.basis
    assert made.source.how_known == "practice"


def test_melting_takes_what_fat_and_water_need():
    """
    By hand: 4 lb of fat with 10 % water, 1/3 cup added, to 255 °F on 1.0 kW of gas.

    1.814 kg x 2.5 kJ over 103.9 K is 0.471 MJ, and 0.079 kg x 4.19 kJ up to the boil
    there, 77.8 K, is 0.026 MJ; 0.260 kg of steam at 2.26 MJ is 0.588 MJ; 400 - 150 =
    250 W: 72.3 min.
    """
    lard = recipe_of("lard", 4)
    fat = granted(rendering_for("lard"))
    assert render_fat.melt_min(lard, fat, station()) == pytest.approx(72.3, abs=0.2)


def test_fat_and_water_are_no_more_than_the_raw_fat():
    for fat in renderings():
        assert fat.yield_low <= fat.yield_high
        assert fat.yield_high + fat.water_share <= 1


def test_the_fire_is_gentle_and_fat_is_not_left_on_it():
    """It was to be looked in on every few minutes, beside "never leave it"."""
    work = work_of(recipe_of("lard", 6), jars=4)
    melt, clear = step_of(work, "melt"), step_of(work, "clear")
    assert "Never leave" in melt.caution
    assert melt.attention_quarters == clear.attention_quarters == 2  # stays and watches
    assert melt.burner_w == render_fat.GENTLE_W
    links = {(link.before, link.after): link for link in work.links}
    assert links["melt", "clear"].at_most_min == 0
    assert "wipe_and_lid" not in ids_of(work)
    assert step_of(work, "strain").critical


def test_the_finish_from_memory_says_so():
    lard = step_of(work_of(recipe_of("lard", 2)), "clear").end_sign
    assert "255 °F (124 °C) (memory)" in lard
    assert "°F" not in step_of(work_of(recipe_of("tallow", 2)), "clear").end_sign


def test_a_full_pot_is_refused():
    """The pot holds twice the cubes: 20 lb is 11.3 L of them."""
    answer = render_fat.checks(recipe_of("lard", 20), station(15.0))
    assert isinstance(answer, Refusal)
    assert "larger pot" in answer.instead


def test_a_weak_stove_is_refused():
    answer = render_fat.checks(recipe_of("lard", 2), station(efficiency=0.12))
    assert isinstance(answer, Refusal)


def test_no_lids_are_used_up():
    names = [m.name for m in render_fat.materials(recipe_of("lard", 2), "pint", 2)]
    assert names == ["pork fat", "pint jars"]


def test_everything_is_linear():
    one = granted(render_fat.expected_yield(recipe_of("lard"), "pint"))
    ten = granted(render_fat.expected_yield(recipe_of("lard", 10), "pint"))
    assert ten.likely == pytest.approx(10 * one.likely)


def test_an_unknown_fat_is_refused_by_name():
    answer = rendering_for("whale oil")
    assert isinstance(answer, Refusal)
    assert "lard" in answer.instead
