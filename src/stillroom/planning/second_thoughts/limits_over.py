"""
What a plan of a day that has begun does not keep, in words.

Limits go by what they are of from the search to the judge; only here are they said.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stillroom.planning.begun.limits_said import (
    closed_said,
    hour_said,
    lifted_too_late,
    rests_in_time,
    wait_said,
)
from stillroom.planning.problem import CLOSED, Limit, Problem
from stillroom.planning.spoken_of import Sentence


def over_said(
    problem: Problem, over: Mapping[Limit, int]
) -> Iterator[tuple[Sentence, int]]:
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


def lifts_and_rests_said(
    lifted_late: Mapping[str, int], rests_late: Mapping[str, int]
) -> Iterator[tuple[Sentence, int]]:
    """Loads that are lifted too late and people who rest late, in words. [min]"""
    for load, minutes in lifted_late.items():
        yield lifted_too_late(load), minutes
    for person, minutes in rests_late.items():
        yield rests_in_time(person), minutes
