"""
How likely each promise is kept: goods that are there by an hour, on simulated days.

When goods are there is told as for a plan (see `lateness`): jars once the last of them
is out of the canner, other goods once the step is over that closes them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.planning.day_odds.draws import Array
from stillroom.planning.day_odds.forward import Days
from stillroom.planning.due_words import product_of
from stillroom.planning.how_good.lateness import ready_step
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import Part, Precedence


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseOdds:
    """Goods that are wanted by an hour."""

    product: str
    minute: int
    chance: float
    """Share of days on which all of them are there by then."""


def promises_of(
    net: Precedence, problem: Problem, plan: Timetable, days: Days
) -> tuple[PromiseOdds, ...]:
    """
    Return the chance of each want with an hour, in the order of the day.

    Parameters
    ----------
    net : Precedence
        The order of work of ``plan``.
    problem : Problem
        The day.
    plan : Timetable
        A plan of it; a batch that is not in it is promised by nothing.
    days : Days
        The simulated days, of the nodes of ``net``.
    """
    found = []
    for want in problem.wants:
        ends = [
            days.end[n]
            for batch in problem.batches
            if want.product in batch.serves
            for n in _closing(net, batch, plan)
        ]
        if not ends:
            continue
        there: Array = np.max(np.stack(ends), axis=0)
        chance = float(np.mean(there <= want.by_min))
        product = product_of(want.product)
        found.append(PromiseOdds(product=product, minute=want.by_min, chance=chance))
    return tuple(found)


def _closing(net: Precedence, batch: Batch, plan: Timetable) -> list[int]:
    """Nodes at whose ends goods of a batch are there."""
    if batch.process is not None:
        loads = [x.id for x in plan.loads if any(b == batch.id for b, _ in x.jars)]
        return [net.number[load, Part.LIFT] for load in loads]
    ready = ready_step(batch)
    steps = [s.step for s in plan.steps if s.batch == batch.id]
    return [net.number[batch.id, s] for s in steps if ready in (None, s)]
