"""
Where ways out begin: the batches that fit, and some of the others put behind them.

So the hours of all of them, and of all but some, are known at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import LONGER_DAY_MIN, ending_later, without
from stillroom.planning.ways.put_behind import with_the_others
from stillroom.planning.ways.way_plans import Time

SHARE = 0.15
"""Of the time, for all of them."""
MOST = 15
"""So many where work is counted."""
FEW = 4
"""Of so many batches every choice of some is put behind the others."""


@dataclass(frozen=True, slots=True)
class OpenEnded:
    """A plan of the day with its end left open, and what it leaves out."""

    plan: Timetable
    gone: tuple[Batch, ...]


def put_behind(
    problem: Problem, plan: Timetable, out: Sequence[Batch], time: Time
) -> Iterator[OpenEnded]:
    """
    Put batches that are left out behind those that fit: all of them first, then some.

    Parameters
    ----------
    problem : Problem
        The day with all of its batches.
    plan : Timetable
        A plan of the batches that fit.
    out : sequence of Batch
        The others, those missed most first.
    time : Time
        What time there is.
    """
    enough = time.left() * (1 - SHARE)
    longer = ending_later(problem, LONGER_DAY_MIN)
    longer = replace(longer, wants=(), done_by_min=None, first=())
    for n, back in enumerate(_some_of(out)):
        if n >= MOST if time.counted else time.left() < enough:
            return
        gone = tuple(b for b in out if b not in back)
        day = without(longer, {b.id for b in gone})
        found = with_the_others(day, plan, [b.id for b in back])
        if found is not None:
            yield OpenEnded(found, gone)


def _some_of(batches: Sequence[Batch]) -> Iterator[tuple[Batch, ...]]:
    """
    All of them, then fewer: every choice of a few, of many those missed most.

    Of a product those that are missed most come first.
    """
    yield tuple(batches)
    many = range(1, len(batches))
    choices: Iterator[tuple[Batch, ...]]
    if len(batches) <= FEW:
        choices = (some for n in many for some in combinations(batches, n))
    else:
        first = [tuple(batches[:n]) for n in many]
        choices = iter([*first, *((b,) for b in batches[1:])])
    for some in choices:
        taken: dict[tuple[str, ...], list[bool]] = {}
        for b in batches:
            taken.setdefault(b.serves, []).append(b in some)
        if all(sorted(line, reverse=True) == line for line in taken.values()):
            yield some
