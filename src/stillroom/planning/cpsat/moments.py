"""
Hurried moments in one person's hands, for the solver.

`stillroom.planning.how_good.moments` counts them again in a finished plan.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.variables import DayModel, Expr, Hands
from stillroom.planning.how_good.moments import BREATH_MIN


@dataclass(frozen=True, slots=True)
class _Moment:
    start: Expr
    end: Expr
    of: object
    """Batch id, or slot."""
    by: dict[str, cp_model.IntVar]


def moments_too_near(day: DayModel) -> Expr | None:
    """
    Pairs of moments of one person with less than a breath between them.

    Adds, for each pair of two batches or loads, the literals that one lies before the
    other, that they are too near, and that this is in one person's hands. `None` where
    there is no pair.
    """
    model = day.model
    found = _moments(day)
    near: list[cp_model.IntVar] = []
    for n, (a, b) in enumerate(combinations(found, 2)):
        both = a.by.keys() & b.by.keys()
        if a.of == b.of or not both:
            continue
        before = model.new_bool_var(f"moment {n} before")
        after = model.new_bool_var(f"moment {n} after")
        close = model.new_bool_var(f"moments {n} close")
        model.add(a.end + BREATH_MIN <= b.start).only_enforce_if(before)
        model.add(b.end + BREATH_MIN <= a.start).only_enforce_if(after)
        model.add_exactly_one(before, after, close)
        hurried = model.new_bool_var(f"moments {n} in one person's hands")
        model.add_implication(hurried, close)
        for who in sorted(both):
            model.add_bool_or(~close, ~a.by[who], ~b.by[who], hurried)
        near.append(hurried)
    return cp_model.LinearExpr.sum(near) if near else None


def _moments(day: DayModel) -> list[_Moment]:
    found = [m for hands in day.hands if (m := _of_hands(day, hands)) is not None]
    found += [
        _Moment(slot.lift, slot.out, (slot.canner.id, slot.index), slot.lifted_by)
        for slot in day.all_slots()
    ]
    return found


def _of_hands(day: DayModel, hands: Hands) -> _Moment | None:
    """From the first to the last step that cannot wait, of those in the same hands."""
    batch = next(b for b in day.problem.batches if b.id == hands.batch)
    inside = [i for i in hands.steps if batch.steps[i].critical]
    if not inside:
        return None
    lag = day.networks[batch.id].lag
    first = min(inside, key=lambda i: sum(lag[j][i] > 0 for j in inside))
    last = max(inside, key=lambda i: sum(lag[j][i] > 0 for j in inside))
    return _Moment(day.start(batch.id, first), day.end(batch, last), batch.id, hands.by)
