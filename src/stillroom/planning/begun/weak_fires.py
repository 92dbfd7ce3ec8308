"""
What has begun on a fire that is weaker than it asks for stays there.

Somebody has put the second pan on the fire that was left. A pan that boils is not moved
to another one, so what goes on in it without a pause is asked of that fire alone.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.happened import Happened
from stillroom.planning.problem import Batch, Problem


def borne_by_their_fires(problem: Problem, happened: Happened) -> Problem:
    """
    Return the day with no more asked of a fire than it has, where a pot is on it now.

    Parameters
    ----------
    problem : Problem
        The day.
    happened : Happened
        What has begun.
    """
    power = {fire.id: fire.power_w for fire in problem.burners}
    has: dict[tuple[str, str], float] = {}
    for s in happened.steps:
        if s.burner is not None and s.end_min >= happened.now_min:
            has[s.batch, s.step] = power[s.burner]
    batches = tuple(_batch(batch, has) for batch in problem.batches)
    return replace(problem, batches=batches)


def _batch(batch: Batch, has: dict[tuple[str, str], float]) -> Batch:
    """A batch whose steps on a fire now, and those at once after them, ask for less."""
    asks = {s.id: s.burner_w for s in batch.steps}
    in_pot = {s.id for s in batch.steps if s.in_pot}
    weak = {
        step: has[batch.id, step]
        for step, watts in asks.items()
        if has.get((batch.id, step), watts) < watts
    }
    going = list(weak)
    while going:
        before = going.pop()
        for link in batch.links:
            at_once = link.before == before and link.at_most_min == 0
            if at_once and {before, link.after} <= in_pot and link.after not in weak:
                weak[link.after] = weak[before]
                going.append(link.after)
    if not weak:
        return batch
    steps = tuple(
        replace(s, burner_w=min(s.burner_w, weak.get(s.id, s.burner_w)))
        for s in batch.steps
    )
    return replace(batch, steps=steps)
