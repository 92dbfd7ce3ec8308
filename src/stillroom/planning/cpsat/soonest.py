"""
The soonest end of a day, and no more: until an hour that is soon enough.

What it is asked for is how little must give. Goals after the finish, and wants, are
left to the search for the day's own plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.improve import Effort, improve
from stillroom.planning.cpsat.reading import hints_of, timetable_of
from stillroom.planning.cpsat.solve import (
    Search,
    day_model,
    hint_fully,
    is_small,
)
from stillroom.planning.cpsat.solving import new_solver, solved
from stillroom.planning.cpsat.variables import DayModel
from stillroom.planning.cpsat.whole import UNITS_A_SECOND
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

LEAST_S = 0.05
SHARE_OF_OWN = 0.7
"""Of the time, for the parts of a plan that the solver itself sets free."""


@dataclass(frozen=True, slots=True)
class Soonest:
    """The plan that ends soonest, as far as it was found."""

    plan: Timetable | None
    bound: int
    """No plan ends sooner; past the horizon where there is none. [min]"""
    work_s: float = 0.0
    """What the solver's work is reckoned as, where work is counted. [s]"""

    @property
    def proven(self) -> bool:
        """Whether no plan ends sooner than this one, or there is none."""
        return self.plan is None or self.plan.finish_min <= self.bound


def soonest(
    problem: Problem, start: Timetable | None, enough: int, search: Search
) -> Soonest:
    """
    Search for the plan that ends soonest; stop at one that ends soon enough.

    Parameters
    ----------
    problem : Problem
        The day, its end far away.
    start : Timetable or None
        A plan that holds.
    enough : int
        No plan need end sooner. [min]
    search : Search
        Time, workers, seed.
    """
    problem = replace(problem, wants=(), done_by_min=None, first=())
    least = lower_bound_min(problem)
    if least > problem.horizon_min:
        return Soonest(start, least)
    if start is not None and start.finish_min <= max(enough, least):
        return Soonest(start, least)
    if start is not None:  # a model of fewer minutes is searched more quickly
        ends = max([start.finish_min, *(rest.end_min for rest in start.breaks)])
        problem = replace(problem, horizon_min=min(problem.horizon_min, ends))
    if start is None or is_small(problem):
        return _as_a_whole(problem, start, enough, least, search)
    return _in_parts(problem, start, enough, least, search)


def _as_a_whole(
    problem: Problem, start: Timetable | None, enough: int, least: int, search: Search
) -> Soonest:
    day = day_model(problem, start, least)
    assert day.finish is not None
    if start is not None:
        hint_fully(day, hints_of(day, start), search)
    stop_at = max(enough, least)
    day.model.add(day.finish >= min(stop_at, problem.horizon_min))
    day.model.minimize(day.finish)
    solver = new_solver()
    parameters = solver.parameters
    parameters.num_workers = search.workers
    parameters.random_seed = search.seed
    parameters.symmetry_level = 0  # its search for symmetry fails on a few models
    parameters.max_time_in_seconds = max(LEAST_S, search.left())
    if search.deterministic:
        parameters.num_workers = 1
        parameters.linearization_level = 0
        parameters.use_new_integer_conflict_resolution = True
        parameters.max_deterministic_time = search.seconds * UNITS_A_SECOND
        parameters.max_time_in_seconds = search.wall_s()
    status = solved(solver, day.model)
    work_s = solver.response_proto.deterministic_time / UNITS_A_SECOND
    if status == cp_model.INFEASIBLE:
        return Soonest(None, problem.horizon_min + 1, work_s)
    bound = max(least, round(solver.best_objective_bound))
    if bound <= stop_at:  # the model itself says no less than that
        bound = least
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Soonest(start, bound, work_s)
    plan = timetable_of(day, solver.value)
    if start is not None and start.finish_min <= plan.finish_min:
        plan = start
    return Soonest(plan, bound, work_s)


def _in_parts(
    problem: Problem, start: Timetable, enough: int, least: int, search: Search
) -> Soonest:
    day = day_model(problem, start, least)
    assert day.finish is not None
    known = hint_fully(day, hints_of(day, start), search)
    if known is None:
        return Soonest(start, least)
    for batch in problem.batches:  # what rides in one load does so from now on
        rides = [s.aboard[batch.id] for s in day.all_slots() if batch.id in s.aboard]
        if rides and sum(known.value(literal) for literal in rides) == 1:
            day.model.add_exactly_one(rides)
    floor = max(enough, least)
    day.model.minimize(day.finish)
    best = known
    if not search.deterministic and search.workers > 1:
        best = _own_parts(day, known, floor, search)
    effort = Effort(search.until, search.workers, search.seed)
    if search.deterministic:
        work = search.seconds
        effort = Effort(search.latest, search.workers, search.seed, work, search.cut)
    minute = objective.most_loads_and_splits(day) + 1
    goal = minute * objective.end_and_lateness(day)
    if (tidy := objective.loads_and_splits(day)) is not None:
        goal += tidy  # it chooses between plans that end at once: the search moves on
    day.model.minimize(goal)
    most = minute * (floor + 1) - 1
    best = improve(day, goal, best, effort, unit=minute, floor=most)
    plan = timetable_of(day, best.value)
    return Soonest(min(plan, start, key=lambda t: t.finish_min), least)


def _own_parts(
    day: DayModel, known: cp_model.CpSolver, floor: int, search: Search
) -> cp_model.CpSolver:
    """The parts that the solver itself chooses, for a share of the time."""
    assert day.finish is not None
    for index, value in enumerate(known.response_proto.solution):
        day.model.add_hint(day.model.get_int_var_from_proto_index(index), value)
    solver = new_solver()
    parameters = solver.parameters
    parameters.num_workers = search.workers
    parameters.random_seed = search.seed
    parameters.use_lns_only = True
    parameters.linearization_level = 0
    parameters.symmetry_level = 0
    parameters.max_time_in_seconds = max(LEAST_S, SHARE_OF_OWN * search.left())
    status = solved(solver, day.model, _Until(floor))
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return known
    finish = day.finish
    return min(known, solver, key=lambda s: s.value(finish))


class _Until(cp_model.CpSolverSolutionCallback):
    """Ends a search as soon as it is good enough."""

    def __init__(self, floor: int) -> None:
        super().__init__()
        self.floor = floor

    def on_solution_callback(self) -> None:
        if round(self.objective_value) <= self.floor:
            self.stop_search()
