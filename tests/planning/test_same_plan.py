"""Same input, same plan: whatever else the machine does meanwhile."""

from __future__ import annotations

import contextlib
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace

import pytest
from kitchens import day, juice, stores
from planning.cpsat.test_improve import large_day
from planning.small_days import butter, jelly
from planning.small_days import day as small_day
from planning.small_days import person as small_person
from planning.told_why import planned_or_told_why

from stillroom.planning.bounding.beside import BoundBeside, counted_rounds, rounds_in
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.cpsat import search as counted
from stillroom.planning.cpsat.search import Search
from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.hand import free_time
from stillroom.planning.hand.by_hand import better_start, by_hand
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day

BUSY = "while True: pass"


@contextlib.contextmanager
def busy(processes: int = 3) -> Iterator[None]:
    """Other work on every core meanwhile."""
    others = [subprocess.Popen([sys.executable, "-c", BUSY]) for _ in range(processes)]
    try:
        yield
    finally:
        for other in others:
            other.kill()
            other.wait()


@pytest.fixture(autouse=True)
def in_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock's last resort is far off: a busy machine may be as slow as it likes."""
    monkeypatch.setattr(counted, "LEAST_AT_LAST_S", 600.0)


def alike(one: Answer | NoPlan, other: Answer | NoPlan) -> None:
    """The same in everything but how long it took."""
    if isinstance(one, NoPlan):
        assert one == other
        return
    assert isinstance(other, Answer)
    timed = {"solve_s": 0.0, "first_plan_s": 0.0, "trace": ()}
    assert replace(one, **timed) == replace(other, **timed)


DAYS = {
    "large": large_day(),
    "small": small_day(jelly("a"), jelly("b"), butter("c")),
    "two goals": small_day(
        *(jelly(f"j{n}", product=f"red {n}") for n in range(3)),
        people=(small_person("keeper"), small_person("helper", leaves_min=120)),
        done_by_min=400,
    ),
    "does not fit": replace(small_day(jelly("a"), jelly("b")), horizon_min=100),
}


@pytest.mark.parametrize("problem", DAYS.values(), ids=list(DAYS))
def test_a_busy_machine_finds_the_same_plan(problem: Problem) -> None:
    with busy():
        first = planned_or_told_why(problem, seconds=1.0)
    alike(first, planned_or_told_why(problem, seconds=1.0))


def test_the_whole_of_a_day_that_is_too_small_is_the_same_again() -> None:
    shelf = (juice(bags=30), *stores())
    many = Want(product="plum jelly", jars=60, jar="half-pint")
    today = day(many, shelf=shelf, ends=day().starts.replace(hour=11))
    with busy():
        first = plan_the_day(today, seconds=1.0)
    again = plan_the_day(today, seconds=1.0)
    assert isinstance(first, DayPlan)
    assert isinstance(again, DayPlan)
    assert first.left_out == again.left_out != ()
    assert isinstance(first.answer, Answer)
    assert again.answer is not None
    alike(first.answer, again.answer)
    assert first.too_much is not None
    assert again.too_much is not None
    alike(first.too_much, again.too_much)


def test_where_the_clock_had_to_end_it_the_answer_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(counted, "AT_LAST", 0.0)
    monkeypatch.setattr(counted, "LEAST_AT_LAST_S", 0.0)
    answer = plan_day(large_day(), seconds=1.0)
    assert isinstance(answer, Answer)
    assert any("another run may come to another plan" in r for r in answer.remarks)


def test_work_that_came_to_its_end_is_not_called_too_slow() -> None:
    answer = plan_day(large_day(), seconds=0.5)
    assert isinstance(answer, Answer)
    assert not any("too slow" in remark for remark in answer.remarks)


def test_planning_by_hand_counts_what_it_tries() -> None:
    problem = large_day()
    first = by_hand(problem, work_s=0.1)
    assert first is not None
    little = better_start(problem, first, seconds=0.0, work_s=0.05, seed=3)
    again = better_start(problem, first, seconds=0.0, work_s=0.05, seed=3)
    assert little == again
    tally = free_time.Tally(copies=1000)
    assert tally.work_s == pytest.approx(0.025)


def test_a_bound_counts_its_rounds() -> None:
    problem = large_day()
    asked = counted_rounds(problem, 1.0)
    rounds = rounds_in(problem, 1.0)
    assert [asked() for _ in range(rounds + 1)] == [False] * rounds + [True]
    assert rounds_in(problem, 2.0) >= 2 * rounds - 1
    found = []
    for _ in range(2):
        beside = BoundBeside(problem, Bound(0, "nothing is known"), None, 0.0)
        beside.start_counted(0.2, latest=float("inf"))
        found.append(beside.stop(now=False))
        assert not beside.cut
    assert found[0] == found[1]


def test_the_last_resort_of_the_clock_is_noted_for_all_that_share_it() -> None:
    whole = Search(until=0.0, workers=2, seed=1, deterministic=True)
    part = replace(whole.at_last(1.0), latest=0.0)
    assert part.wall_s() == counted.LEAST_WALL_S
    assert whole.cut.happened
