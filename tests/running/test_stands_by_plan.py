"""Jars that a plan lets stand too long: their load says so at the stove."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.batches import batches_of
from stillroom.running.board import board
from stillroom.running.events import DayBegun, FullBoilReached, KeptPlan
from stillroom.running.fold import RunState, after, fold
from stillroom.running.hands import _todos
from stillroom.running.loads import loads_of

START = dt.datetime(2026, 8, 22, 7, 30, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    """The demo day, which is invented."""
    planned = plan_the_day(read_day(demo_day_text()), seconds=0.5)
    assert isinstance(planned, DayPlan)
    assert isinstance(planned.answer, Answer)
    return planned


def standing(plan: DayPlan, minutes: int) -> tuple[RunState, str, int]:
    """
    A run whose plan lets the jars of its first load stand for so long before it.

    Beside it the load, and when the first of its jars are closed. [min]
    """
    timetable = plan.answer.timetable
    first = min(timetable.loads, key=lambda load: load.lower_min)
    aboard = {name for name, _ in first.jars}
    closed = min(
        max(
            s.end_min
            for s in timetable.steps
            if s.batch == made.id and made.ready_after in ("", s.step)
        )
        for made in plan.problem.batches
        if made.id in aboard
    )
    moved = replace(first, lower_min=closed + minutes)
    late = replace(
        timetable,
        loads=tuple(moved if x.id == first.id else x for x in timetable.loads),
    )
    kept = KeptPlan(of="x", problem=plan.problem, timetable=late)
    begun = DayBegun(
        loads=loads_of(plan), batches=batches_of(plan), occurred_at=START, plan=kept
    )
    return fold([begun]), first.id, closed


@pytest.mark.parametrize(("minutes", "is_said"), [(120, False), (121, True)])
def test_they_are_told_not_to_be_canned_so_where_the_hand_is(plan, minutes, is_said):
    """They were told so once, when the rest was planned; their load stood as any."""
    state, load, closed = standing(plan, minutes)
    shown = board(state, START)
    (card,) = (c for c in (*shown.cards, *shown.later) if c.run.load.id == load)
    assert ("do not can the jars of" in card.says.casefold()) is is_said
    (lower,) = (
        todo
        for _, todo in _todos(plan.problem, state.plan.timetable, state, dt.UTC)
        if todo.load == card.run.load.name and todo.verb.startswith("Lower")
    )
    assert lower.caution.startswith("Do not can the jars of") is is_said
    assert "cold" in lower.caution.casefold()  # no cold glass, as of any load
    if is_said:
        starts = plan.problem.starts_at
        assert f"closed at {clock_time(starts, closed)}" in card.says
        by = clock_time(starts, closed + 120)
        assert f"By {by}, within 2 h, they go into the refrigerator" in card.says
        assert f"Later than {by} discard low-acid" in card.says


def test_what_is_in_its_canner_is_told_nothing_of_it(plan):
    state, load, closed = standing(plan, 200)
    at = START + dt.timedelta(minutes=closed + 10)
    state = after(state, FullBoilReached(load=load, occurred_at=at))
    shown = board(state, at)
    (card,) = (c for c in (*shown.cards, *shown.later) if c.run.load.id == load)
    assert "do not can" not in card.says.casefold()
