"""Jars of what is not acid, put up for a refrigerator: days, and no shelf goods."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.cold_days import cold_days
from stillroom.stock.commands import Label
from stillroom.stock.cover import pantry_count
from stillroom.stock.events import Hand, Way
from stillroom.stock.first import use_first
from stillroom.stock.making import holds
from stillroom.stock.on_hand import on_hand
from tests.stock.kitchen import Farm

COLD = {"canned": False, "process_min": None, "due_min": None, "due_source": ""}


def cold(what: str, place: str = "refrigerator") -> Farm:
    farm = Farm()
    assert farm.made(f"7 pints {what}, {place}", food="", **COLD) is None
    return farm


@pytest.mark.parametrize(
    "what", ["green beans", "beans", "beef", "chicken soup", "bean stew"]
)
def test_they_are_held_go_by_days_and_are_no_stock_of_the_pantry(what):
    """They had no hold and no date, and were counted in the weeks of cover."""
    farm = cold(what)
    (why,) = holds(farm.stock, farm.last)
    assert "it is not acid and had no process: 3 to 4 days in a refrigerator" in why
    assert "no goods of a shelf" in why
    (row,) = on_hand(farm.stock)
    assert row.keeps.until == farm.at.date() + dt.timedelta(days=3)
    assert "from memory" in row.keeps.mark
    (first,) = use_first(farm.stock, farm.at)
    assert "best until 28 November 2026" in first.best
    assert pantry_count(farm.stock, farm.last, farm.at) == (0, 0)
    for way in (Way.SOLD, Way.GIVEN):
        no = farm.take(farm.last, "1", way)
        assert no.instead.startswith("eat it within its days, or freeze it")
        assert no.source.startswith("USDA")
    no = farm.do(Label(lot=farm.last, hand=Hand.WRITTEN, at=farm.at))
    assert "it is eaten within its days, and gets no label" in no.instead
    assert farm.take(farm.last, "1", Way.EATEN) is None


@pytest.mark.parametrize(
    "what",
    [
        *("plum jam", "pickled beets", "lard", "dried beef", "rice", "butter"),
        *("eggs", "garlic", "milk", "cheese", "tomato sauce", "salsa", "kimchi"),
    ],
)
def test_what_is_acid_dry_or_fat_has_no_such_days(what):
    farm = cold(what)
    assert not any("3 to 4 days" in why for why in holds(farm.stock, farm.last))
    farm.later(24 * 10)
    assert not isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)


def test_in_a_freezer_they_are_not_held_and_what_came_too_late_is_eaten_no_more():
    farm = cold("green beans", "freezer")
    assert holds(farm.stock, farm.last) == ()
    assert pantry_count(farm.stock, farm.last, farm.at) == (7, 0)
    farm.move(farm.last, "refrigerator")
    farm.later(24 * 4 + 1)
    assert use_first(farm.stock, farm.at) == ()
    farm.move(farm.last, "freezer")
    for way in (Way.EATEN, Way.DRAWN):
        no = farm.take(farm.last, "1", way)
        assert "was 4 days out of a freezer: 3 to 4 days" in no.reason
        assert "discard it untasted" in no.instead
    assert farm.take(farm.last, "7", Way.SPOILED, why="too old") is None


def test_the_days_are_those_of_the_book():
    days = cold_days()
    assert (days.low, days.high, days.source.how_known) == (3, 4, "memory")
