"""
Moments that cannot wait, in whose hands they are, and how near they come together.

A return to the boil, pouring and filling, and lifting a load out: what is late there
spoils a batch or leaves jars in the water. Read off the timetable alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

BREATH_MIN = 3
"""Less pause than this between two, and the second pays for any slip of the first.
Common practice, no source. [min]"""


@dataclass(frozen=True, slots=True)
class Moment:
    """Minutes in which one person cannot be called away."""

    person: str
    start_min: int
    end_min: int
    of: str
    """Batch or load."""
    what: str


@dataclass(frozen=True, slots=True)
class Pair:
    """Two moments of one person, and the pause between them."""

    first: Moment
    second: Moment

    @property
    def pause_min(self) -> int:
        """Minutes from the end of one to the start of the other; below 0 at once."""
        return self.second.start_min - self.first.end_min


def moments(problem: Problem, plan: Timetable) -> tuple[Moment, ...]:
    """
    Every moment of a plan, by person and minute.

    Steps of one batch in the same hands that follow each other within `BREATH_MIN` are
    one moment: sugar in, the hard boil, skimming.
    """
    found: list[Moment] = []
    critical = {(b.id, s.id) for b in problem.batches for s in b.steps if s.critical}
    mine = [
        Moment(s.person, s.start_min, s.end_min, s.batch, s.step)
        for s in plan.steps
        if s.person is not None and (s.batch, s.step) in critical
    ]
    mine.sort(key=lambda m: (m.person, m.of, m.start_min))
    for moment in mine:
        last = found[-1] if found else None
        if (
            last is not None
            and (last.person, last.of) == (moment.person, moment.of)
            and moment.start_min - last.end_min < BREATH_MIN
        ):
            end = max(last.end_min, moment.end_min)
            found[-1] = Moment(last.person, last.start_min, end, last.of, last.what)
        else:
            found.append(moment)
    found += [
        Moment(load.lifted_by, load.lift_min, load.out_min, load.id, "lift")
        for load in plan.loads
    ]
    return tuple(sorted(found, key=lambda m: (m.person, m.start_min, m.end_min, m.of)))


def hurried(problem: Problem, plan: Timetable) -> tuple[Pair, ...]:
    """Pairs of one person's moments, in two batches or loads, with too little pause."""
    return tuple(
        pair for pair in _pairs(moments(problem, plan)) if pair.pause_min < BREATH_MIN
    )


def _pairs(found: tuple[Moment, ...]) -> Iterator[Pair]:
    for first, second in combinations(found, 2):
        if first.person == second.person and first.of != second.of:
            yield Pair(first, second)
