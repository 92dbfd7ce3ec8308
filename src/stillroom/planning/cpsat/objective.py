"""
What is made small: the end of the day and lateness, and loads.

`moments` has the hurried moments, `calm` the free time of whoever helps; `stages` puts
them one behind the other.
"""

from __future__ import annotations

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import least_loads
from stillroom.planning.cpsat.variables import DayModel, Expr, loads_of_batch
from stillroom.planning.how_good.lateness import POINTS_A_LATE_MINUTE

POINTS_A_LOAD = 3
"""A load counts as much as a batch split this often."""


def end_and_lateness(day: DayModel) -> Expr:
    """Finish plus the points of lateness."""
    assert day.finish is not None
    late = [POINTS_A_LATE_MINUTE * weight * minutes for weight, minutes in day.late]
    return cp_model.LinearExpr.sum([day.finish, *late])


def lateness(day: DayModel) -> Expr | None:
    """Weighted minutes by which wants are missed; `None` where nothing is due."""
    if not day.late:
        return None
    return cp_model.LinearExpr.sum([weight * late for weight, late in day.late])


def loads_and_splits(day: DayModel) -> Expr | None:
    """
    Loads, and how often jars of one batch ride in one; `None` without a canner.

    A batch that is split rides once more. A load is worth more than a split, so that
    the last jars of a batch join another load sooner than have one of their own.
    """
    slots = day.all_slots()
    if not slots:
        return None
    loads = [POINTS_A_LOAD * slot.present for slot in slots]
    rides = [literal for slot in slots for literal in slot.aboard.values()]
    return cp_model.LinearExpr.sum([*loads, *rides])


def most_loads_and_splits(day: DayModel) -> int:
    """A figure that `loads_and_splits` never exceeds."""
    canned = [b for b in day.problem.batches if b.process is not None]
    rides = sum(loads_of_batch(day.problem, b) for b in canned)
    return POINTS_A_LOAD * len(day.all_slots()) + rides


def least_loads_and_splits(day: DayModel) -> int:
    """A figure below which `loads_and_splits` never is."""
    canned = [b for b in day.problem.batches if b.process is not None]
    return POINTS_A_LOAD * least_loads(day.problem) + len(canned)
