"""What was made out of jars that were put on hold since is on hold with them."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.commands import Hold
from stillroom.stock.cover import pantry_count
from stillroom.stock.discarding import REDO_WITHIN_H
from stillroom.stock.events import Doubt, Way
from stillroom.stock.first import use_first
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.making import holds
from stillroom.stock.of_held import DONE_AGAIN_WITHIN
from tests.stock.kitchen import Farm

COLD = {"canned": False, "process_min": None, "due_min": None, "due_source": ""}
WAYS = (Way.EATEN, Way.TASTED, Way.DRAWN, Way.GIVEN, Way.SOLD)


def put_on_hold(farm: Farm, code: str) -> int:
    farm.do(Hold(lot=code, doubt=Doubt.WRONG_TIME, at=farm.at))
    return farm.stock.sequence


@pytest.fixture
def soup() -> Farm:
    """Soup out of two pints of beans, and stew out of the soup; beans, soup, stew."""
    farm = Farm()
    farm.made("8 pints green beans, pantry", food="vegetable", load=1)
    beans = farm.last
    farm.made("4 quarts bean soup, freezer", (beans, "2 pints"), food="", **COLD)
    farm.made("2 quarts stew, freezer", (farm.last, "1 quart"), food="", **COLD)
    return farm


def test_soup_out_of_beans_is_no_better_than_the_beans(soup: Farm):
    beans, broth, stew = soup.stock.lots
    soup.later(30)
    entry = put_on_hold(soup, beans)
    for code in (broth, stew):
        assert is_in_doubt(soup.stock, code)
        (why,) = holds(soup.stock, code)
        assert "made out of green beans" in why
        assert "put on hold since: its canner load had a wrong time" in why
        for way in WAYS:
            assert isinstance(soup.take(code, "1", way), Refusal), way
        assert pantry_count(soup.stock, code, soup.at) == (0, 0)
    assert use_first(soup.stock, soup.at) == ()
    assert "discard it untasted too" in soup.take(stew, "1", Way.EATEN).instead
    assert soup.take(stew, "1", Way.SPOILED, why="the beans") is None
    soup.mend(entry, "it was another load")
    assert holds(soup.stock, stew) == ()
    assert soup.take(stew, "1", Way.EATEN) is None


def test_what_was_made_of_others_is_not_held(soup: Farm):
    soup.made("8 pints green beans, pantry", food="vegetable", load=2)
    put_on_hold(soup, soup.last)
    assert not any(is_in_doubt(soup.stock, code) for code in list(soup.stock.lots)[:3])


def test_what_is_done_again_within_its_hours_is_a_lot_of_its_own():
    farm = Farm()
    farm.made("8 pints green beans, pantry", food="vegetable", load=1)
    put_on_hold(farm, farm.last)
    farm.later(1)
    farm.made("7 pints green beans, pantry", (farm.last, "7 pints"), load=2)
    assert not is_in_doubt(farm.stock, farm.last)


@pytest.mark.parametrize(("hours", "is_held"), [(1, False), (3, True)])
def test_a_hold_that_is_booked_after_they_were_done_again_is_not_theirs(hours, is_held):
    farm = Farm()
    farm.made("8 pints green beans, pantry", food="vegetable", load=1)
    first = farm.last
    farm.later(hours)
    farm.made("7 pints green beans, pantry", (first, "7 pints"), load=2)
    put_on_hold(farm, first)
    assert is_in_doubt(farm.stock, farm.last) is is_held


def test_the_hours_are_those_of_a_wrong_process():
    assert dt.timedelta(hours=REDO_WITHIN_H) == DONE_AGAIN_WITHIN
