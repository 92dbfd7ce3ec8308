"""Freezer jam and jelly: raw fruit, boiled pectin, a day to set, never the shelf."""

import pytest

from stillroom.book.procedures import procedures
from stillroom.methods import freezer_spread
from stillroom.methods.method import Kept
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import ids_of, recipe_of, station, step_of, work_of

SPREADS = [p for p in procedures() if p.method == freezer_spread.NAME]


def test_there_are_freezer_spreads():
    assert len(SPREADS) >= 5
    assert freezer_spread.KEPT is Kept.FREEZER


@pytest.mark.parametrize("procedure", SPREADS, ids=lambda p: p.id)
def test_the_volume_agrees_with_the_printed_yield(procedure):
    """Nothing boils away: our volume is within a tenth of a printed half-pint count."""
    made = granted(
        freezer_spread.expected_yield(recipe_of(procedure.name), "half-pint")
    )
    assert 0.9 * made.printed_low <= made.likely <= 1.1 * made.printed_high
    assert made.low < made.likely < made.high


def test_strawberry_by_hand():
    """2 cups fruit, 1 cup water, 800 g sugar that takes up 0.5 L (2.1 cups): 5.1."""
    made = granted(
        freezer_spread.expected_yield(recipe_of("strawberry freezer jam"), "half-pint")
    )
    assert made.high == pytest.approx(5.1, abs=0.1)
    assert made.printed == "5 to 6"


@pytest.mark.parametrize("procedure", SPREADS, ids=lambda p: p.id)
def test_fruit_is_never_on_the_fire(procedure):
    work = work_of(recipe_of(procedure.name), "half-pint", 5)
    on_fire = [step.id for step in work.steps if step.burner_w]
    liquid = "liquid" in procedure.id
    assert on_fire == ([] if liquid else ["boil_pectin"])
    assert "hard_boil" not in ids_of(work)


def test_pectin_boils_a_minute_by_the_clock():
    boil = step_of(work_of(recipe_of("strawberry freezer jam")), "boil_pectin")
    assert "1 min" in boil.end_sign
    assert boil.critical
    assert boil.attention_quarters == 4


def test_lemon_juice_waits_for_the_pouch():
    note = step_of(work_of(recipe_of("sour cherry freezer jam")), "stir_sugar").note
    assert "ascorbic" in note
    assert "lemon" not in note
    powdered = work_of(recipe_of("blackberry freezer jam"))
    note = step_of(powdered, "stir_sugar").note
    assert "1 tsp lemon juice, bottled" in note  # as the list of the batch has it


def test_it_is_filled_before_it_gels_and_stands_a_day():
    work = work_of(recipe_of("strawberry freezer jam"), "half-pint", 5)
    links = {(link.before, link.after): link for link in work.links}
    assert links["stir_in", "fill"].at_most_min == 2
    stood, used = work.later
    assert stood.after_h == 24
    assert "21 days" in stood.text
    assert "Never on the shelf" in stood.text
    assert used.after_h == 365 * 24


def test_boxes_not_lids():
    made = recipe_of("strawberry freezer jam")
    names = [m.name for m in freezer_spread.materials(made, "half-pint", 5)]
    assert names[0] == "strawberries"
    assert names[-1] == "half-pint freezer boxes"
    assert "lids" not in names


def test_copper_is_refused_and_doubling_is_cautioned():
    made = recipe_of("strawberry freezer jam", 2)
    assert isinstance(freezer_spread.checks(made, station(material="copper")), Refusal)
    assert any("never to double" in caution.text for caution in made.cautions)
