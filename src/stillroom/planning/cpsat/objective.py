"""
What is made small, one thing after another: the end of the day, loads, hurried moments.

Stages explain themselves, and a weighted sum of all three finds worse plans in the same
time: what was reached in one stage is held while the next is sought.
"""

from __future__ import annotations

from ortools.sat.python import cp_model

from stillroom.planning.bounds import least_loads
from stillroom.planning.cpsat.variables import Day, Expr, loads_of_batch
from stillroom.planning.lateness import POINTS_A_LATE_MINUTE

POINTS_A_LOAD = 3
"""A load counts as much as a batch split this often."""


def end_and_lateness(day: Day) -> Expr:
    """Finish plus the points of lateness."""
    assert day.finish is not None
    late = [POINTS_A_LATE_MINUTE * weight * minutes for weight, minutes in day.late]
    return cp_model.LinearExpr.sum([day.finish, *late])


def hold_end_and_lateness(day: Day, finish: int, lateness: int) -> None:
    """Neither finish nor weighted lateness may grow again."""
    assert day.finish is not None
    day.model.add(day.finish <= finish)
    if day.late:
        day.model.add(sum(weight * late for weight, late in day.late) <= lateness)


def loads_and_splits(day: Day) -> Expr | None:
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


def most_loads_and_splits(day: Day) -> int:
    """A figure that `loads_and_splits` never exceeds."""
    canned = [b for b in day.problem.batches if b.process is not None]
    rides = sum(loads_of_batch(day.problem, b) for b in canned)
    return POINTS_A_LOAD * len(day.all_slots()) + rides


def least_loads_and_splits(day: Day) -> int:
    """A figure below which `loads_and_splits` never is."""
    canned = [b for b in day.problem.batches if b.process is not None]
    return POINTS_A_LOAD * least_loads(day.problem) + len(canned)


def overlapping_moments(day: Day) -> Expr | None:
    """
    Pairs of batches whose moments that cannot wait fall together.

    Adds, for each pair, the literals that one lies before the other, or that both
    overlap. `None` where there is no pair.
    """
    model = day.model
    stretches: list[tuple[Expr, Expr]] = []
    for batch in day.problem.batches:
        inside = [i for i, s in enumerate(batch.steps) if s.critical]
        if not inside:
            continue
        lag = day.networks[batch.id].lag
        first = min(inside, key=lambda i: sum(lag[j][i] > 0 for j in inside))
        last = max(inside, key=lambda i: sum(lag[j][i] > 0 for j in inside))
        stretches.append((day.start(batch.id, first), day.end(batch, last)))
    overlaps: list[cp_model.IntVar] = []
    for n, (start, end) in enumerate(stretches):
        for m, (other_start, other_end) in enumerate(stretches[:n]):
            before = model.new_bool_var(f"moment {n} before {m}")
            after = model.new_bool_var(f"moment {n} after {m}")
            both = model.new_bool_var(f"moments {n} and {m} at once")
            model.add(end <= other_start).only_enforce_if(before)
            model.add(other_end <= start).only_enforce_if(after)
            model.add_exactly_one(before, after, both)
            overlaps.append(both)
    return cp_model.LinearExpr.sum(overlaps) if overlaps else None
