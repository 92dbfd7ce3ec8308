"""
How far what is held may move beside a part that is set free.

Without it what is held keeps its order and may begin at any minute, which the solver
has to think through for all of the day. In a plan that is to end sooner it hardly ever
begins later than it did, and seldom much sooner: said to the solver, most of the day is
settled before the search of the part begins.
"""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.neighbourhood import Part, Value, load_is_free
from stillroom.planning.cpsat.variables import DayModel

ANY_MIN = 10_000
"""More minutes than a day has."""


@dataclass(frozen=True, slots=True)
class Reach:
    """By how much what is held may begin sooner, and later. [min]"""

    sooner_min: int = ANY_MIN
    later_min: int = ANY_MIN


SOONER = tuple(Reach(minutes, 0) for minutes in (5, 10, 20, 40))
"""Drawn where a plan is to end sooner."""
ABOUT = tuple(Reach(minutes, minutes) for minutes in (10, 20, 40))
"""Drawn where another plan is looked for that ends at about the same time."""


def hold_near(
    model: cp_model.CpModel, day: DayModel, value: Value, part: Part, reach: Reach
) -> None:
    """
    Add to a copy of a day's model that what is held begins about when it did.

    Parameters
    ----------
    model : CpModel
        A clone of ``day.model``.
    day : DayModel
        The day that it is a clone of.
    value : callable
        Values of the plan.
    part : Part
        What is free to begin whenever it likes.
    reach : Reach
        How far all else may move.
    """
    held: list[cp_model.IntVar] = []
    for batch in day.problem.batches:
        for start in day.starts[batch.id]:
            begins = value(start)
            if not part.frees(batch.id, begins, begins + 1):
                held.append(start)
    for slot in day.all_slots():
        if value(slot.present) and not load_is_free(part, value, slot):
            held.append(slot.lower)
    for start in held:
        begins = value(start)
        if reach.sooner_min < ANY_MIN:
            model.add(start >= begins - reach.sooner_min)
        if reach.later_min < ANY_MIN:
            model.add(start <= begins + reach.later_min)
