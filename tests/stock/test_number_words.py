"""Quantities said aloud: taken, counted, and what is no quantity at all."""

import pytest

from stillroom.measures.number_words import is_nothing
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import Absurd
from tests.stock.kitchen import Farm


@pytest.fixture
def farm() -> Farm:
    farm = Farm()
    farm.made("14 half-pints plum jelly, pantry")
    return farm


@pytest.mark.parametrize(
    ("said", "number"),
    [
        *(("two", 2), ("one", 1), ("a jar", 1), ("Two half pints", 2)),
        *(("half a dozen", 6), ("a dozen jars", 12), ("three jars", 3)),
    ],
)
def test_what_is_counted_or_used_may_be_said_in_words(farm, said, number):
    assert farm.count(farm.last, said) is None
    assert farm.stock.balance(farm.last) == number
    farm.count(farm.last, "14")
    farm.check(farm.last, 14)
    assert farm.take(farm.last, said) is None
    assert farm.stock.balance(farm.last) == 14 - number


@pytest.mark.parametrize(
    "said", ["0", "none", "None left", "nothing", "nil", "zero", "0 jars", "all gone"]
)
def test_nothing_is_counted_as_none_and_never_taken(farm, said):
    assert is_nothing(said)
    before = farm.stock.sequence
    with pytest.raises(Absurd, match="nothing at all, and nothing is booked of it"):
        farm.take(farm.last, said)
    assert farm.stock.sequence == before
    assert farm.count(farm.last, said) is None
    assert farm.stock.balance(farm.last) == 0


def test_something_and_a_half_is_not_nothing():
    assert not is_nothing("0 and half")


def test_a_bare_no_takes_no_lot_off_the_book(farm):
    # It may answer a question of whoever counts as well as say that none is left.
    for do in (farm.count, farm.take):
        with pytest.raises(Unreadable, match="write 0 where you counted none"):
            do(farm.last, "no")
    assert farm.stock.balance(farm.last) == 14


@pytest.mark.parametrize("said", ["3 boxes", "a bag", "2 packages"])
def test_a_box_of_jars_or_of_lids_is_no_single_one(farm, said):
    lids = farm.add("60 lids, drawer")
    for lot, before in ((lids, 60), (next(iter(farm.stock.lots)), 14)):
        for do in (farm.count, farm.take):
            with pytest.raises(Unreadable, match="one of those may hold several"):
                do(lot, said)
        assert farm.stock.balance(lot) == before


@pytest.mark.parametrize("said", ["3 qt", "3 qts", "three qt jars", "3 quart jars"])
def test_quart_jars_may_be_said_in_short_and_pints_are_none(farm, said):
    farm.made("9 quarts pears, pantry", food="fruit")
    assert farm.take(farm.last, said) is None
    assert farm.stock.balance(farm.last) == 6
    with pytest.raises(Unreadable, match="does not fit"):
        farm.take(farm.last, "3 pt")
