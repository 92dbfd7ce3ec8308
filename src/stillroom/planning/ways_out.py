"""
The cheapest ways out of a day that does not fit, each of them solved.

`way_search` finds them; here they are said, and their plans searched on.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

from stillroom.planning.check import violations
from stillroom.planning.cpsat.solve import Search, find_timetable
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.lateness import batches_done_min, score, weighted_lateness
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable, WayOut
from stillroom.planning.way_changes import (
    WHOLE,
    changed,
    cost_of,
    is_more_than,
    leave_out,
    said,
)
from stillroom.planning.way_costs import Costs
from stillroom.planning.way_found import Way
from stillroom.planning.way_plans import Time
from stillroom.planning.way_search import LEAST_S, WAYS, Finder


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways out that were found, and why there are no more."""

    ways: tuple[WayOut, ...]
    why_fewer: str = ""
    """Why there are fewer than three; empty where there are three."""


def ways_out(
    problem: Problem,
    search: Search,
    *,
    missed: Sequence[str] = (),
    reached: Timetable | None = None,
) -> Ways:
    """
    Return the three cheapest ways out, the cheapest first.

    Parameters
    ----------
    problem : Problem
        A day without a plan.
    search : Search
        Time and threads for all of them.
    missed : sequence of str
        Ids of batches, those that would be missed most first; the last of a product is
        left out first. As the day lists them where none is given.
    reached : Timetable, optional
        The plan that the search for the day came to with its end left open.
    """
    finder = Finder(problem, Time(search), Costs(problem), missed, reached)
    finder.look()
    if finder.fits_after_all is not None:
        as_it_is = finder.fits_after_all
        return Ways((_as_it_is(problem, as_it_is),))
    finder.make_cheaper()
    if len(finder.best()) < WAYS and not finder.time.is_over():
        finder.look_on()
        finder.make_cheaper()
    best = finder.best()
    ways = []
    for left, way in zip(range(len(best), 0, -1), best, strict=True):
        plan = _better(way, search, finder.time.left() / left)
        gives = any(c.kind not in WHOLE for c in way.changes)
        least = ": less does not do" if way.least and gives else ""
        late = weighted_lateness(way.problem, plan)
        ways.append(
            WayOut(
                says=said(problem, way.changes) + least + _late(way.problem, plan),
                cost_min=way.cost + late,
                finish_min=plan.finish_min,
                done_by=clock_time(way.problem.starts_at, plan.finish_min),
                timetable=plan,
                changes=way.changes,
            )
        )
    ways.sort(key=lambda way: way.cost_min)
    return Ways(tuple(ways), finder.why_fewer(len(ways)))


def _late(problem: Problem, plan: Timetable) -> str:
    """What is promised for an hour and comes after it, in words; empty for nothing."""
    done = batches_done_min(problem, plan)
    late = []
    for want in problem.wants:
        made = [done[b.id] for b in problem.batches if b.product == want.product]
        over = max(made, default=0) - want.by_min
        if over > 0:
            late.append(f"{want.product} comes {said_minutes(over)} late")
    return f"; but {' and '.join(late)}" if late else ""


def _as_it_is(problem: Problem, plan: Timetable) -> WayOut:
    """The plan of a day that needs no way out, found while one was looked for."""
    return WayOut(
        says="it fits as it is",
        cost_min=0,
        finish_min=plan.finish_min,
        done_by=clock_time(problem.starts_at, plan.finish_min),
        timetable=plan,
    )


def with_one_found(
    problem: Problem, found: Sequence[WayOut], out: Sequence[str], plan: Timetable
) -> tuple[WayOut, ...]:
    """
    Ways out, and one that was found elsewhere: some batches left out.

    Parameters
    ----------
    problem : Problem
        The day with all of its batches.
    found : sequence of WayOut
        Ways out of it.
    out : sequence of str
        Ids of the batches that are left out.
    plan : Timetable
        The plan of all the others.
    """
    changes = tuple(leave_out(b) for b in problem.batches if b.id in out)
    smaller = changed(problem, changes)
    if not changes or violations(smaller, plan):
        return tuple(found)
    more = WayOut(
        says=said(problem, changes) + _late(smaller, plan),
        cost_min=cost_of(problem, changes) + weighted_lateness(smaller, plan),
        finish_min=plan.finish_min,
        done_by=clock_time(problem.starts_at, plan.finish_min),
        timetable=plan,
        changes=changes,
    )
    kept: list[WayOut] = []
    for way in sorted((*found, more), key=lambda w: (w.cost_min, len(w.changes))):
        if not any(is_more_than(way.changes, k.changes) for k in kept):
            kept.append(way)
    return tuple(kept[:WAYS])


def _better(way: Way, search: Search, seconds: float) -> Timetable:
    """The plan of a way out, searched on from what shows that it is one."""
    if seconds < LEAST_S or search.deterministic:
        return way.plan
    until = time.monotonic() + seconds
    on = replace(search, until=until, seconds=seconds)
    found = find_timetable(way.problem, way.plan, on).timetable
    if found is None or violations(way.problem, found):
        return way.plan
    return min((found, way.plan), key=lambda t: score(way.problem, t))
