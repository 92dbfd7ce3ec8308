"""
What has begun on a fire that is weaker than it asks for stays there.

Somebody has put the second pan on the fire that was left. A pan that boils is not moved
to another one, so what goes on in it without a pause is asked of that fire alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Batch, Problem


@dataclass(frozen=True, slots=True)
class Borne:
    """A day with no more asked of its fires than they have, by what is on them now."""

    problem: Problem
    stays_on: Mapping[Key, str]
    """(batch, step) that goes on without a pause on a fire too weak for it, to that."""


def borne_by_their_fires(problem: Problem, happened: Happened) -> Borne:
    """
    Return the day as its fires bear it, where a pot is on one now.

    Parameters
    ----------
    problem : Problem
        The day.
    happened : Happened
        What has begun.
    """
    power = {fire.id: fire.power_w for fire in problem.burners}
    stays: dict[Key, str] = {}
    for batch in problem.batches:
        asks = {s.id: s.burner_w for s in batch.steps}
        for s in happened.steps:
            if s.batch != batch.id or s.burner is None or s.end_min < happened.now_min:
                continue
            if power[s.burner] < asks[s.step]:
                on_it = (s.step, *_goes_on(batch, s.step))
                stays.update(((batch.id, step), s.burner) for step in on_it)
    batches = tuple(
        replace(
            batch,
            steps=tuple(
                replace(s, burner_w=min(s.burner_w, power[stays[batch.id, s.id]]))
                if (batch.id, s.id) in stays
                else s
                for s in batch.steps
            ),
        )
        for batch in problem.batches
    )
    return Borne(replace(problem, batches=batches), stays)


def _goes_on(batch: Batch, first: str) -> list[str]:
    """What is done in the pot after a step, each at once after the one before."""
    in_pot = {s.id for s in batch.steps if s.in_pot}
    found, more = [], [first]
    while more:
        before = more.pop()
        for link in batch.links:
            at_once = link.before == before and link.at_most_min == 0
            if at_once and {before, link.after} <= in_pot and link.after not in found:
                found.append(link.after)
                more.append(link.after)
    return found
