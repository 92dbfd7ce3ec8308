"""
Canner loads, and how jars come to them: what a load asks for, and its cheapest minute.

A load holds its canner from lowering to out, hands at both ends, and its fires from a
little before: the first heat, a reheat, or the flame that stays on since the load
before, whichever is least. Closed jars flow into loads lowered within their wait.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from stillroom.planning.bounding.bounds import closed_min, families, least_cycle_min
from stillroom.planning.bounding.cheapest import NEVER, running_least
from stillroom.planning.bounding.kinds import Kind
from stillroom.planning.bounding.marks import Minutes
from stillroom.planning.bounding.supplies import (
    Canners,
    Fires,
    Hands,
    Supply,
    lifters,
    like_canners,
)
from stillroom.planning.hot_jars import LABOUR_QUARTERS, LIFT_WITHIN_MIN
from stillroom.planning.problem import Canner, Problem, Process


@dataclass(frozen=True, slots=True)
class LoadKind:
    """A process in one sort of canner; what a load asks for, from its lowering on."""

    process: str
    canners: int
    """How many there are of the sort."""
    places: int
    earliest: int
    cycle: int
    """From lowering to out at the quickest. [min]"""
    lowering: tuple[tuple[int, int, int], ...]
    """Supply, minute after lowering, weight: marks that keep to the lowering."""
    lifting: tuple[tuple[int, int, int], ...]
    """The same for those that keep to being out at the quickest, and may be later."""

    def at(self, lowered: int, late: int) -> Iterator[tuple[int, int, int]]:
        """Supply, minute and weight of each mark of a load."""
        for supply, minute, weight in self.lowering:
            yield supply, lowered + minute, weight
        for supply, minute, weight in self.lifting:
            yield supply, lowered + late + minute, weight

    def cheapest(
        self, spent: Sequence[Minutes | None], place: Minutes, end: int
    ) -> tuple[int, int, int]:
        """
        Least cost of a load in a day that ends at ``end``, its lowering, its lateness.

        ``place`` is what each place is worth in a load lowered at each minute.
        """
        latest = end - self.cycle
        if latest < self.earliest:
            return NEVER, 0, 0
        lowered = np.arange(self.earliest, latest + 1)
        cost = -self.places * place[self.earliest : latest + 1]
        for supply, minute, weight in self.lowering:
            line = spent[supply]
            if line is not None:
                cost = cost + weight * line[np.maximum(0, lowered + minute)]
        out = np.zeros(len(lowered), dtype=np.int64)
        for supply, minute, weight in self.lifting:
            line = spent[supply]
            if line is not None:
                out += weight * line[lowered + minute]
        total = cost + running_least(out, 0, LIFT_WITHIN_MIN)
        best = int(np.argmin(total))
        late = int(np.argmin(out[best : best + LIFT_WITHIN_MIN + 1]))
        return int(total[best]), self.earliest + best, late


@dataclass(frozen=True, slots=True)
class Jars:
    """Closed jars of one process and one longest wait."""

    process: str
    wait_min: int | None


@dataclass(frozen=True, slots=True)
class Family:
    """Kinds of load whose jars may come together, and how many loads there are."""

    kinds: frozenset[int]
    least: int
    most: int


@dataclass(frozen=True, slots=True)
class Canning:
    """All about loads on one day."""

    kinds: tuple[LoadKind, ...]
    jars: tuple[Jars, ...]
    rides: tuple[tuple[int, ...], ...]
    """Of each sort of jars, the kinds of load that it may ride in."""
    families: tuple[Family, ...]


def canning_of(
    problem: Problem, supplies: Sequence[Supply], kinds: Sequence[Kind]
) -> Canning:
    """What loads there may be, and which jars ride in them."""
    process_of = {p.id: p for p in problem.processes}
    canned = [b for b in problem.batches if b.process is not None]
    first = min((closed_min(b) for b in canned), default=0)
    names = {
        name
        for b in canned
        for name in process_of[str(b.process)].may_ride_in
        if name in process_of
    }
    loads = tuple(
        _load_kind(problem, supplies, alike, process_of[name], first)
        for alike in like_canners(problem)
        for name in sorted(names)
        if alike[0].places.get(process_of[name].jar, 0) > 0
    )
    closings = [k.closing for k in kinds if k.closing is not None]
    jars = tuple(
        sorted(
            {Jars(c.process, c.wait_min) for c in closings},
            key=lambda j: (j.process, j.wait_min is None, j.wait_min or 0),
        )
    )
    rides = tuple(
        tuple(
            n
            for n, load in enumerate(loads)
            if load.process in process_of[j.process].may_ride_in
        )
        for j in jars
    )
    many = tuple(
        Family(
            frozenset(n for n, k in enumerate(loads) if k.process in family),
            count,
            sum(b.jars for b in canned if b.process in family),  # none goes empty
        )
        for family, count in families(problem)
    )
    return Canning(loads, jars, rides, many)


def _load_kind(
    problem: Problem,
    supplies: Sequence[Supply],
    alike: list[Canner],
    process: Process,
    first: int,
) -> LoadKind:
    canner = alike[0]
    cycle = least_cycle_min(canner, process)
    done = canner.load_min + canner.minutes_up(process.id) + process.minutes
    power = {b.id: b.power_w for b in problem.burners}
    flame = min(
        canner.first_heat_min, canner.reheat_min, canner.rest_min + canner.unload_min
    )
    lowering: list[tuple[int, int, int]] = []
    lifting: list[tuple[int, int, int]] = []
    for n, supply in enumerate(supplies):
        if isinstance(supply, Hands) and lifters(problem) <= supply.people:
            weight = supply.weigh(LABOUR_QUARTERS)
            lowering += [(n, 0, -weight), (n, canner.load_min, weight)]
            lifting += [(n, cycle - canner.unload_min, -weight), (n, cycle, weight)]
        elif isinstance(supply, Fires):
            held = sum(power[b] >= supply.power_w for b in canner.burners)
            if held:
                lowering += [(n, -flame, -held), (n, done, held)]
        elif isinstance(supply, Canners) and canner.id in supply.ids:
            lowering.append((n, 0, -1))
            lifting.append((n, cycle, 1))
    return LoadKind(
        process.id,
        len(alike),
        canner.places[process.jar],
        max(first, canner.first_heat_min),
        cycle,
        tuple(lowering),
        tuple(lifting),
    )
