"""
What was before something told must be over, also where nobody told it.

A file of what has happened names what its writer saw. Jars that are being filled have
been boiled, whatever the plan's hour for the boil was.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from stillroom.methods.step import Link
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
    out: Mapping[Key, int] | None = None,
) -> dict[Key, PlacedStep]:
    """
    Return what has begun, with all that must be over for what is told.

    What was not told was over just in time where it is taken to have gone later than
    what came after it; and where that came later than it may wait, so much later. It
    took as long as in the plan, or what time there was from the first told minute on.

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
    out : mapping, optional
        Steps that must be over for another reason, to by which minute. [min]
    """
    before = _links_back(problem)
    first = min([0, *(one.start_min for one in told.values())])
    by: dict[Key, int] = dict(out or {})
    since: dict[Key, int] = {}
    for load in loads:
        for key in _closed(problem, load):
            by[key] = min(by.get(key, load.lower_min), load.lower_min)
    found = dict(begun)
    for key in sorted(placed, key=lambda key: -placed[key].start_min):
        one = found.get(key)
        if key not in told:
            if key not in by:
                continue
            plan = placed[key]
            end = plan.end_min if one is None else one.end_min
            end = max(first, min(max(end, since.get(key, end)), by[key]))
            if one is None or end != one.end_min:
                start = max(first, end - (plan.end_min - plan.start_min))
                one = found[key] = replace(plan, start_min=start, end_min=end)
        assert one is not None
        for link in before.get(key, ()):
            earlier, latest = (key[0], link.before), one.start_min - link.at_least_min
            by[earlier] = min(by.get(earlier, latest), latest)
            if link.at_most_min is not None:
                soonest = one.start_min - link.at_most_min
                since[earlier] = max(since.get(earlier, soonest), soonest)
    return found


def _links_back(problem: Problem) -> dict[Key, list[Link]]:
    """What comes before each step."""
    found: dict[Key, list[Link]] = {}
    for batch in problem.batches:
        for link in batch.links:
            found.setdefault((batch.id, link.after), []).append(link)
    return found


def _closed(problem: Problem, load: PlacedLoad) -> Iterator[Key]:
    """Yield the steps that close the jars of a load."""
    of = {batch.id: batch for batch in problem.batches}
    for name, _ in load.jars:
        for step in closing_steps(of[name]):
            yield name, step
