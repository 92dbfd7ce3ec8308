"""
Rests moved so that somebody is there when a clock of a load starts or ends.

The search knows no hands at a full boil, so that all may rest in that minute; nor any
beside a canner under pressure, which is not left alone. Where another minute of a
rest's window suits the plan as well, the rest is taken then.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from stillroom.planning.how_good.nobody_near import unseen
from stillroom.planning.how_good.unwatched import left_alone
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Break, Problem
from stillroom.planning.timetable import PlacedBreak, Timetable


def with_rests_apart(problem: Problem, plan: Timetable) -> Timetable:
    """
    Move rests so that fewer clocks start or end while nobody is there.

    Before that, so that a canner under pressure is left alone for fewer minutes. All
    else of the plan stays. Of the minutes that the judge passes, those that hide least
    are taken, and of them the nearest to the rest as it was.
    """
    many = _many(problem, plan)
    while any(many):
        found = ((_many(problem, one), one) for one in _one_rest_moved(problem, plan))
        fewer = sorted((f for f in found if f[0] < many), key=lambda f: f[0])
        better = next((f for f in fewer if not violations(problem, f[1])), None)
        if better is None:
            break
        many, plan = better
    return plan


def _many(problem: Problem, plan: Timetable) -> tuple[int, int]:
    """Minutes of a canner left alone, and clocks that nobody sees."""
    alone = sum(until - since for _, since, until in left_alone(problem, plan))
    return alone, sum(1 for _ in unseen(problem, plan))


def _one_rest_moved(problem: Problem, plan: Timetable) -> Iterator[Timetable]:
    """Plans in which one rest, that hides something, is taken at another minute."""
    minutes = [minute for minute, _, _ in unseen(problem, plan)]
    for _, since, until in left_alone(problem, plan):
        minutes += range(since, until)
    windows = {person.id: person.breaks for person in problem.people}
    for n, rest in enumerate(plan.breaks):
        if not any(rest.start_min <= minute < rest.end_min for minute in minutes):
            continue
        for moved in _nearest_first(rest, windows[rest.person]):
            breaks = (*plan.breaks[:n], moved, *plan.breaks[n + 1 :])
            yield replace(plan, breaks=breaks)


def _nearest_first(rest: PlacedBreak, asked: Iterable[Break]) -> Iterator[PlacedBreak]:
    long = rest.end_min - rest.start_min
    starts = {
        start
        for window in asked
        if window.duration_min == long
        for start in range(window.earliest_min, window.latest_start_min + 1)
    }
    for start in sorted(starts, key=lambda s: (abs(s - rest.start_min), s)):
        yield replace(rest, start_min=start, end_min=start + long)
