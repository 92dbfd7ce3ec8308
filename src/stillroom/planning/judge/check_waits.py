"""
What a plan does not keep of the longest waits and latest hours, each with its minutes.

Whoever made a plan of a day that has begun has to name the same (see `check_replan`).
Of two ends that have both begun the wait is past: no plan keeps or breaks it any more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stillroom.planning.happened import Happened
from stillroom.planning.problem import CLOSED, Limit, Problem
from stillroom.planning.timetable import Timetable


def waits_over(
    problem: Problem, happened: Happened, new: Timetable
) -> dict[Limit, int]:
    """Limits that a plan does not keep, of what is to come, and by how much. [min]"""
    return _longest(over for over in _over(problem, happened, new) if not over[2])


def waits_were_over(
    problem: Problem, happened: Happened, new: Timetable
) -> dict[Limit, int]:
    """Limits that the past did not keep, and by how much. [min]"""
    return _longest(over for over in _over(problem, happened, new) if over[2])


def waits_over_by_now(
    problem: Problem, happened: Happened, new: Timetable
) -> dict[Limit, int]:
    """
    Limits of what is to come that the past alone is over already, by how much. [min]

    They are what would be over if all that is to come began this minute.
    """
    now, begun = happened.now_min, happened.begun
    gone_in = {load.id for load in happened.loads}
    steps = tuple(
        s
        if (s.batch, s.step) in begun
        else replace(s, start_min=now, end_min=now + s.end_min - s.start_min)
        for s in new.steps
    )
    loads = tuple(
        load if load.id in gone_in else replace(load, lower_min=now)
        for load in new.loads
    )
    return waits_over(problem, happened, replace(new, steps=steps, loads=loads))


def _longest(found: Iterator[tuple[Limit, int, bool]]) -> dict[Limit, int]:
    longest: dict[Limit, int] = {}
    for limit, minutes, _ in found:
        if minutes > 0:
            longest[limit] = max(minutes, longest.get(limit, 0))
    return longest


def _over(
    problem: Problem, happened: Happened, new: Timetable
) -> Iterator[tuple[Limit, int, bool]]:
    """Limit, minutes over it (or less than none), and whether its later end begun."""
    begun = happened.begun
    gone_in = {load.id for load in happened.loads}
    placed = {(s.batch, s.step): s for s in new.steps}
    for batch in problem.batches:
        name = batch.id
        for link in batch.links:
            if link.at_most_min is not None:
                waited = placed[name, link.after].start_min
                waited -= placed[name, link.before].end_min
                past = (name, link.after) in begun
                limit = (name, link.before, link.after)
                yield limit, waited - link.at_most_min, past
        for window in batch.windows:
            if window.latest_min is not None:
                start = placed[name, window.step].start_min
                past = (name, window.step) in begun
                yield (name, "", window.step), start - window.latest_min, past
        closing = [s.id for s in batch.steps if batch.ready_after in ("", s.id)]
        closed = max((placed[name, s].end_min for s in closing), default=None)
        for load in new.loads:
            if closed is None or all(aboard != name for aboard, _ in load.jars):
                continue
            over = load.lower_min - closed - batch.closed_wait_at_most_min
            yield (name, CLOSED, ""), over, load.id in gone_in
