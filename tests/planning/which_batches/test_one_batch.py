"""One question, one pot: whole batches, what is left, and the process of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.measures import read_mass_kg, read_volume_m3
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
    return small_kitchen(pot, fire, Heat.GAS, air, metric=False), air


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
    """Four pounds of apples press to two pints of juice: Guide 7, a cup a pound."""
    found = asked("apple juice", "4 lb", jar="pint")
    assert (found.jars_worth, found.batches, found.fitted.recipe.multiple) == (2, 1, 2)


def test_her_own_multiple_of_what_is_reckoned_by_the_jar_stands():
    """Twenty-seven jars' worth by fives are five pots of five and two over."""
    found = asked("apple juice", "54 cups", jar="pint", multiple=5)
    assert (found.jars_worth, found.batches, found.jars) == (None, 5, 5)


def test_cups_of_crushed_fruit_are_left_over_in_cups():
    """Three bags of 2 1/2 cups are three batches of 2 cups and 1 1/2 more.

    They were told as 1 lb, as if there were hulls on them.
    """
    left = asked("strawberry freezer jam", "3 bags of 2 1/2 cups").left
    assert left is not None
    assert left.text == "1 1/2 cups, 1/2 cup short of another batch"
    assert left.choices[0].startswith("the rest of an opened bag, 1 1/2 cups, goes")


def test_who_has_too_few_cups_of_chopped_fruit_is_told_the_cups_that_lack():
    kitchen, air = at_the_stove()
    lot = lot_as_typed("3 cups", key="have")
    few = one_batch("apricot jam", lot, kitchen, air)
    assert isinstance(few, Refusal)
    assert few.reason.endswith("less than one batch: 5 cups make one, 2 cups more")


def test_where_no_canner_has_a_process_that_of_boiling_water_says_why():
    """The rows end at 10,000 ft; that a jelly has none under pressure says nothing."""
    process = asked("plum jelly", "5 cups", feet=12_000).process
    assert isinstance(process, Refusal)
    assert (
        "lies above 10,000 ft (3,048 m), where the boiling-water rows" in process.reason
    )


@pytest.mark.parametrize("keeping", ["cold", ""])
def test_what_its_recipe_keeps_cold_has_no_process(keeping: str):
    """A process printed for the like of it is none for what is kept cold."""
    fitted = asked("plum jelly", "5 cups").fitted
    recipe = fitted.recipe
    cold = replace(recipe, procedure=replace(recipe.procedure, keeping=keeping))
    _, air = at_the_stove()
    found = _process(replace(fitted, recipe=cold), air)
    assert (found is None) == (keeping == "cold")


@pytest.mark.parametrize(
    ("product", "jar", "have", "read"),
    [
        # a batch is 4 lb: 63.3 oz lack, and 3 lb 15 oz were said, or 1.79 kg
        ("pickled hot peppers", "pint", "0.7 oz", read_mass_kg),
        ("pickled hot peppers", "pint", "5.6 oz", read_mass_kg),
        # five cups are 1183 mL; what lacks is no whole number of quarter teaspoons
        ("plum jelly", "half-pint", "497.7 ml", read_volume_m3),
        ("plum jelly", "half-pint", "568.8 ml", read_volume_m3),
    ],
)
def test_who_brings_what_is_said_to_lack_has_a_batch(product, jar, have, read):
    kitchen, air = at_the_stove()
    lot = lot_as_typed(have, key="have")
    found = one_batch(product, lot, kitchen, air, jar=jar)
    assert isinstance(found, Refusal)
    told = found.reason.rpartition(", ")[2].removesuffix(" more")
    for said in told.removesuffix(")").split(" ("):
        both = float(read(have)) + float(read(said))
        litres_or_kilos = both * (1000 if read is read_volume_m3 else 1)
        unit = "L" if read is read_volume_m3 else "kg"
        assert asked(product, f"{litres_or_kilos:.6f} {unit}", jar=jar).batches == 1


def test_who_weighs_what_is_said_to_make_a_batch_has_one():
    """Four pounds are 1.814 kg: 1.81 kg, as it was said, were refused."""
    kitchen, air = at_the_stove()
    lot = lot_as_typed("1 lb", key="have")
    found = one_batch("pickled hot peppers", lot, kitchen, air, jar="pint")
    assert isinstance(found, Refusal)
    pounds, kilos = (
        found.reason.partition(": ")[2].partition(" make one")[0].split(" (")
    )
    for said in (pounds, kilos.removesuffix(")")):
        assert asked("pickled hot peppers", said, jar="pint").batches == 1


def test_fruit_that_is_printed_by_the_pint_may_be_given_by_the_pint():
    """Of 5 pints it was said to give them "as the recipe does", in pounds."""
    assert asked("blueberry-spice jam", "5 pints").batches == 2
    left = asked("blueberry-spice jam", "6 pints").left
    assert left is not None
    assert left.text.startswith("2 cups, 3 cups short of another batch")


@pytest.mark.parametrize(
    ("food", "pounds"),
    [("pears", "11 lb"), ("peaches", "11 lb"), ("apricots", "10 lb")],
)
def test_what_is_printed_for_nine_pints_fills_nine(food: str, pounds: str):
    """Half of a quart's 2 1/2 lb is more than a ninth of 11: it made eight."""
    assert asked(food, pounds, jar="pint").jars_worth == 9
