"""Which fruit of the shelf is pressed for a jelly, and for which recipe it does."""

from __future__ import annotations

import pytest

from stillroom.book.procedures import Procedure, procedure_for
from stillroom.planning.day import Lot
from stillroom.planning.which_batches.pressed import (
    another_to_press,
    base_of,
    press_it_first,
)
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted

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
