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
class _Trial:
    """A day with a change, and what that costs."""

    says: str
    cost: int
    problem: Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way(_Trial):
    """A trial that fits, with a plan that shows it."""

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
    """What a plan by hand can show comes first: it takes the least time."""
    smaller = [
        _Trial(
            says=f"it fits without one batch of {product}",
            cost=COST_OF_A_JAR * jars,
            problem=without,
        )
        for product, jars, without in _without_one(problem)
    ]
    yield from _cheapest(smaller, search)
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
    bigger = [
        _Trial(says=f"it fits with {what}", cost=_cost_of(more, problem), problem=more)
        for what, more in with_one_more(problem)
    ]
    yield from _cheapest(bigger, search)


def _cheapest(trials: list[_Trial], search: Search) -> Iterator[_Way]:
    """The cheapest that fits, by hand if any does, else by a short search."""
    trials = [
        t
        for t in sorted(trials, key=lambda t: t.cost)
        if lower_bound_min(t.problem) <= t.problem.horizon_min
    ]
    for planner in (_by_hand, _searched):
        for trial in trials:
            if search.left() < LEAST_S:
                return
            plan = planner(trial.problem, search)
            if plan is not None and not violations(trial.problem, plan):
                yield _Way(
                    says=trial.says,
                    cost=trial.cost,
                    problem=trial.problem,
                    timetable=plan,
                )
                return


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


def _by_hand(problem: Problem, search: Search) -> Timetable | None:
    return by_hand(problem, seconds=0.0, shuffles=3)


def _searched(problem: Problem, search: Search) -> Timetable | None:
    until = time.monotonic() + min(1.0, search.left() / 6)
    return find_timetable(problem, None, replace(search, until=until)).timetable


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
