"""What has happened by a moment, in the minutes of the plan: from events alone."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from math import ceil

from stillroom.planning.begun.as_known import Said
from stillroom.planning.begun.over import SeenLoad
from stillroom.planning.daytime import since_midnight_min
from stillroom.planning.happened import Key
from stillroom.planning.problem import Problem
from stillroom.running.card_order import card_order
from stillroom.running.events import KeptPlan
from stillroom.running.fold import RunState
from stillroom.running.load_run import LoadRun

LATELY = dt.timedelta(minutes=60)
"""Who has said a step done within this time says so of every step."""
HALF_A_DAY = dt.timedelta(hours=12)
BOTH_HANDS = 3
"""From so many quarters on nothing else is done beside it."""


def minute_of(moment: dt.datetime, begun: dt.datetime, problem: Problem) -> int:
    """
    Minute of the day's plan of a moment, rounded up: a clock is never shown early.

    Parameters
    ----------
    moment : datetime
        The moment asked for; it may lie behind midnight.
    begun : datetime
        When the run was begun, in the kitchen's own zone; or another moment of its day.
    problem : Problem
        The day; it says when its minute 0 is.
    """
    since = moment.astimezone(dt.UTC) - minute_0(begun, problem).astimezone(dt.UTC)
    return ceil(since.total_seconds() / 60)


def minute_0(begun: dt.datetime, problem: Problem) -> dt.datetime:
    """
    Moment of minute 0 of a plan on the day on which its run was begun.

    A day that was to begin in the evening may be begun behind midnight.
    """
    hours, minutes = divmod(since_midnight_min(problem.starts_at), 60)
    start = begun.replace(hour=hours, minute=minutes, second=0, microsecond=0, fold=0)
    return start - dt.timedelta(days=1) if start - begun > HALF_A_DAY else start


@dataclass(frozen=True, slots=True)
class _InOrder:
    """What follows from the order in which somebody says steps done."""

    not_begun: set[Key] = field(default_factory=set)
    not_over: set[Key] = field(default_factory=set)
    not_said: set[Key] = field(default_factory=set)
    """On a fire by the plan, and nobody has said that it is."""


def _told_in_order(
    state: RunState, plan: KeptPlan, at: dt.datetime, now: int
) -> _InOrder:
    """
    Return what has not begun and what is not over, by who says when steps are.

    The stove shows each person one step until it is said done. Who has said so lately
    has begun nothing behind it, as long as it takes both hands. What only warms on a
    fire, as a brine, has not begun either until that is said: nobody fills jars with
    what stands cold because by the plan it boils.
    """
    placed = {(s.batch, s.step): s for s in plan.timetable.steps}
    said = [((b, s), when) for b, s, when in state.done_at if when <= at]
    lately = {
        placed[key].person for key, when in said if key in placed and at - when < LATELY
    }
    done = state.steps_done
    began = {(b, s) for b, s, when in state.begun_steps if when <= at}
    found = _InOrder()
    for person in lately:
        mine = sorted(
            (s for key, s in placed.items() if s.person == person and key not in done),
            key=card_order(plan.problem),
        )
        if person is None or not mine:
            continue
        first = (mine[0].batch, mine[0].step)
        warms = mine[0].burner is not None and mine[0].quarters < BOTH_HANDS
        if warms and first not in began:
            if mine[0].start_min < now:
                found.not_said.add(first)
            continue
        found.not_over.add(first)
        if mine[0].quarters >= BOTH_HANDS:
            found.not_begun.update((s.batch, s.step) for s in mine[1:])
    return _InOrder(found.not_begun - began, found.not_over, found.not_said)


def not_said_on_the_fire(
    state: RunState, plan: KeptPlan, at: dt.datetime, now: int
) -> set[Key]:
    """Return (batch, step) that should be on a fire, and nobody has said that it is."""
    return _told_in_order(state, plan, at, now).not_said


def said_of_the_day(
    state: RunState,
    plan: KeptPlan,
    at: dt.datetime,
    *,
    more_min: dict[Key, int] | None = None,
    not_begun: frozenset[Key] = frozenset(),
    given_up: frozenset[str] = frozenset(),
) -> tuple[int, Said]:
    """
    Return now, and all that is known: the events, and what she says beside them.

    Minutes are those of the plan. What was said after now is not known yet. Loads that
    are ``given_up`` have no clock, and their jars are booked as never processed.
    """
    problem = plan.problem
    begun = at if state.begun_at is None else state.begun_at.astimezone(at.tzinfo)

    def minute(moment: dt.datetime) -> int:
        return minute_of(moment, begun, problem)

    ended = {(b, s): minute(when) for b, s, when in state.done_at if when <= at}
    began = {(b, s): minute(when) for b, s, when in state.begun_steps if when <= at}
    loads = {}
    for run in state.loads:
        is_over = run.load.id in given_up or _glass_is_out(run)
        if not run.has_begun and not is_over:
            continue
        boiling, lifted = run.boiling_since, run.lifted_at
        loads[run.load.id] = SeenLoad(
            boil_min=minute(boiling) if boiling is not None else None,
            lifted_min=minute(lifted) if lifted is not None else None,
            lost=boiling is None,
            is_over=is_over,
        )
    order, more = _told_in_order(state, plan, at, minute(at)), {*(more_min or {})}
    return minute(at), Said(
        ended_min=ended,
        began_min=began,
        loads=loads,
        more_min=more_min or {},
        not_begun=(not_begun | order.not_begun) - more,
        not_over=order.not_over,
        not_said=order.not_said - more,
    )


def _glass_is_out(run: LoadRun) -> bool:
    """Whether every jar of it broke before its time was over, and was cleared out."""
    if not run.all_broke or run.lifted_at is None:
        return False
    return run.deadline is None or run.lifted_at < run.deadline
