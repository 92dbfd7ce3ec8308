"""
What nobody said to have begun, where what was said is in its pot or on its fire.

Somebody began the second batch in place of the first, which by the plan is in that pot
by now: then the first has not begun. Or she is a few minutes ahead, and the first is
out of it: then it is over. What was cooked, or is in a canner, is never taken back.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from math import inf

from stillroom.planning.begun.other_tools import Holds, holding
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import Tool, uses
from stillroom.planning.timetable import PlacedLoad, PlacedStep

AHEAD_MIN = 5
"""Who is so much ahead of the plan has ended what was before. Ours, no source. [min]"""


def as_free(
    problem: Problem,
    begun: Mapping[Key, PlacedStep],
    now: int,
    said: Collection[Key],
    loads: Iterable[PlacedLoad],
) -> dict[Key, PlacedStep]:
    """
    Return what has begun, with no pot, mill or fire that two are in or on by the plan.

    Parameters
    ----------
    problem : Problem
        The day.
    begun : mapping
        What was said to have begun, or is taken to have by the plan.
    now : int
        Minute of the day.
    said : collection
        (batch, step) of what was said; it stays as it is.
    loads : iterable of PlacedLoad
        Loads that are being lowered, processed or are out: their jars are filled.
    """
    filled = {name for load in loads for name, _ in load.jars}
    found = dict(begun)
    for tool in Tool:
        happened = Happened(now_min=now, steps=tuple(found.values()), loads=())
        full = [h for h in holding(problem, happened, tool) if not h.only_unwashed]
        there = {h.batch.id: _in(h, tool) for h in full}
        came = {h.name: h.since_min for h in full if there[h.batch.id] & {*said}}
        for h in full:
            mine = there[h.batch.id]
            if h.name not in came or mine & {*said}:
                continue
            out = _out_of_it_min(h.batch, found, mine) <= came[h.name] + AHEAD_MIN
            if out or h.batch.id in filled:
                _end(found, mine, came[h.name])
            else:
                _take_back(found, h.batch, mine, said)
    on = {
        s.burner: s
        for key, s in found.items()
        if key in said and s.burner is not None and _runs(s, now)
    }
    batches = {batch.id: batch for batch in problem.batches}
    for key, s in begun.items():
        other = on.get(s.burner or "")
        if key in said or other is None or other.batch == s.batch or key not in found:
            continue
        if not _runs(s, now):
            continue
        batch = batches[s.batch]
        mine = {(batch.id, step.id) for step in batch.steps if step.in_pot} | {key}
        off = _out_of_it_min(batch, found, mine)
        if off <= other.start_min + AHEAD_MIN or s.batch in filled:
            _end(found, {key}, other.start_min)
        elif not mine & {*said} and not _before(found, mine, s):
            _take_back(found, batch, {key}, said)
    return found


def _in(h: Holds, tool: Tool) -> set[Key]:
    return {(h.batch.id, s.id) for s in h.batch.steps if uses(s, tool)}


def _runs(s: PlacedStep, now: int) -> bool:
    return s.start_min <= now < s.end_min


def _before(begun: Mapping[Key, PlacedStep], mine: set[Key], s: PlacedStep) -> bool:
    """Whether something of a pot came before a step: what is cooked is not undone."""
    return any(key in begun and begun[key].start_min < s.start_min for key in mine)


def _out_of_it_min(
    batch: Batch, begun: Mapping[Key, PlacedStep], mine: set[Key]
) -> float:
    """
    When the last of some steps is off the fire, or off the mill. [min]

    By the plan: not at all while one of them has not begun.
    """
    there = [s for s in batch.steps if (batch.id, s.id) in mine and not s.rinse_min]
    cooked = [s for s in there if s.burner_w > 0] or there
    if any((batch.id, s.id) not in begun for s in cooked):
        return inf
    return max((begun[batch.id, s.id].end_min for s in cooked), default=0)


def _end(begun: dict[Key, PlacedStep], keys: Iterable[Key], at: int) -> None:
    """What has begun was over by then."""
    for key in keys:
        if key in begun and begun[key].end_min > at:
            s = begun[key]
            begun[key] = replace(s, start_min=min(s.start_min, at), end_min=at)


def _take_back(
    begun: dict[Key, PlacedStep], batch: Batch, first: set[Key], said: Collection[Key]
) -> None:
    """Steps of a batch have not begun, nor has what comes after them."""
    found, more = set(first), list(first)
    while more:
        _, before = more.pop()
        for link in batch.links:
            after = (batch.id, link.after)
            if link.before == before and after not in found:
                found.add(after)
                more.append(after)
    for key in found:
        if key not in said:
            begun.pop(key, None)
