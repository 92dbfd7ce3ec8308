"""
What was out of its pot or off its mill, as another is told to have come there since.

Who has one pot and tells of two boils, one after the other, has filled the first jars
in between, whether she tells it or not. Where another pot is free nothing follows: the
second may be in that one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from stillroom.planning.begun.other_tools import may_be_in, name_in
from stillroom.planning.happened import Key
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import Tool, uses
from stillroom.planning.timetable import PlacedStep


def out_by(
    problem: Problem, begun: Mapping[Key, PlacedStep], told: Collection[Key]
) -> dict[Key, int]:
    """
    Return which steps nobody told must be over, and by which minute of the day. [min]

    Parameters
    ----------
    problem : Problem
        The day.
    begun : mapping
        What has begun, told or taken to have.
    told : collection
        (batch, step) of what was told.
    """
    found: dict[Key, int] = {}
    for tool in Tool:
        there = list(_there(problem, begun, told, tool))
        taken = {name for _, name, _, _ in there}
        for first, name, _, ended in there:
            came = [
                max(ended, min(begun[key].start_min for key in _in(then, begun, tool)))
                for then, other, since, _ in there
                if then.id != first.id
                and other == name
                and since >= ended
                and taken >= {*may_be_in(problem, then, name, tool)}
            ]
            if came:
                keys = ((first.id, s.id) for s in first.steps if uses(s, tool))
                found.update((key, min(came)) for key in keys if key not in told)
    return found


def _there(
    problem: Problem,
    begun: Mapping[Key, PlacedStep],
    told: Collection[Key],
    tool: Tool,
) -> Iterator[tuple[Batch, str, int, int]]:
    """Batches in a tool: its name, since when as far as it was told, and until when."""
    for batch in problem.batches:
        mine = _in(batch, begun, tool)
        names = [name for key in mine if (name := name_in(begun[key], tool))]
        if names:
            since = min(
                begun[key].start_min for key in [k for k in mine if k in told] or mine
            )
            yield batch, names[0], since, max(begun[key].end_min for key in mine)


def _in(batch: Batch, begun: Collection[Key], tool: Tool) -> list[Key]:
    keys = ((batch.id, s.id) for s in batch.steps if uses(s, tool))
    return [key for key in keys if key in begun]
