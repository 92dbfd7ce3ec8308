"""Where a process leaves the choice, a batch takes what the shelf has."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.methods.today import air_in
from stillroom.planning.day import Lot, Want
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted
from tests.kitchens import CUP, day

POUND = 0.45359237
ACIDS = {"bottled lemon juice", "citric acid", "vinegar of 5 %"}


def seven_quarts(*shelf: Lot, product: str = "tomatoes packed in water") -> Batched:
    """Seven quarts of tomatoes, or of figs, and what acid there is."""
    food = Lot(name="food", what=product.split()[0], mass_kg=21 * POUND)
    jars = (
        Lot(name="quarts", what="quart jars", count=9),
        Lot(name="lids", what="lids", count=9),
        Lot(name="sugar", what="sugar", mass_kg=5.0),
    )
    today = day(Want(product=product, jars=7, jar="quart"), shelf=(food, *jars, *shelf))
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, Shelf(today.shelf))


def cups(what: str, number: float) -> Lot:
    return Lot(name=what, what=what, volume_m3=number * CUP)


@pytest.mark.parametrize(
    ("there", "taken", "drawn"),
    [
        # 7 times 2 tbsp, 1/2 tsp and 4 tbsp: Guide 3 of the Complete Guide
        (cups("bottled lemon juice", 1), "bottled lemon juice", "3/4 cup + 2 tbsp"),
        (cups("citric acid", 0.5), "citric acid", "1 tbsp + 1/2 tsp"),
        (cups("white vinegar, 5 %", 8), "vinegar of 5 %", "1 3/4 cups"),
    ],
    ids=lambda value: value if isinstance(value, str) else value.what,
)
def test_tomatoes_take_the_acid_that_the_shelf_has(there, taken, drawn):
    """Who had citric acid was told to buy lemon juice."""
    made = seven_quarts(there)
    assert made.shopping == []
    (batch,) = made.batches
    assert [d.text for d in batch.draws if d.lot == there.name] == [drawn]
    (acid,) = [part for part in batch.parts if part.role == "acid"]
    assert acid.name == taken
    assert {other.name for other in acid.instead} == ACIDS - {taken}
    (chosen,) = made.chosen.values()
    assert chosen.fitted.recipe.parts == batch.parts  # as its steps will say


def test_of_two_that_are_there_the_one_that_is_enough_is_taken_and_none_is_mixed():
    """A quarter cup of lemon juice is for two jars; all seven take citric acid."""
    made = seven_quarts(cups("bottled lemon juice", 0.25), cups("citric acid", 0.5))
    assert made.shopping == []
    assert [d.lot for d in made.batches[0].draws if d.lot in ACIDS] == ["citric acid"]


def test_citric_acid_by_the_pound_is_looked_at_and_no_lemon_juice_bought():
    """What a spoon of it weighs is not in the book."""
    made = seven_quarts(Lot(name="acid", what="citric acid", mass_kg=POUND))
    (buy,) = made.shopping
    assert (buy.name, buy.have) == ("citric acid", "some")
    assert "see whether it is enough" in buy.why


def test_what_will_do_is_named_beside_what_is_to_be_bought():
    (buy,) = seven_quarts().shopping
    assert (buy.name, buy.buy) == ("bottled lemon juice", "3/4 cup + 2 tbsp")
    assert "citric acid or vinegar of 5 % will do in its place" in buy.why


def test_lemon_juice_out_of_the_freezer_is_no_bottled_juice():
    """It was squeezed by somebody: its acidity is nobody's word."""
    frozen = replace(cups("lemon juice", 2), frozen=True)
    (buy,) = seven_quarts(frozen).shopping
    assert (buy.name, buy.have) == ("bottled lemon juice", "none")


def test_figs_take_citric_acid_and_no_vinegar():
    """Guide 2 prints lemon juice and citric acid for figs, and nothing else."""
    (batch,) = seven_quarts(cups("citric acid", 0.5), product="figs").batches
    (acid,) = [part for part in batch.parts if part.role == "acid"]
    assert [acid.name, *(p.name for p in acid.instead)] == [
        "citric acid",
        "bottled lemon juice",
    ]
    (buy,) = seven_quarts(cups("vinegar 5 %", 8), product="figs").shopping
    assert buy.name == "bottled lemon juice"
