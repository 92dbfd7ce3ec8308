"""A jar that was booked as broken by mistake, and when it stays so."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.running.commands import TakeJarBack
from stillroom.running.decide import decide
from stillroom.running.events import (
    AnyEvent,
    DayBegun,
    FullBoilReached,
    JarBroke,
    JarIsWhole,
    LoadLifted,
)
from stillroom.running.fold import fold
from tests.running.a_run import LOADS, START

LOAD = LOADS[0].id
ONE, OTHER = "plum jelly 1", "plum jelly 2"
BEGUN = DayBegun(loads=LOADS, occurred_at=START)
BOILED = FullBoilReached(load=LOAD, occurred_at=START)
OUT = LoadLifted(load=LOAD, occurred_at=START)


def broke(batch: str = ONE, crack: str = "ring") -> JarBroke:
    return JarBroke(load=LOAD, batch=batch, crack=crack, occurred_at=START)


def take_back(
    *events: AnyEvent, batch: str = ONE, seen: int | None = None
) -> tuple[AnyEvent, ...] | Refusal:
    at = START + dt.timedelta(minutes=1)
    asked = TakeJarBack(load=LOAD, batch=batch, at=at, seen=seen)
    return decide(fold([BEGUN, *events]), asked)


@pytest.mark.parametrize("events", [[], [BOILED], [BOILED, OUT]])
def test_the_jar_counts_again_and_the_others_stay_broken(events: list[AnyEvent]):
    told = [*events, broke(OTHER, "star"), broke(), broke(crack="star")]
    answer = take_back(*told)
    assert not isinstance(answer, Refusal)
    assert [type(event) for event in answer] == [JarIsWhole]
    run = fold([BEGUN, *told, *answer]).load(LOAD)
    assert run is not None
    assert run.broken == ((OTHER, "star"), (ONE, "ring"))


def test_where_no_jar_of_it_broke_nothing_follows():
    assert take_back() == ()
    assert take_back(broke(OTHER)) == ()
    assert take_back(broke(), JarIsWhole(load=LOAD, batch=ONE, occurred_at=START)) == ()


def test_a_key_of_before_takes_back_no_jar_that_broke_since():
    answer = take_back(broke(), broke(), seen=2)
    assert isinstance(answer, Refusal)
    assert "has changed since this screen was drawn" in answer.reason


def test_of_a_load_that_was_cleared_out_as_glass_no_jar_becomes_good():
    """Nobody looked at its clock: what is whole of it had no process."""
    glass = [*[broke()] * 8, broke(OTHER), OUT]
    answer = take_back(*glass)
    assert isinstance(answer, Refusal)
    assert "without its process" in answer.reason
    assert "Jars of your own" in answer.instead


def test_a_load_of_which_a_jar_is_whole_waits_for_its_clock_again():
    glass = [*[broke()] * 8, broke(OTHER)]
    answer = take_back(*glass)
    assert not isinstance(answer, Refusal)
    run = fold([BEGUN, *glass, *answer]).load(LOAD)
    assert run is not None
    assert not run.all_broke
