"""Drying: what is not water stays; hours are ranges, the test decides."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.book.drying import drying_for, dryings
from stillroom.methods import dry
from stillroom.methods.recipes import recipe_named
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import ids_of, recipe_of, station, work_of

POUND = 0.45359237


def test_dried_apples_reproduce_a_published_yield():
    """Univ. of Minnesota: 2,000 lb of fresh apples give 250 lb dried, 500 lb peel."""
    left = granted(dry.dried_kg(recipe_of("dried apples", 20)))
    assert left[1] == pytest.approx(20 * POUND * 250 / 2000, rel=1e-3)


def test_dried_pears_by_hand():
    """10 lb, 10 % core: 9 lb with 16.04 % solids; at 20 % water 9 x 0.1604/0.8."""
    left = granted(dry.dried_kg(recipe_of("dried pears", 10)))
    assert left[1] == pytest.approx(9 * POUND * 0.1604 / 0.80)
    assert left[0] == pytest.approx(9 * POUND * 0.1604 / 0.94)


@given(st.integers(1, 40), st.sampled_from(["apples", "apricots", "pears", "plums"]))
def test_solids_are_conserved_and_all_is_linear(pounds, food):
    one, many = recipe_of(f"dried {food}"), recipe_of(f"dried {food}", pounds)
    drying = granted(drying_for(food))
    prepared, left = granted(dry.prepared_kg(many)), granted(dry.dried_kg(many))
    solids = prepared * (1 - drying.water_share)
    assert left[0] * (1 - drying.dry_water_low) == pytest.approx(solids)
    assert left[2] * (1 - drying.dry_water_high) == pytest.approx(solids)
    assert left[1] == pytest.approx(pounds * granted(dry.dried_kg(one))[1])
    assert left[2] < prepared


# Printed hours: MU GH1563; MSU 01600371, 01600412, 01600336; NDSU table 1.
@pytest.mark.parametrize(
    ("food", "hours"),
    [
        ("apples", (6, 12)),
        ("apricots", (24, 36)),
        ("pears", (18, 24)),
        ("plums", (24, 36)),
        ("blueberries", (12, 24)),
        ("green beans", (8, 14)),
    ],
)
def test_hours_are_as_printed(food, hours):
    drying = granted(drying_for(food))
    assert (drying.hours_low, drying.hours_high) == hours


def test_the_hours_come_after_the_day():
    work = work_of(recipe_of("dried apples", 6), jars=2)
    assert ids_of(work) == ["prepare", "treat", "spread", "start"]
    test, days, packed = work.later
    assert (test.after_h, days.after_h) == (6, 12)
    assert "moist spot" in test.text
    assert packed.after_h == 12 + 4 * 24  # closed only when they have stood
    assert "4 to 10 days" in days.text
    assert "moisture on the lid" in days.text


def test_vegetables_are_not_conditioned():
    assert len(work_of(recipe_of("dried onions", 4), jars=2).later) == 2


def test_what_is_steamed_has_a_fire_and_what_is_not_has_none():
    assert "boil_water" in ids_of(work_of(recipe_of("dried pears", 4)))
    apples = work_of(recipe_of("dried apples", 4))
    assert not any(step.burner_w for step in apples.steps)
    assert "treat" not in ids_of(work_of(recipe_of("dried onions", 4)))


def test_jars_follow_the_weight_of_a_dried_cup():
    """12 lb of apples: 0.680 kg dried; 2 cups of 86 g fill a pint: 3.96 pints."""
    made = granted(dry.expected_yield(recipe_of("dried apples", 12), "pint"))
    assert made.likely == pytest.approx(12 * POUND / 8 / 0.172, rel=2e-3)
    assert made.source.how_known == "memory"
    assert "86 g (memory)" in made.basis
    assert made.printed == "not printed"


@pytest.mark.parametrize("food", ["green beans", "blueberries"])
def test_what_is_not_known_is_asked_for(food):
    recipe = recipe_of(f"dried {food}")
    answer = dry.expected_yield(recipe, "pint")
    assert isinstance(answer, Refusal)
    assert "weigh" in answer.instead


def test_an_unknown_food_is_left_to_the_rest_of_the_book():
    answer = recipe_named("dried fish", jar="pint")
    assert isinstance(answer, Refusal)


def test_the_outlook_says_how_much_water_goes():
    checked = granted(dry.checks(recipe_of("dried apples", 8), station()))
    assert "kg of water gone" in checked.outlook
    assert any("140 to 150" in caution.text for caution in checked.cautions)


def test_every_row_dries():
    for drying in dryings():
        assert drying.hours_low <= drying.hours_high
        assert drying.dry_water_low <= drying.dry_water_high
        if drying.water_share is not None:
            assert drying.dry_water_high < drying.water_share
