"""
How little would have to give: minutes and places as variables, summed and made small.

Either people stay longer, the day ends later and there is more room on the counter; or
those who come later than the day begins come sooner.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from stillroom.planning.by_hand import by_hand
from stillroom.planning.cpsat.clash import LONGER_DAY_MIN, loosened, patient_solver
from stillroom.planning.cpsat.people import Guards
from stillroom.planning.cpsat.reading import hints_of, timetable_of
from stillroom.planning.cpsat.solve import Search, hint_fully
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What gives, and the day that comes of it."""

    says: str
    problem: Problem
    """The day with what was given."""
    timetable: Timetable
    price: int
    """Minutes and places, summed."""
    least: bool
    """Less does not do: proven."""


def later(problem: Problem, search: Search) -> Given | None:
    """People stay longer, the day ends later, or more jars may stand and cool."""
    start = _plan_of_a_longer_day(problem)
    day, guards = loosened(problem, Guards(cp_model.CpModel(), later=True), start)
    assert day.finish is not None
    assert guards.more_places is not None
    over = day.model.new_int_var(0, LONGER_DAY_MIN, "after the end of the day")
    day.model.add(over >= day.finish - problem.horizon_min)
    price = [over, guards.more_places, *guards.stays_on.values()]
    if start is not None:
        hint_fully(day, hints_of(day, start), search)
    day.model.minimize(cp_model.LinearExpr.sum(price))
    solver = patient_solver(search, search.left())
    status = solver.solve(day.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None if start is None else _as_by_hand(problem, start)
    value = solver.value
    return _later(
        problem,
        {person: value(minutes) for person, minutes in guards.stays_on.items()},
        value(over),
        value(guards.more_places),
        timetable_of(day, value),
        least=status == cp_model.OPTIMAL,
    )


def _later(
    problem: Problem,
    stays: Mapping[str, int],
    longer_day: int,
    places: int,
    timetable: Timetable,
    *,
    least: bool,
) -> Given | None:
    """What gives, in words, and the day with it."""
    said, people = [], []
    clock = problem.starts_at
    end = problem.horizon_min + longer_day
    for person in problem.people:
        minutes = stays.get(person.id, 0)
        leaves = person.leaves_min + minutes
        if person.leaves_min >= problem.horizon_min:  # who stays to the end
            leaves = max(leaves, end)
        people.append(replace(person, leaves_min=leaves))
        if minutes:
            until = clock_time(clock, person.leaves_min + minutes)
            said.append(
                f"{person.id} stays {said_minutes(minutes)} longer, until {until}"
            )
    if longer_day:
        said.append(
            f"the day ends {said_minutes(longer_day)} later, at "
            f"{clock_time(clock, end)}"
        )
    if places:
        said.append(f"there is room for {places} more jars to cool")
    if not said:
        return None
    counter = replace(problem.counter, places=problem.counter.places + places)
    return Given(
        says=" and ".join(said),
        problem=replace(
            problem, horizon_min=end, people=tuple(people), counter=counter
        ),
        timetable=timetable,
        price=sum(stays.values()) + longer_day + places,
        least=least,
    )


def _as_by_hand(problem: Problem, plan: Timetable) -> Given | None:
    """What a plan by hand asks for, where no search came to anything in its time."""
    ends: dict[str, int] = {}
    for s in plan.steps:
        if s.person is not None:
            ends[s.person] = max(ends.get(s.person, 0), s.end_min)
    for load in plan.loads:
        ends[load.lowered_by] = max(ends.get(load.lowered_by, 0), load.lowered_min)
        ends[load.lifted_by] = max(ends.get(load.lifted_by, 0), load.out_min)
    for rest in plan.breaks:
        ends[rest.person] = max(ends.get(rest.person, 0), rest.end_min)
    horizon = problem.horizon_min
    stays = {
        p.id: max(0, ends.get(p.id, 0) - p.leaves_min)
        for p in problem.people
        if p.leaves_min < horizon
    }
    over = max([plan.finish_min, *ends.values()], default=0) - horizon
    jars = sum(load.count for load in plan.loads)
    return _later(
        problem,
        stays,
        max(0, over),
        max(0, jars - problem.counter.places),
        plan,
        least=False,
    )


def sooner(problem: Problem, search: Search) -> Given | None:
    """Whoever comes later than the day begins comes sooner."""
    if not any(p.arrives_min > 0 for p in problem.people):
        return None
    day, guards = loosened(problem, Guards(cp_model.CpModel(), sooner=True))
    assert day.finish is not None
    day.model.add(day.finish <= problem.horizon_min)
    price = list(guards.comes_sooner.values())
    day.model.minimize(cp_model.LinearExpr.sum(price))
    solver = patient_solver(search, search.left())
    status = solver.solve(day.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    said, people = [], []
    for person in problem.people:
        earlier = guards.comes_sooner.get(person.id)
        minutes = solver.value(earlier) if earlier is not None else 0
        comes = person.arrives_min - minutes
        people.append(replace(person, arrives_min=comes))
        if minutes:
            at = clock_time(problem.starts_at, comes)
            said.append(f"{person.id} comes {said_minutes(minutes)} sooner, at {at}")
    if not said:
        return None
    return Given(
        says=" and ".join(said),
        problem=replace(problem, people=tuple(people)),
        timetable=timetable_of(day, solver.value),
        price=sum(solver.value(p) for p in price),
        least=status == cp_model.OPTIMAL,
    )


def _plan_of_a_longer_day(problem: Problem) -> Timetable | None:
    """By hand, were the day and everyone's time longer and the counter endless."""
    longer = problem.horizon_min + LONGER_DAY_MIN
    people = tuple(replace(p, leaves_min=longer) for p in problem.people)
    jars = sum(b.jars for b in problem.batches)
    counter = replace(problem.counter, places=max(jars, problem.counter.places))
    eased = replace(problem, horizon_min=longer, people=people, counter=counter)
    return by_hand(eased, seconds=0.1, shuffles=0)
