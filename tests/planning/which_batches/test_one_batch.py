"""One question, one pot: whole batches, what is left, and the process of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.methods.kitchen import Heat, Kitchen
from stillroom.methods.today import AirToday, air_today
from stillroom.planning.which_batches.batch_words import (
    burner_as_typed,
    lot_as_typed,
    pot_as_typed,
)
from stillroom.planning.which_batches.one_batch import (
    OneBatch,
    _process,
    one_batch,
    small_kitchen,
)
from stillroom.refusal import Refusal, granted

METRES_A_FOOT = 0.3048


def at_the_stove(feet: float = 2150) -> tuple[Kitchen, AirToday]:
    """A pot of 12 quarts on a fire of 2.5 kW."""
    air = granted(air_today(elevation_m=feet * METRES_A_FOOT))
    pot, fire = pot_as_typed("12qt", key="pot"), burner_as_typed("2.5kW", key="burner")
    return small_kitchen(pot, fire, Heat.GAS, air), air


def asked(product: str, have: str, *, feet: float = 2150, **more: object) -> OneBatch:
    kitchen, air = at_the_stove(feet)
    lot = lot_as_typed(have, key="have")
    return granted(one_batch(product, lot, kitchen, air, **more))  # type: ignore[arg-type]


def test_nothing_is_left_of_two_whole_batches():
    """Ten cups are twice the five of a batch; of eleven a cup is over."""
    assert asked("plum jelly", "10 cups").left is None
    left = asked("plum jelly", "11 cups").left
    assert left is not None
    assert left.text == "1 cup, 4 cups short of another batch"


def test_jars_are_counted_to_the_nearest():
    """7.8 are reckoned of plum jelly: eight jars are set out."""
    found = asked("plum jelly", "10 cups")
    assert 7.5 <= found.fitted.expected.likely < 8
    assert found.jars == 8


def test_what_one_pot_holds_is_one_batch():
    """Three pounds of apples press to two pints of juice."""
    found = asked("apple juice", "3 lb", jar="pint")
    assert (found.jars_worth, found.batches, found.fitted.recipe.multiple) == (2, 1, 2)


def test_her_own_multiple_of_what_is_reckoned_by_the_jar_stands():
    """Twenty-seven jars' worth by fives are five pots of five and two over."""
    found = asked("apple juice", "30 lb", jar="pint", multiple=5)
    assert (found.jars_worth, found.batches, found.jars) == (None, 5, 5)


def test_bags_that_the_recipe_weighs_are_not_left_over_by_the_bag():
    """Three bags of 2 1/2 cups are three batches of 2 cups and a good half more."""
    left = asked("strawberry freezer jam", "3 bags of 2 1/2 cups").left
    assert left is not None
    assert left.text.startswith("12 3/4 oz (360 g)")
    assert not any("bag" in choice for choice in left.choices)


def test_where_no_canner_has_a_process_that_of_boiling_water_says_why():
    """The rows end at 10,000 ft; that a jelly has none under pressure says nothing."""
    process = asked("plum jelly", "5 cups", feet=12_000).process
    assert isinstance(process, Refusal)
    assert "lies above 10,000 ft, where the boiling-water rows" in process.reason


@pytest.mark.parametrize("keeping", ["cold", ""])
def test_what_its_recipe_keeps_cold_has_no_process(keeping: str):
    """A process printed for the like of it is none for what is kept cold."""
    fitted = asked("plum jelly", "5 cups").fitted
    recipe = fitted.recipe
    cold = replace(recipe, procedure=replace(recipe.procedure, keeping=keeping))
    _, air = at_the_stove()
    found = _process(replace(fitted, recipe=cold), air)
    assert (found is None) == (keeping == "cold")
