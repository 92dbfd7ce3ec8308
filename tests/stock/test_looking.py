"""What was seen of jars: which of them go aside, from where, and which come back."""

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.commands import Check
from stillroom.stock.events import SET_ASIDE
from tests.stock.kitchen import Farm


@pytest.fixture
def farm() -> Farm:
    """Eight jars of plums, a day after."""
    farm = Farm()
    farm.made("8 pints plums, pantry", food="fruit", out_at="08:00")
    farm.later(24)
    return farm


def test_that_all_are_sealed_says_nothing_of_those_that_were_set_aside(farm):
    """Who looks along the shelf does not see the doubtful one on the counter."""
    farm.check(farm.last, 7, doubtful=1)
    assert farm.do(Check(lot=farm.last, all_good=True, at=farm.at)) is None
    assert farm.stock.places(farm.last) == {"pantry": 7, SET_ASIDE: 1}
    assert farm.stock.checks(farm.last)[-1].good == 7


def test_a_jar_that_was_doubtful_and_has_failed_since_comes_back_no_more(farm):
    farm.check(farm.last, 6, failed=1, doubtful=1)
    farm.check(farm.last, 6, failed=2)
    no = farm.check(farm.last, 7, failed=1)
    assert isinstance(no, Refusal)
    assert "a lid that failed does not seal by itself" in no.reason
    assert farm.stock.places(farm.last) == {"pantry": 6, SET_ASIDE: 2}


def test_of_jars_at_two_places_it_is_said_where_those_stood_that_failed(farm):
    """They leave that shelf: the count of the other stays right."""
    farm.move(farm.last, "cellar", "3")
    no = farm.check(farm.last, 6, failed=2)
    assert isinstance(no, Refusal)
    assert "stands at 2 places" in no.reason
    for failed, said in ((4, "3 jars are at cellar, and 4 would go aside"), (2, "")):
        seen = Check(
            lot=farm.last, good=8 - failed, failed=failed, place="cellar", at=farm.at
        )
        no = farm.do(seen)
        assert (no.reason if no else "") == said
    assert farm.stock.places(farm.last) == {"pantry": 5, "cellar": 1, SET_ASIDE: 2}
