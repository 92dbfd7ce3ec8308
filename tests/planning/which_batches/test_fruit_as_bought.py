"""Fruit on the shelf has its stones and its peel; a recipe's cups have not."""

import datetime as dt

import pytest
from kitchens import CUP, day, juice, kitchen, stores

from stillroom.methods.kitchen import Burner, Heat, Pot
from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.leftovers import leftovers
from stillroom.planning.which_batches.one_batch import (
    OneBatch,
    one_batch,
    small_kitchen,
)
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Refusal, granted

LB = 0.45359237
"""A pound. [kg]"""
AIR = granted(air_in(kitchen()))


def apricot_day(pounds: float, jars: int = 16) -> tuple[Day, Batched, Shelf]:
    fruit = Lot(name="apricots", what="apricots", mass_kg=pounds * LB)
    lemon = Lot(name="lemon", what="bottled lemon juice", volume_m3=2 * CUP)
    want = Want(product="apricot jam", jars=jars, jar="half-pint")
    today = day(want, shelf=(fruit, lemon, *stores()), date=dt.date(2026, 8, 22))
    shelf = Shelf(today.shelf)
    place = Place(kitchen=today.kitchen, air=AIR)
    return today, make_batches(today, place, shelf), shelf


@pytest.mark.parametrize(
    ("pounds", "batches"),
    # "Stone 3 1/2 lb of apricots, skins on, and chop them fine. 5 cups."
    [(3.4, 0), (3.5, 1), (6.9, 1), (7.0, 2)],
)
def test_a_batch_takes_the_pounds_that_its_recipe_prints(
    pounds: float, batches: int
) -> None:
    _, made, _ = apricot_day(pounds)
    assert len(made.batches) == batches
    drawn = [d.mass_kg for b in made.batches for d in b.draws if d.lot == "apricots"]
    assert drawn == [pytest.approx(3.5 * LB)] * batches


def test_what_is_left_is_not_called_enough_where_it_is_too_little() -> None:
    # 6 lb less 3 1/2 lb: 2 1/2 lb with their stones give no 5 cups
    today, made, shelf = apricot_day(6.0)
    place = Place(kitchen=today.kitchen, air=AIR)
    (left,) = [one for one in leftovers(made, shelf, place) if one.lot == "apricots"]
    assert left.text.startswith("2 lb 8 oz")
    assert not any("apricot jam, powdered" in c.casefold() for c in left.choices)


def asked(have: Lot) -> OneBatch | Refusal:
    pot, fire = Pot(name="pot", volume_m3=0.012), Burner(name="fire", power_w=3000.0)
    place = small_kitchen(pot, fire, Heat.GAS, AIR, metric=False)
    return one_batch("apricot jam", have, place, AIR)


def test_cups_that_are_chopped_already_are_cups() -> None:
    chopped = Lot(name="cups", what="apricots", volume_m3=10 * CUP, typed="10 cups")
    two = granted(asked(chopped))
    assert (two.batches, two.left) == (2, None)
    few = asked(Lot(name="lb", what="apricots", mass_kg=3 * LB, typed="3 lb"))
    assert isinstance(few, Refusal)
    assert "3 lb 8 oz (1.59 kg) make one, 8 oz (227 g) more" in few.reason


@pytest.mark.parametrize(
    ("recipe", "fruit", "pounds"),
    # 5 3/4 cups where 3 lb give 3 3/4; 8 where 3 1/2 lb give 5; three boxes of 1 3/8 lb
    [
        ("jam-peach-none-usda", "peaches", 4.6),
        ("jam-apricot-none", "apricots", 5.6),
        ("jam-strawberry-powdered", "strawberries", 4.125),
        ("preserves-apple-powdered", "apples", 1.94),  # 6 cups, a quarter pared off
        ("jam-grape-powdered", "grapes", 4.0),  # and not so much pulp and skins
    ],
)
def test_where_no_pounds_are_printed_a_batch_takes_what_gives_its_cups(
    recipe: str, fruit: str, pounds: float
) -> None:
    for there, batches in ((0.99 * pounds, 0), (1.01 * pounds, 1)):
        lot = Lot(name=fruit, what=fruit, mass_kg=there * LB)
        want = Want(product=recipe, jars=4, jar="half-pint")
        today = day(want, shelf=(lot, *stores()), date=dt.date(2026, 8, 22))
        roomy = kitchen(pots=(Pot(name="pot", volume_m3=0.03),))
        shelf = Shelf(today.shelf)
        made = make_batches(today, Place(kitchen=roomy, air=AIR), shelf).batches
        assert len(made) == batches
        drawn = [d.mass_kg for b in made for d in b.draws if d.lot == fruit]
        assert drawn == [pytest.approx(pounds * LB, rel=1e-3)] * batches


def test_fresh_apricots_are_not_the_canned_ones_of_a_conserve() -> None:
    fresh = Lot(name="fresh", what="apricots", mass_kg=10 * LB)
    cans = Lot(name="cans", what="canned apricots", mass_kg=10 * LB)
    want = Want(product="apricot-orange conserve", jars=4, jar="half-pint")
    for lot, batches in ((fresh, 0), (cans, 1)):
        today = day(want, shelf=(lot, *stores()), date=dt.date(2026, 8, 22))
        place = Place(kitchen=today.kitchen, air=AIR)
        made = make_batches(today, place, Shelf(today.shelf))
        assert len(made.batches) == batches


@pytest.mark.parametrize(
    ("what", "of_it", "recipe"),
    [
        ("cranberries", True, "cranberry marmalade"),
        ("oranges", False, "cranberry marmalade"),  # it takes two beside them
        ("peaches", True, "peach jam"),
        ("yellow peaches", True, "peach jam"),
        ("pears", True, "pear jam"),
        ("pear pulp", False, "pear jam"),  # it takes them chopped fine
    ],
)
def test_what_is_left_is_called_enough_for_what_is_weighed_by_it(
    what: str, of_it: bool, recipe: str
) -> None:
    lot = Lot(name="a", what=what, mass_kg=5 * LB)
    today = day(shelf=(lot, juice(), *stores()), date=dt.date(2026, 8, 22))
    roomy = kitchen(pots=(Pot(name="pot", volume_m3=0.03),))
    place, shelf = Place(kitchen=roomy, air=AIR), Shelf(today.shelf)
    made = make_batches(today, place, shelf)
    said = [c for one in leftovers(made, shelf, place) for c in one.choices]
    assert any(c.startswith(f"{recipe} (") for c in said) is of_it
