"""
Which load of a plan made anew is which of the plan before: the one that holds its jars.

Where one load becomes two, or two become one, those after it would else go by its
number, and butter would be said to go in when jelly does.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from stillroom.planning.timetable import PlacedLoad, numbered_beside


def in_both(one: PlacedLoad, other: PlacedLoad) -> int:
    """Return how many jars two loads have in common."""
    theirs = dict(other.jars)
    return sum(min(count, theirs.get(name, 0)) for name, count in one.jars)


def most_alike(load: PlacedLoad, among: Iterable[PlacedLoad]) -> PlacedLoad | None:
    """Return the load with most of these jars, the first of such; `None`: with none."""
    first = sorted(among, key=lambda other: other.lower_min)
    best = max(first, key=lambda other: in_both(load, other), default=None)
    return best if best is not None and in_both(load, best) else None


def numbered_by_their_jars(
    loads: Sequence[PlacedLoad], before: Sequence[PlacedLoad], taken: Collection[str]
) -> list[PlacedLoad]:
    """
    Return loads of a plan made anew, each by the id that its jars had in their canner.

    Parameters
    ----------
    loads : sequence of PlacedLoad
        Loads that have not begun; whatever they are called is forgotten.
    before : sequence of PlacedLoad
        Loads of the plan before that have not begun.
    taken : collection of str
        Ids of loads that have begun. What holds other jars than all of these takes the
        first number of its canner that is free.
    """
    pairs = [
        (-in_both(load, was), was.lower_min, load.lower_min, n, was.id)
        for n, load in enumerate(loads)
        for was in before
        if load.canner == was.canner and in_both(load, was)
    ]
    named: dict[int, str] = {}
    for *_, n, was_id in sorted(pairs):
        if n not in named and was_id not in named.values():
            named[n] = was_id
    new = [load for n, load in enumerate(loads) if n not in named]
    there = {*taken, *(was.id for was in before)}
    kept = [replace(loads[n], id=id_) for n, id_ in named.items()]
    return [*kept, *numbered_beside(new, there)]
