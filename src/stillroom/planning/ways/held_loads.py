"""
The canner loads of a plan, some of whose jars are not made.

A load that is left without jars is not run. What followed it in hot water is heated
anew then, and no fire is kept on for what does not come.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from stillroom.planning.problem import Canner, Problem
from stillroom.planning.timetable import PlacedLoad, Timetable


def loads_of(
    problem: Problem, plan: Timetable, batches: Collection[str]
) -> tuple[PlacedLoad, ...]:
    """
    Loads with the jars of some batches, each lowered and lifted as it was.

    Where a load that is heated anew has no time for it, the judge says so.
    """
    of = {canner.id: canner for canner in problem.canners}
    found: list[PlacedLoad] = []
    lines: dict[str, list[PlacedLoad]] = {}
    for load in plan.loads:
        lines.setdefault(load.canner, []).append(load)
    for name, line in lines.items():
        line.sort(key=lambda load: load.lower_min)
        kept: list[PlacedLoad] = []
        for n, load in enumerate(line):
            jars = tuple((b, count) for b, count in load.jars if b in batches)
            if not jars:
                continue
            before = kept[-1] if kept else None
            as_before = n > 0 and before is not None and before.id == line[n - 1].id
            load = replace(load, jars=jars)
            if name in of and not as_before and n > 0:
                load = _heated_anew(of[name], before, load)
            if before is not None and not as_before:
                kept[-1] = replace(before, fire_free_min=before.done_min)
            kept.append(load)
        if kept and kept[-1].id != line[-1].id:  # what it was kept hot for is gone
            kept[-1] = replace(kept[-1], fire_free_min=kept[-1].done_min)
        found += kept
    return tuple(sorted(found, key=lambda load: (load.lower_min, load.id)))


def _heated_anew(
    canner: Canner, before: PlacedLoad | None, load: PlacedLoad
) -> PlacedLoad:
    """Its water is heated for it: for the first time, or again."""
    takes = canner.first_heat_min if before is None else canner.reheat_min
    return replace(load, hot=False, heat_min=load.lower_min - takes)
