"""
What was before something told must be over, also where nobody told it.

A file of what has happened names what its writer saw. Jars that are being filled have
been boiled, whatever the plan's hour for the boil was.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from stillroom.planning.happened import Key
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep
from stillroom.planning.waits.precedence import closing_steps


def with_what_was_before(
    problem: Problem,
    placed: Mapping[Key, PlacedStep],
    begun: Mapping[Key, PlacedStep],
    told: Mapping[Key, PlacedStep],
    loads: Sequence[PlacedLoad],
) -> dict[Key, PlacedStep]:
    """
    Return what has begun, with all that must be over for what is told.

    What was not told, and is taken to have gone later than what came after it, took as
    long as in the plan and was over just in time; what had no time before the day's
    first told minute took what there was.

    Parameters
    ----------
    problem : Problem
        The day.
    placed : mapping
        The steps of its plan, by (batch, step).
    begun : mapping
        The steps that have begun, told or taken to have.
    told : mapping
        Those of them that were told; they stay as they are.
    loads : sequence of PlacedLoad
        Loads that were told.
    """
    before = _links_back(problem)
    first = min([0, *(one.start_min for one in told.values())])
    found = dict(begun)
    needed = [
        (key, one.start_min - lag)
        for after, one in told.items()
        for key, lag in before.get(after, ())
    ]
    needed += [
        (key, load.lower_min) for load in loads for key in _closed(problem, load)
    ]
    while needed:
        key, by = needed.pop()
        one = found.get(key)
        if key in told or (one is not None and one.end_min <= by):
            continue
        plan = placed[key]
        end = max(first, by)
        start = max(first, end - (plan.end_min - plan.start_min))
        found[key] = replace(plan, start_min=start, end_min=end)
        if one is None or end < one.end_min:
            needed += [(other, start - lag) for other, lag in before.get(key, ())]
    return found


def _links_back(problem: Problem) -> dict[Key, list[tuple[Key, int]]]:
    """Return what comes before each step, each with the least minutes between [min]."""
    found: dict[Key, list[tuple[Key, int]]] = {}
    for batch in problem.batches:
        for link in batch.links:
            found.setdefault((batch.id, link.after), []).append(
                ((batch.id, link.before), link.at_least_min)
            )
    return found


def _closed(problem: Problem, load: PlacedLoad) -> Iterator[Key]:
    """Yield the steps that close the jars of a load."""
    of = {batch.id: batch for batch in problem.batches}
    for name, _ in load.jars:
        for step in closing_steps(of[name]):
            yield name, step
