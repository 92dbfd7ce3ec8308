"""
Longest waits and latest hours that a plan does not keep: as its maker says, and true.

What the search says is handed to the judge, limit by limit; what is shown afterwards
are the minutes that the judge counts in the timetable itself, under the same words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from stillroom.planning.begun.limits_said import closed_said, hour_said, wait_said
from stillroom.planning.begun.residual import Residual
from stillroom.planning.judge.check_waits import CLOSED, Limit
from stillroom.planning.problem import Problem


def over_said(problem: Problem, over: Mapping[Limit, int]) -> Iterator[tuple[str, int]]:
    """Limits in words, with their minutes."""
    batches = {b.id: b for b in problem.batches}
    for (name, before, after), minutes in over.items():
        batch = batches[name]
        if before == CLOSED:
            yield closed_said(name, batch.closed_wait_at_most_min), minutes
        elif not before:
            yield hour_said(batch, after), minutes
        else:
            link = min(
                (k for k in batch.links if (k.before, k.after) == (before, after)),
                key=lambda k: float("inf") if k.at_most_min is None else k.at_most_min,
            )
            yield wait_said(batch, link), minutes


def stated(
    residual: Residual, broken: Iterable[tuple[str, int]]
) -> tuple[dict[Limit, int], list[tuple[str, int]]]:
    """What a search says to give way: its waits and hours as limits, and all else."""
    words = {(s.batch, s.before, s.after): s.what for s in residual.soft}
    for most in (residual.closed_wait_min, residual.closed_soft_min):
        words |= {
            (b, CLOSED, ""): closed_said(b, minutes) for b, minutes in most.items()
        }
    said: dict[str, int] = {}
    for what, minutes in broken:
        said[what] = max(minutes, said.get(what, 0))
    waits = {limit: said[what] for limit, what in words.items() if what in said}
    known = set(words.values())
    return waits, [(what, over) for what, over in broken if what not in known]
