"""Plans at hand of a day like another: by which clock, and of which jars."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest
from planning.small_days import day, jelly

from stillroom.planning.other_days.what_if import (
    AS_IT_IS,
    Outcome,
    _holds,
    plans_at_hand,
)
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, NoPlan, Timetable, WayOut
from stillroom.planning.way_changes import Change, Kind
from stillroom.planning.ways.held_plan import only

EMPTY = Timetable(steps=(), loads=(), breaks=())


def test_a_way_that_starts_sooner_is_at_hand_by_its_own_clock() -> None:
    """Its first minute is 7:30 where the day's is 8:00."""

    def way(kind: Kind) -> WayOut:
        return WayOut(
            says="", cost_min=30, finish_min=0, done_by="", timetable=EMPTY,
            changes=(Change(kind=kind, amount=30),),
        )  # fmt: skip

    none = NoPlan(
        clashes=(), minimal=False, would_help=(),
        ways_out=(way(Kind.STARTS), way(Kind.ENDS)),
    )  # fmt: skip
    today = SimpleNamespace(starts=dt.time(8, 0))
    plan = SimpleNamespace(day=today, divided=(), answer=none, too_much=None)
    hours = [known.starts_at for known in plans_at_hand(plan)]
    assert [hour.removeprefix("0") for hour in hours] == ["7:30", "8:00"]


@pytest.fixture(scope="module")
def two() -> tuple[Problem, Answer]:
    problem = day(jelly("jelly-1"), jelly("jelly-2"))
    answer = plan_day(problem, seconds=1.0)
    assert isinstance(answer, Answer)
    return problem, answer


def test_only_a_plan_of_the_same_jars_is_one_of_the_day_as_it_is(
    two: tuple[Problem, Answer],
) -> None:
    """A day that makes one batch more has another plan, though it breaks no rule."""
    problem, answer = two

    def outcome(of: Problem) -> Outcome:
        plan = SimpleNamespace(batches=of.batches, answer=answer, problem=of)
        return Outcome(
            change=AS_IT_IS, starts_at="08:00", jars=8, batches=1, finish_min=100,
            lower_bound_min=None, loads=1, lateness=0, unmet=0, why_not="", plan=plan,
        )  # fmt: skip

    one = only(problem, ["jelly-1"])
    assert _holds(outcome(problem), outcome(problem))
    assert not _holds(outcome(problem), outcome(one))
    fewer = replace(problem, batches=(problem.batches[0], jelly("jelly-2", jars=7)))
    assert not _holds(outcome(fewer), outcome(problem))
