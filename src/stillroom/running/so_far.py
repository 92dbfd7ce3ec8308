"""What has happened by a moment, in the minutes of the plan: from events alone."""

from __future__ import annotations

import datetime as dt
from math import ceil

from stillroom.planning.as_known import Said, SeenLoad
from stillroom.planning.happened import Key
from stillroom.planning.problem import Problem
from stillroom.running.fold import RunState


def minute_of(moment: dt.datetime, at: dt.datetime, problem: Problem) -> int:
    """
    Minute of the day's plan of a moment, rounded up: a clock is never shown early.

    Parameters
    ----------
    moment : datetime
        The moment asked for.
    at : datetime
        Now, in the kitchen's own zone, on the day of the run.
    problem : Problem
        The day; it says when its minute 0 is.
    """
    hours, minutes = (int(part) for part in problem.starts_at.split(":"))
    begins = at.replace(hour=hours, minute=minutes, second=0, microsecond=0)
    local = moment.astimezone(at.tzinfo)
    return ceil((local - begins).total_seconds() / 60)


def said_so_far(
    state: RunState, problem: Problem, at: dt.datetime
) -> tuple[int, dict[Key, int], dict[str, SeenLoad]]:
    """
    Return now, the ends of the steps that were said done, and what is known of loads.

    Minutes are those of the plan. What was said after now is not known yet.
    """

    def minute(moment: dt.datetime) -> int:
        return minute_of(moment, at, problem)

    ended = {
        (batch, step): minute(when) for batch, step, when in state.done_at if when <= at
    }
    loads = {}
    for run in state.loads:
        if not run.has_begun:
            continue
        boiling, lifted = run.boiling_since, run.lifted_at
        loads[run.load.id] = SeenLoad(
            boil_min=minute(boiling) if boiling is not None else None,
            lifted_min=minute(lifted) if lifted is not None else None,
            lost=boiling is None,
        )
    return minute(at), ended, loads


def said_of_the_day(
    state: RunState,
    problem: Problem,
    at: dt.datetime,
    *,
    more_min: dict[Key, int] | None = None,
    not_begun: frozenset[Key] = frozenset(),
) -> tuple[int, Said]:
    """Return now, and all that is known: the events, and what she says beside them."""
    now, ended, loads = said_so_far(state, problem, at)
    return now, Said(
        ended_min=ended,
        loads=loads,
        more_min=more_min or {},
        not_begun=not_begun,
    )
