"""What rounding leaves over of a lot goes with the last of it."""

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.events import Part, Taken, Way
from tests.stock.kitchen import MORNING, Farm


@pytest.mark.parametrize(
    ("came", "uses"),
    [
        ("7 cups plum juice, fridge", ("2 cups", "5 cups")),
        ("3 1/2 pints plum juice, fridge", ("1 cup", "1 cup", "1 cup", "1 quart")),
        ("10 lb plums, fridge", ("3 lb 5 oz", "2 lb 5 oz", "4 lb 6 oz")),
    ],
)
def test_what_is_used_up_leaves_no_crumb_that_nobody_could_use(came, uses):
    farm = Farm()
    code = farm.add(came)
    for amount in uses:
        assert farm.take(code, amount) is None
    assert farm.stock.places(code) == {}


def test_a_crumb_of_before_goes_with_the_least_that_is_measured():
    farm = Farm()
    code = farm.add("1 cup plum juice, fridge")
    part = Part(lot=code, place="fridge", number=farm.stock.balance(code) - 1)
    farm.stock.apply(
        Taken(way=Way.DRAWN, parts=(part,), to="", why="", occurred_at=MORNING)
    )
    assert farm.take(code, "1/4 tsp") is None
    assert farm.stock.places(code) == {}


def test_what_is_small_and_no_crumb_stays_and_no_more_is_taken_than_there_is():
    farm = Farm()
    code = farm.add("5 g saffron, pantry")
    assert farm.take(code, "4.5 g") is None
    assert farm.stock.balance(code) == 500
    other = farm.add("7 cups plum juice, fridge")
    assert isinstance(farm.take(other, "7 1/4 cups"), Refusal)
    assert isinstance(farm.take(farm.add("8 lids, drawer"), "9"), Refusal)


def test_a_crumb_of_one_lot_is_not_drawn_from_another():
    farm = Farm()
    first = farm.add("7 cups plum juice, fridge, June")
    second = farm.add("7 cups plum juice, fridge, July")
    for amount in ("2 cups", "5 cups"):
        assert farm.take("plum juice", amount) is None
    assert farm.stock.places(first) == {}
    assert farm.stock.balance(second) == farm.stock.lots[second].measure.read("7 cups")
