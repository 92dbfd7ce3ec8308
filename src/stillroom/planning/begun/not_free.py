"""What nobody said to have begun, where something that was said is in its pot."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from stillroom.planning.begun.other_tools import holding
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import Tool, uses
from stillroom.planning.timetable import PlacedStep


def not_free(
    problem: Problem, begun: Mapping[Key, PlacedStep], now: int, said: Collection[Key]
) -> set[Key]:
    """
    Return steps that nobody said, and which had no pot, mill or fire to begin with.

    Somebody began the second batch first: by the plan the first one is in that pot, on
    that fire. It has not begun, nor has what comes after it.
    """
    happened = Happened(now_min=now, steps=tuple(begun.values()), loads=())
    found: set[Key] = set()
    for tool in Tool:
        full = [h for h in holding(problem, happened, tool) if not h.only_unwashed]
        there = {
            h.batch.id: {(h.batch.id, s.id) for s in h.batch.steps if uses(s, tool)}
            for h in full
        }
        taken = {h.name for h in full if there[h.batch.id] & {*said}}
        for h in full:
            mine = there[h.batch.id]
            if h.name in taken and not mine & {*said}:
                found |= _with_what_follows(h.batch, mine)
    on = {
        s.burner: s.batch
        for key, s in begun.items()
        if key in said and s.burner is not None and _runs(s, now)
    }
    batches = {batch.id: batch for batch in problem.batches}
    for key, s in begun.items():
        if key in said or s.burner is None or not _runs(s, now):
            continue
        if on.get(s.burner, s.batch) != s.batch:
            found |= _with_what_follows(batches[s.batch], {key})
    return {key for key in found if key in begun and key not in said}


def _runs(s: PlacedStep, now: int) -> bool:
    return s.start_min <= now < s.end_min


def _with_what_follows(batch: Batch, first: set[Key]) -> set[Key]:
    """Steps of a batch, and all that comes after them."""
    found, more = set(first), list(first)
    while more:
        _, before = more.pop()
        for link in batch.links:
            after = (batch.id, link.after)
            if link.before == before and after not in found:
                found.add(after)
                more.append(after)
    return found
