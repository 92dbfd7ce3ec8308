"""A jar that was booked as broken by mistake, and when it stays so."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.hand.by_hand import by_hand
from stillroom.refusal import Refusal
from stillroom.running.commands import BreakJar, TakeJarBack
from stillroom.running.decide import decide
from stillroom.running.events import (
    AnyEvent,
    DayBegun,
    FullBoilReached,
    JarBroke,
    JarIsWhole,
    KeptPlan,
    LoadLifted,
    PlanTaken,
    RunBatch,
    RunLoad,
)
from stillroom.running.fold import fold
from tests.planning.small_days import day, jelly
from tests.running.a_run import LOADS, START, batch

PROBLEM = day(jelly(), people=1)
TIMETABLE = by_hand(PROBLEM)
assert TIMETABLE is not None

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


def breaks(*events: AnyEvent, batch: str) -> tuple[AnyEvent, ...] | Refusal:
    at = START + dt.timedelta(minutes=1)
    asked = BreakJar(load=LOAD, batch=batch, crack="ring", at=at)
    return decide(fold([BEGUN, *events]), asked)


def test_of_each_batch_as_many_jars_break_as_the_load_has_of_it():
    """Eight of the one and one of the other, each counted for itself."""
    no = breaks(broke(OTHER), batch=OTHER)
    assert isinstance(no, Refusal)
    assert "had 1 jar of plum jelly 2, booked as broken" in no.reason
    assert not isinstance(breaks(broke(OTHER), *[broke()] * 7, batch=ONE), Refusal)
    assert not isinstance(breaks(*[broke()] * 8, batch=OTHER), Refusal)
    no = breaks(*[broke()] * 8, batch=ONE)
    assert isinstance(no, Refusal)
    assert "had 8 jars of plum jelly 1, all booked as broken" in no.reason


def test_in_a_load_of_two_batches_it_is_asked_whose_jar_broke():
    no = breaks(batch="")
    assert isinstance(no, Refusal)
    assert "it is not known which jar of load 1 broke" in no.reason
    assert "plum jelly 1, plum jelly 2" in no.instead


def taken(*loads: RunLoad, taken_in: tuple[RunBatch, ...] = ()) -> PlanTaken:
    plan = KeptPlan(of="x", problem=PROBLEM, timetable=TIMETABLE)
    return PlanTaken(
        plan=plan, loads=loads, sentence="", taken_in=taken_in, occurred_at=START
    )


def test_a_new_plan_that_has_the_broken_jar_out_already_counts_it_once():
    """Seven of the eight are in its load: none of the seven broke."""
    first, second = LOADS
    seven = replace(first, jars=((ONE, 7), (OTHER, 1)))
    for load, broken in ((first, ((ONE, "ring"),)), (seven, ())):
        run = fold([BEGUN, broke(), taken(load, second)]).load(LOAD)
        assert run is not None
        assert run.broken == broken


def test_a_batch_that_is_taken_in_twice_is_one_batch():
    begun = replace(BEGUN, batches=(batch(1, 8),))
    again = taken(*LOADS, taken_in=(batch(1, 8), batch(2, 7)))
    state = fold([begun, again, again])
    assert [each.id for each in state.batches] == [ONE, OTHER]


def test_a_plan_taken_over_leaves_a_load_cleared_out_as_glass_out():
    glass = [*[broke()] * 8, broke(OTHER), OUT]
    state = fold([BEGUN, *glass])
    again = taken(*LOADS)
    assert fold([again], state).load(LOAD) == state.load(LOAD)
