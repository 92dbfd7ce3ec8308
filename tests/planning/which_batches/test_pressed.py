"""Which fruit of the shelf is pressed for a jelly, and for which recipe it does."""

from __future__ import annotations

import pytest

from stillroom.book.procedures import Procedure, procedure_for
from stillroom.methods.today import air_in
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import Unmet
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.pressed import (
    another_to_press,
    base_of,
    press_it_first,
)
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted
from tests.kitchens import CUP, day, stores

POUND_KG = 0.45359237


def named(product: str) -> Procedure:
    return granted(procedure_for(product))


def weighed(name: str, pounds: float) -> Lot:
    return Lot(name=name, what=name, mass_kg=pounds * POUND_KG)


@pytest.mark.parametrize(
    ("lots", "enough"),
    [
        # Guide 7 prints a cup of juice a pound, and the recipe takes four cups
        ((weighed("apples", 4.0),), True),
        ((weighed("apples", 3.9),), False),
        # two lots of it count together, and other fruit does not
        ((weighed("apples", 2.0), Lot(name="b", what="apples", mass_kg=0.91)), True),
        ((weighed("apples", 1.0), weighed("plums", 20.0)), False),
        # nobody knows what forty apples weigh
        ((Lot(name="apples", what="apples", count=40),), False),
    ],
)
def test_a_recipe_is_named_in_place_of_another_where_its_fruit_is_there(lots, enough):
    bottled = named("apple jelly, powdered pectin")
    said = another_to_press(bottled, Shelf(lots))
    assert bool(said) == enough
    if enough:
        assert said.startswith('want "jelly-apple-none" in its place')


def test_fruit_that_is_used_up_is_not_pressed():
    jelly = named("plum jelly")
    base = base_of(jelly)
    assert base is not None
    shelf = Shelf([weighed("plums", 10.0)])
    assert press_it_first(jelly, base, shelf).startswith("press plums for it")
    shelf.held[0].left = 0.0
    assert press_it_first(jelly, base, shelf) == ""


@pytest.mark.parametrize(
    ("recipe", "fruit", "pounds"),
    [
        # with a cup of water 4 1/2 lb give 5 cups, with half a cup 4
        ("jelly-plum-powdered", "plums", "4 lb 8 oz"),
        ("jelly-plum-liquid", "plums", "4 lb 8 oz"),
        ("jelly-sour-cherry-powdered", "sour cherries", "3 lb (1.37 kg)"),
        ("jelly-sour-cherry-liquid", "sour cherries", "3 lb (1.37 kg)"),
        # the leaflet alone prints a yield of peaches
        ("jelly-peach-powdered", "peaches", "6 lb"),
        # 3 lb are printed, and a cup a pound: no more is promised than either gives
        ("jelly-apple-none", "apples", "4 lb"),
    ],
)
def test_no_recipe_is_pressed_of_less_fruit_than_it_prints(recipe, fruit, pounds):
    jelly = named(recipe)
    base = base_of(jelly)
    assert base is not None
    said = press_it_first(jelly, base, Shelf([weighed(fruit, 20.0)]))
    assert f": by the printed yield {pounds}" in said


def unmet(*lots: Lot) -> Unmet:
    """What is said where two batches of jelly from bottled juice are wanted."""
    want = Want(product="apple jelly, powdered pectin", jars=14, jar="half-pint")
    today = day(want, shelf=(*lots, *stores()))
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    (found,) = make_batches(today, place, Shelf(today.shelf)).unmet
    return found


def test_another_recipe_is_advised_only_where_not_one_batch_is_made():
    """Who has juice for one batch of two is told what lacks of the second."""
    apples = weighed("apples", 20.0)
    bottle = Lot(name="bottle", what="apple juice", volume_m3=5 * CUP)
    assert unmet(apples).instead.startswith('want "jelly-apple-none" in its place')
    some = unmet(apples, bottle)
    assert 0 < some.planned < some.wanted
    assert some.instead.startswith("want fewer, or add apple")
