"""
A day that was begun before its hour, while that hour is still to come.

A plan has no minutes before its day. So the rest is planned in a day that starts at the
minute it is now, and told in the minutes of the day as it was. Whoever has done
something already is there; all others come when they said.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import starting_earlier


def is_begun_early(happened: Happened) -> bool:
    """Whether something was begun before the day, and the day has not come yet."""
    return happened.now_min < 0 and bool(happened.steps or happened.loads)


def there_already(problem: Problem, happened: Happened) -> Problem:
    """The day, with whoever has done something there since now, or since before."""
    seen = {s.person for s in happened.steps}
    for load in happened.loads:
        seen |= {load.lowered_by, load.lifted_by} if load.out_min <= 0 else set()
    people = tuple(
        replace(p, arrives_min=min(p.arrives_min, happened.now_min))
        if p.id in seen
        else p
        for p in problem.people
    )
    return replace(problem, people=people)


def from_now(problem: Problem, happened: Happened) -> tuple[Problem, Happened]:
    """
    The day as one that starts now, and what has happened in its minutes.

    Parameters
    ----------
    problem : Problem
        The day as `there_already` has it.
    happened : Happened
        What has begun, before minute 0.

    Returns
    -------
    tuple of Problem and Happened
        All of it ``-happened.now_min`` minutes later than in the day as it was.
    """
    by = -happened.now_min
    earlier = starting_earlier(problem, by)
    arrives = {p.id: max(0, p.arrives_min + by) for p in problem.people}
    people = tuple(replace(p, arrives_min=arrives[p.id]) for p in earlier.people)
    moved = Timetable(
        steps=happened.steps, loads=happened.loads, breaks=happened.breaks
    ).moved(by)
    return replace(earlier, people=people), replace(
        happened,
        now_min=0,
        steps=moved.steps,
        loads=moved.loads,
        breaks=moved.breaks,
    )
