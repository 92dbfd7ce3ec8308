"""
Where a canner is moved between two of its loads, for a pot takes its fire.

Nobody carries a canner of hot water: it is ladled down, taken off, filled anew and
heated as for the first time. Where it stays on its fire its warm water is reheated, or
hot still.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from stillroom.planning.problem import Canner, Problem
from stillroom.planning.timetable import PlacedLoad, Timetable


def loads_after_a_move(problem: Problem, plan: Timetable) -> frozenset[str]:
    """
    Loads before which their canner was off its fire.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan of it.

    Returns
    -------
    frozenset of str
        Ids of loads; never of the first of a canner.
    """
    found: set[str] = set()
    for canner in problem.canners:
        mine = [load for load in plan.loads if load.canner == canner.id]
        mine.sort(key=lambda load: load.lower_min)
        for before, load in pairwise(mine):
            since, until = before.out_min, load.heat_min
            if any(
                start < until and end > since
                for start, end in _others_on(problem, plan, canner)
            ):
                found.add(load.id)
    return frozenset(found)


def _others_on(
    problem: Problem, plan: Timetable, canner: Canner
) -> Iterator[tuple[int, int]]:
    """When something else is on a burner of a canner."""
    for s in plan.steps:
        if s.burner in canner.burners:
            yield s.start_min, s.end_min
    for burner in problem.burners:
        if burner.id in canner.burners:
            yield from burner.taken
    covers = {c.id: set(c.burners) for c in problem.canners}
    for load in plan.loads:
        if load.canner != canner.id and covers[load.canner] & covers[canner.id]:
            yield load.heat_min, load.stands_until_min


def stays_from(problem: Problem, plan: Timetable, load: PlacedLoad) -> int:
    """Minute since when a canner stands on its fire for a load. [min]"""
    mine = [
        x
        for x in plan.loads
        if x.canner == load.canner and x.lower_min < load.lower_min
    ]
    if not mine or load.id in loads_after_a_move(problem, plan):
        return load.heat_min
    return max(x.out_min for x in mine)
