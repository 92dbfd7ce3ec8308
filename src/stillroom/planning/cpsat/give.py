"""
The least that must give, shared among the hours of a day at once.

The day may start earlier and end later, whoever leaves early may stay, and whoever
comes late may come sooner: each a variable. Their sum is made small, with what is
promised for an hour and comes after it. Only a small day is searched like this, to its
proof.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.clash import loosened, patient_solver
from stillroom.planning.cpsat.objective import lateness
from stillroom.planning.cpsat.people import Guards
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.solve import Search
from stillroom.planning.cpsat.solving import solved
from stillroom.planning.cpsat.variables import DayModel, Expr
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import (
    LONGER_DAY_MIN,
    Change,
    Changes,
    Kind,
    most_earlier,
    starting_earlier,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What gives, and a plan of the day that comes of it."""

    changes: Changes
    plan: Timetable
    least: bool
    """Nothing less does: proven."""


def fewest_minutes(
    problem: Problem,
    at_most: int,
    search: Search,
    may_give: Collection[tuple[Kind, str]] | None = None,
) -> Given | None:
    """
    Share the fewest minutes among the hours of a day.

    A minute by which a promise is broken counts as many as the want weighs.

    Parameters
    ----------
    problem : Problem
        A day that does not fit.
    at_most : int
        More minutes are of no use. [min]
    search : Search
        Time, workers, seed.
    may_give : collection of (Kind, str), optional
        The hours that may give, and whose; all of them where nothing is said.
    """

    def may(kind: Kind, who: str = "") -> bool:
        return may_give is None or (kind, who) in may_give

    before = max(0, min(at_most, most_earlier(problem)))
    if not may(Kind.STARTS):
        before = 0
    shifted = starting_earlier(problem, before)
    from_start = {p.id for p in problem.people if p.arrives_min <= 0}
    people = tuple(
        replace(p, arrives_min=before) if p.id in from_start else p
        for p in shifted.people
    )
    shifted = replace(shifted, people=people, done_by_min=None, first=())
    guards = Guards(cp_model.CpModel(), later=True, sooner=True)
    day, guards = loosened(shifted, guards)
    model = day.model
    assert day.finish is not None
    assert guards.more_places is not None
    model.add(guards.more_places == 0)
    earlier = model.new_int_var(0, before, "the day starts earlier")
    _nothing_before(day, before, earlier)
    price: list[Expr] = [earlier, *guards.stays_on.values()]
    for name, sooner in guards.comes_sooner.items():
        if name in from_start:
            model.add(sooner == earlier)
            continue
        comes = next(p.arrives_min for p in problem.people if p.id == name)
        model.add(sooner <= comes + earlier)
        if not may(Kind.COMES, name):
            model.add(sooner == 0)
        price.append(sooner)
    for name, longer in guards.stays_on.items():
        if not may(Kind.STAYS, name):
            model.add(longer == 0)
    most_over = LONGER_DAY_MIN if may(Kind.ENDS) else 0
    over = model.new_int_var(0, most_over, "the day ends later")
    model.add(over >= day.finish - shifted.horizon_min)
    price.append(over)
    if (late := lateness(day)) is not None:
        price.append(late)
    total = cp_model.LinearExpr.sum(price)
    model.add(total <= at_most)
    model.minimize(total)
    solver = patient_solver(search, search.seconds)
    status = solved(solver, model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    minutes = solver.value(earlier)
    found = [
        Change(kind=Kind.STARTS, amount=minutes),
        Change(kind=Kind.ENDS, amount=solver.value(over)),
    ]
    for name, sooner in guards.comes_sooner.items():
        if name not in from_start:
            amount = solver.value(sooner)
            found.append(Change(kind=Kind.COMES, subject=name, amount=amount))
    for name, longer in guards.stays_on.items():
        amount = solver.value(longer)
        found.append(Change(kind=Kind.STAYS, subject=name, amount=amount))
    return Given(
        changes=tuple(c for c in found if c.amount),
        plan=timetable_of(day, solver.value).moved(minutes - before),
        least=status == cp_model.OPTIMAL,
    )


def _nothing_before(day: DayModel, before: int, earlier: cp_model.IntVar) -> None:
    """No step and no fire before the day starts, also where they need nobody."""
    for line in day.starts.values():
        for start in line:
            day.model.add(start >= before - earlier)
    for slot in day.all_slots():
        day.model.add(slot.heat >= before - earlier)
