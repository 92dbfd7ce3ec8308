"""
Ways out of a small day made cheaper by sharing: what gives is proven to be the least.

Minutes of several hours may be fewer than those of one, and a few minutes more may keep
a promise that a way breaks. A model asks for both at once.
"""

from __future__ import annotations

from stillroom.planning.cpsat.give import fewest_minutes
from stillroom.planning.way_changes import WHOLE, Kind, cost_of
from stillroom.planning.ways.way_found import Way, base_of, settled
from stillroom.planning.ways.way_plans import SHARE_OF_ONE
from stillroom.planning.ways.way_search import Finder

MayGive = frozenset[tuple[Kind, str]] | None
"""Hours and whose they are; `None` for all of them."""


def share_minutes(finder: Finder) -> None:
    """
    Share what must give among all hours of the day.

    Where a way breaks a promise, its own hours are asked for once more, alone.
    """
    asked: set[tuple[object, MayGive]] = set()
    for way in finder.best():
        gives = any(c.kind not in WHOLE for c in way.changes)
        if way.node.room or not (gives or way.late):
            continue
        every: list[MayGive] = [None]
        if way.late:
            every.append(way.node.hours.may_give)
        for may_give in every:
            if (way.node.firm, may_give) in asked or finder.time.is_over():
                continue
            asked.add((way.node.firm, may_give))
            _share(finder, way, may_give)


def _share(finder: Finder, way: Way, may_give: MayGive) -> None:
    problem, time = finder.problem, finder.time
    at_most = way.price - cost_of(problem, way.node.firm)
    if not way.late:
        at_most -= 1  # as much is better only where it keeps a promise
    part = time.part(SHARE_OF_ONE * time.left())
    time.turns -= 1
    found = fewest_minutes(base_of(problem, way.node), at_most, part, may_give)
    if found is None:
        return
    shared = settled(problem, way.node, found.changes, found.plan, least=found.least)
    if shared is not None:
        shared.tried = 2  # its minutes are no one figure to be made less
        shared.in_time = bool(problem.wants)
        finder.note(shared)
