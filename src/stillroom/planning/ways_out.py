"""
The cheapest ways out of a day that does not fit, each of them solved.

One of each kind: stay longer, come sooner, leave a batch out, one thing more. Each has
a plan that breaks no rule of the day with that change, and that plan's finish.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import dataclass, replace

from stillroom.planning.bounds import lower_bound_min
from stillroom.planning.by_hand import by_hand
from stillroom.planning.check import violations
from stillroom.planning.cpsat import give
from stillroom.planning.cpsat.solve import Search, find_timetable
from stillroom.planning.daytime import clock_time
from stillroom.planning.lateness import score
from stillroom.planning.one_more import with_one_more
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable, WayOut

WAYS = 3
COST_OF_A_JAR = 10
"""A jar that is not made weighs as much as so many minutes of somebody's time."""
COST_OF_A_THING = 240
"""As much weighs a burner or a canner that has to be found."""
SHARE_OF_GIVING = 0.35
"""Of the time, for each of staying longer and coming sooner."""
LEAST_S = 0.15


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """A way out as it is tried."""

    says: str
    cost: int
    problem: Problem
    timetable: Timetable


def ways_out(problem: Problem, search: Search) -> tuple[WayOut, ...]:
    """
    Return the cheapest ways out, the cheapest first; none where none was found.

    Parameters
    ----------
    problem : Problem
        A day without a plan.
    search : Search
        Time and threads for all of them.
    """
    found = sorted(_all(problem, search), key=lambda way: way.cost)[:WAYS]
    ways = []
    for left, way in zip(range(len(found), 0, -1), found, strict=True):
        best = _better(way, search, search.left() / left)
        ways.append(
            WayOut(
                says=way.says,
                cost_min=way.cost,
                finish_min=best.finish_min,
                done_by=clock_time(problem.starts_at, best.finish_min),
                timetable=best,
            )
        )
    return tuple(ways)


def _all(problem: Problem, search: Search) -> Iterator[_Way]:
    for giving in (give.later, give.sooner):
        until = time.monotonic() + SHARE_OF_GIVING * search.left()
        given = giving(problem, replace(search, until=until))
        if given is None or violations(given.problem, given.timetable):
            continue
        least = ": less does not do" if given.least else ""
        yield _Way(
            says=f"it fits if {given.says}{least}",
            cost=given.price,
            problem=given.problem,
            timetable=given.timetable,
        )
    left_out = [
        _Way(
            says=f"it fits without one batch of {product}",
            cost=COST_OF_A_JAR * jars,
            problem=smaller,
            timetable=plan,
        )
        for product, jars, smaller in _without_one(problem)
        if (plan := _fits(smaller, search)) is not None
    ]
    if left_out:
        yield min(left_out, key=lambda way: way.cost)
    more = [
        _Way(
            says=f"it fits with {what}",
            cost=_cost_of(bigger, problem),
            problem=bigger,
            timetable=plan,
        )
        for what, bigger in with_one_more(problem)
        if (plan := _fits(bigger, search)) is not None
    ]
    if more:
        yield min(more, key=lambda way: way.cost)


def _without_one(problem: Problem) -> Iterator[tuple[str, int, Problem]]:
    """Product, its jars, and the day without its last batch."""
    for product, batch in {b.product: b for b in problem.batches}.items():
        rest = tuple(b for b in problem.batches if b.id != batch.id)
        if not rest:
            continue
        made = {b.product for b in rest}
        wants = tuple(w for w in problem.wants if w.product in made)
        yield product, batch.jars, replace(problem, batches=rest, wants=wants)


def _cost_of(bigger: Problem, problem: Problem) -> int:
    if len(bigger.people) > len(problem.people):
        return problem.horizon_min  # the whole of somebody's day
    return COST_OF_A_THING


def _fits(problem: Problem, search: Search) -> Timetable | None:
    """A plan by hand, or one that a short search finds."""
    if lower_bound_min(problem) > problem.horizon_min or search.left() < LEAST_S:
        return None
    plan = by_hand(problem, seconds=0.0, shuffles=3)
    if plan is None:
        until = time.monotonic() + min(1.0, search.left() / 6)
        plan = find_timetable(problem, None, replace(search, until=until)).timetable
    if plan is None or violations(problem, plan):
        return None
    return plan


def _better(way: _Way, search: Search, seconds: float) -> Timetable:
    """The plan of a way out, searched on from what shows that it is one."""
    if seconds < LEAST_S:
        return way.timetable
    until = time.monotonic() + seconds
    on = replace(search, until=until, seconds=seconds)
    found = find_timetable(way.problem, way.timetable, on).timetable
    if found is None or violations(way.problem, found):
        return way.timetable
    return min((found, way.timetable), key=lambda t: score(way.problem, t))
