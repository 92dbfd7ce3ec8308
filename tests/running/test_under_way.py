"""When a day at the stove is over, and what is said to be still to come of it."""

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from stillroom.planning.hand.by_hand import by_hand
from stillroom.refusal import Refusal
from stillroom.running.again import Told, nothing_left, plan_again
from stillroom.running.behind_us import behind_us
from stillroom.running.events import (
    AnyEvent,
    BoilLost,
    DayBegun,
    FullBoilReached,
    JarBroke,
    KeptPlan,
    LoadLifted,
    StepDone,
)
from stillroom.running.fold import NOT_BEGUN, RunState, fold
from stillroom.running.kept_plan import OwnFile
from stillroom.running.under_way import is_under_way, left_of, was_left
from tests.planning.small_days import day, jelly
from tests.running.a_run import load

START = dt.datetime(2026, 9, 12, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=-7)))
PROBLEM = day(jelly(), people=1)
TIMETABLE = by_hand(PROBLEM)
assert TIMETABLE is not None
(BATCH,) = PROBLEM.batches
LOADS = (load(1, (BATCH.id, 4)), load(2, (BATCH.id, 4)))
PLAN = KeptPlan(of="x", problem=PROBLEM, timetable=TIMETABLE)
KEYS = [(s.batch, s.step) for s in TIMETABLE.steps if s.person]


def run(*events: AnyEvent, plan: KeptPlan | None = PLAN) -> RunState:
    begun = DayBegun(loads=LOADS, plan=plan, occurred_at=START)
    return fold([begun, *events])


def boiled(number: int) -> FullBoilReached:
    return FullBoilReached(load=f"canner/{number}", occurred_at=START)


def lifted(number: int) -> LoadLifted:
    return LoadLifted(load=f"canner/{number}", occurred_at=START)


def all_out() -> list[AnyEvent]:
    return [boiled(1), lifted(1), boiled(2), lifted(2)]


def done(keys: list[tuple[str, str]]) -> list[AnyEvent]:
    return [StepDone(batch=b, step=s, occurred_at=START) for b, s in keys]


@pytest.mark.parametrize(
    ("events", "said"),
    [
        ([], "load 1 and load 2 are still to come"),
        ([boiled(1)], "load 1 is in the canner; load 2 is still to come"),
        ([boiled(1), lifted(1)], "load 2 is still to come"),
        (
            [boiled(1), BoilLost(load="canner/1", occurred_at=START)],
            "load 1 is in the canner; load 2 is still to come",
        ),
        ([*all_out(), *done(KEYS)], ""),
    ],
)
def test_what_is_still_to_come_is_said(events: list[AnyEvent], said: str):
    assert left_of(run(*events)).words == said


def test_of_a_day_that_was_not_begun_nothing_is_to_come():
    assert left_of(NOT_BEGUN).words == ""
    assert not is_under_way(NOT_BEGUN, START)
    assert not was_left(NOT_BEGUN, START)


def test_a_load_of_which_no_jar_is_left_holds_nobody():
    broke = JarBroke(load="canner/2", batch=BATCH.id, crack="ring", occurred_at=START)
    state = run(boiled(1), lifted(1), *[broke] * 4, plan=None)
    assert left_of(state).words == ""
    assert not is_under_way(state, START)


def test_a_load_whose_jars_all_broke_on_the_fire_is_still_in_the_canner():
    broke = JarBroke(load="canner/2", batch=BATCH.id, crack="ring", occurred_at=START)
    state = run(boiled(1), lifted(1), boiled(2), *[broke] * 4, plan=None)
    assert left_of(state).words == "load 2 is in the canner"
    assert is_under_way(state, START)


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (3, "load 1, load 2 and load 3 are still to come"),
        (4, "4 loads are still to come"),
    ],
)
def test_three_loads_are_named_and_more_are_counted(count: int, said: str):
    loads = tuple(load(n, (BATCH.id, 4)) for n in range(1, count + 1))
    state = fold([DayBegun(loads=loads, plan=None, occurred_at=START)])
    assert left_of(state).words == said


def test_one_step_is_still_to_be_done():
    state = run(*all_out())
    *_, last = [key for key in KEYS if key not in behind_us(PROBLEM, state)]
    rest = [key for key in KEYS if key != last]
    one = run(*all_out(), *done(rest))
    assert left_of(one).words == "1 step is still to be done"


def test_work_is_behind_us_once_every_load_with_jars_of_it_was_on_its_clock():
    """Half of its jars still wait; then all that leads to closed jars is over."""
    assert behind_us(PROBLEM, run(boiled(1))) == frozenset()
    over = behind_us(PROBLEM, run(boiled(1), boiled(2)))
    assert {step for _, step in over} == {s.id for s in BATCH.steps} - {"wash_pot"}


def test_jars_out_a_pot_to_wash_keeps_the_day_until_the_night_has_passed():
    state = run(*all_out())
    last = [key for key in KEYS if key not in behind_us(PROBLEM, state)]
    assert last, "a pot is still to be washed"
    assert "still to be done" in left_of(state).words
    evening = START.replace(hour=23, minute=50)
    assert is_under_way(state, evening)
    assert not is_under_way(state, evening + dt.timedelta(minutes=20))
    assert not is_under_way(run(*all_out(), *done(last)), START)
    late = replace(state, last_at=evening)  # who works past midnight has her board
    assert is_under_way(late, evening + dt.timedelta(hours=7))
    assert not is_under_way(late, evening + dt.timedelta(hours=9))


def test_a_load_to_come_keeps_it_over_the_night_and_is_named_for_some_days():
    state = run(boiled(1), lifted(1))
    for hours, goes_on, named in (
        (23, True, True),
        (25, False, True),
        (73, False, False),
    ):
        at = START + dt.timedelta(hours=hours)
        assert (is_under_way(state, at), was_left(state, at)) == (goes_on, named)
    over = run(*all_out(), *done(KEYS))
    assert not was_left(over, START)


def test_the_day_of_the_last_tap_is_that_of_the_kitchen():
    """Half past five in the evening is tomorrow in UTC, as the ledger has it."""
    evening = START.replace(hour=17, minute=30)
    assert evening.astimezone(dt.UTC).date() > evening.date()
    state = replace(run(*all_out()), last_at=evening.astimezone(dt.UTC))
    assert "still to be done" in left_of(state).words
    assert is_under_way(state, evening.replace(hour=23, minute=59))
    assert not is_under_way(state, evening + dt.timedelta(hours=8, minutes=30))


def test_nothing_is_left_to_plan_when_jars_are_out_and_steps_are_done() -> None:
    assert nothing_left(NOT_BEGUN) is None
    assert nothing_left(run(*done(KEYS), boiled(1), lifted(1))) is None
    behind = [key for key in KEYS if key not in behind_us(PROBLEM, run(*all_out()))]
    assert behind  # a pot to wash is work to be planned
    assert nothing_left(run(*all_out())) is None
    over = run(*all_out(), *done(behind))
    no = nothing_left(over)
    assert no is not None
    assert "every jar of it is out and every step of it is done" in no.reason
    assert plan_again(over, START, Told()) == no


def test_a_batch_that_was_left_out_may_still_be_taken_into_a_day_that_is_done() -> None:
    over = run(*all_out(), *done(KEYS))
    spare: Any = SimpleNamespace(batch=jelly("jelly-9"))
    no = plan_again(over, START, Told(taken=("moon",)), own=OwnFile(spares=(spare,)))
    assert isinstance(no, Refusal)
    assert "choose one of these: jelly-9" in no.instead
