"""What is bought for a day is enough for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.measures import read_mass_kg
from stillroom.methods.kitchen import Pot
from stillroom.methods.today import air_in
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import Purchase
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted
from tests.kitchens import day, juice, kitchen, stores


def shopping(sugar_kg: float) -> list[Purchase]:
    """Of two batches of plum jelly, which take 2.8 kg of sugar."""
    today = day(shelf=(juice(), *stores(sugar_kg=sugar_kg)))
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, Shelf(today.shelf)).shopping


@pytest.mark.parametrize("there_kg", [0.123, 1.4, 2.31])
def test_who_buys_the_sugar_that_is_said_has_no_more_to_buy(there_kg: float):
    """Of 2.677 kg that lack 5 lb 14 oz were said, 12 g too little."""
    (sugar,) = shopping(there_kg)
    for said in sugar.buy.removesuffix(")").split(" ("):
        assert shopping(there_kg + float(read_mass_kg(said))) == []


@pytest.mark.parametrize("first", ["by the piece", "by the cup"])
def test_two_onions_and_8_cups_of_sliced_ones_are_bought_each_in_their_measure(first):
    """As one sum they were 3 onions, or 8,461 1/2 cups."""
    wants = [
        Want(product="pickle-reduced-sodium-dill", jars=8, jar="pint"),
        Want(product="pickle-bread-butter", jars=8, jar="pint"),
    ]
    cucumbers = Lot(name="c", what="pickling cucumbers", mass_kg=10 * 0.45359237)
    today = day(*(wants if first == "by the piece" else reversed(wants)))
    today = replace(today, shelf=(cucumbers, *stores()))
    place = Place(
        kitchen=kitchen(pots=(Pot(name="pot", volume_m3=0.03),)),
        air=granted(air_in(today.kitchen)),
    )
    bought = make_batches(today, place, Shelf(today.shelf)).shopping
    onions = [(p.need, p.buy) for p in bought if p.name == "onions"]
    assert sorted(onions) == [("2", "2"), ("8 cups", "8 cups")]
