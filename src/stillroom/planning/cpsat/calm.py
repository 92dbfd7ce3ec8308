"""Free time in one piece, for the solver: whoever helps is done as soon as can be."""

from __future__ import annotations

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.variables import DayModel, Expr
from stillroom.planning.how_good.goals import helpers


def helpers_end(day: DayModel) -> Expr | None:
    """
    Sum of the minutes at which each helper has nothing more to do.

    Adds a variable for each of them. `None` where one person works alone: when she is
    done is the end of the day.
    """
    model, people = day.model, day.problem.people
    if len(people) < 2:
        return None
    ends = []
    for person in helpers(day.problem):
        end = model.new_int_var(0, day.horizon, f"{person.id} is done")
        for piece in day.pieces:
            if (mine := piece.hands.by.get(person.id)) is not None:
                model.add(end >= piece.end).only_enforce_if(mine)
        for slot in day.all_slots():
            lowers = slot.lowered_by.get(person.id)
            if lowers is not None:
                done = slot.lower + slot.canner.load_min
                model.add(end >= done).only_enforce_if(lowers)
            lifts = slot.lifted_by.get(person.id)
            if lifts is not None:
                model.add(end >= slot.out).only_enforce_if(lifts)
        ends.append(end)
    return cp_model.LinearExpr.sum(ends)
