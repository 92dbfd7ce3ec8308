"""
The search: a full hint from a plan that is there already, then stage after stage.

Wall-clock limits are never deterministic. With ``deterministic`` the workers take turns
and a limit on work is set beside the clock's: slower, and the same plan each time.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.bounds import lower_bound_min
from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.constraints import add_rules
from stillroom.planning.cpsat.reading import hints_of, timetable_of
from stillroom.planning.cpsat.variables import Day, make_variables, slots_needed
from stillroom.planning.lateness import score, weighted_lateness
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

SHARE_OF_FIRST_STAGE = 0.75
TIDYING_S = 2.0
"""More than this is not kept back for the later stages. [s]"""
SHARE_OF_SECOND_STAGE = 0.5
"""Of what is left after the first."""
LEAST_STAGE_S = 0.05
WORK_A_SECOND = 0.2
"""Deterministic time allowed for each second asked for; one unit is some seconds."""

Better = Callable[[Timetable, int], None]


@dataclass(slots=True)
class Search:
    """How to search."""

    until: float
    """`time.monotonic` at which everything must be over. [s]"""
    workers: int
    seed: int
    deterministic: bool = False

    def left(self) -> float:
        """Seconds left."""
        return self.until - time.monotonic()


@dataclass(slots=True)
class Found:
    """What a search came to."""

    timetable: Timetable | None = None
    impossible: bool = False
    """No timetable exists: proven."""
    bound: int = 0
    """No plan has a smaller finish plus lateness."""
    trace: list[tuple[float, int, int]] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def find_timetable(
    problem: Problem,
    start: Timetable | None,
    search: Search,
    *,
    on_better: Better | None = None,
    began: float | None = None,
) -> Found:
    """
    Search for the best timetable of a day.

    Parameters
    ----------
    problem : Problem
        A day whose links and names hold together.
    start : Timetable or None
        A plan that holds, to begin with.
    search : Search
        Time, workers, seed.
    on_better : callable, optional
        Called with each better timetable and the bound.
    began : float, optional
        `time.monotonic` that the trace counts from.

    Returns
    -------
    Found
        The best plan, and what is proven.
    """
    clock = time.monotonic() if began is None else began
    least = lower_bound_min(problem)
    found = Found(timetable=start, bound=least)
    day = _model(problem, start, least)
    complete = start is not None and hint_fully(day, hints_of(day, start), search)
    if start is not None and not complete:
        found.remarks.append("the by-hand plan could not be handed to the solver")
    goal = objective.end_and_lateness(day)
    day.model.minimize(goal)
    watcher = _Watcher(day, found, on_better, clock)
    left = search.left()
    allowed = max(left * SHARE_OF_FIRST_STAGE, left - TIDYING_S)
    solver, status = _run(day, search, allowed, watcher)
    if status == cp_model.INFEASIBLE:
        found.impossible = start is None
        found.remarks += (
            [] if start is None else ["the solver refused the by-hand plan"]
        )
        return found
    best_bound = round(solver.best_objective_bound)
    found.bound = max(found.bound, min(best_bound, 10**9))
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return found
    found.timetable = timetable_of(day, solver.value)
    best = score(problem, found.timetable)
    if status == cp_model.OPTIMAL:
        found.bound = best
    found.trace.append((time.monotonic() - clock, best, found.bound))
    _tidy(day, found, solver, search)
    return found


def _model(problem: Problem, start: Timetable | None, least: int) -> Day:
    used: dict[str, int] = {}
    for load in start.loads if start else ():
        used[load.canner] = used.get(load.canner, 0) + 1
    slots = slots_needed(problem, used)
    horizon = problem.horizon_min
    day = make_variables(problem, horizon=horizon, slots=slots, earliest_finish=least)
    add_rules(day)
    return day


def _run(
    day: Day,
    search: Search,
    seconds: float,
    callback: cp_model.CpSolverSolutionCallback | None = None,
) -> tuple[cp_model.CpSolver, int]:
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = search.workers
    parameters.random_seed = search.seed
    parameters.max_time_in_seconds = max(LEAST_STAGE_S, seconds)
    if search.deterministic:
        parameters.interleave_search = True
        parameters.max_deterministic_time = max(LEAST_STAGE_S, seconds) * WORK_A_SECOND
        parameters.max_time_in_seconds = 20 * max(LEAST_STAGE_S, seconds)
    if isinstance(callback, _Watcher):
        solver.best_bound_callback = callback.on_bound
    status = solver.solve(day.model, callback)
    if isinstance(callback, _Watcher) and callback.failed is not None:
        raise callback.failed
    return solver, int(status)


def hint_fully(
    day: Day, hints: list[tuple[cp_model.IntVar, int]], search: Search
) -> bool:
    """Fill in what follows from a hint, so that every variable has its value."""
    day.model.clear_hints()  # type: ignore[no-untyped-call]
    for var, value in hints:
        day.model.add_hint(var, value)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = search.seed
    solver.parameters.fix_variables_to_their_hinted_value = True
    solver.parameters.max_time_in_seconds = max(LEAST_STAGE_S, min(2.0, search.left()))
    status = solver.solve(day.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        day.model.clear_hints()  # type: ignore[no-untyped-call]
        return False
    _hint_solution(day, solver)
    return True


def _hint_solution(day: Day, solver: cp_model.CpSolver) -> None:
    day.model.clear_hints()  # type: ignore[no-untyped-call]
    for index, value in enumerate(solver.response_proto.solution):
        day.model.add_hint(day.model.get_int_var_from_proto_index(index), value)


def _tidy(day: Day, found: Found, solver: cp_model.CpSolver, search: Search) -> None:
    """The second and third stage: fewer loads, then fewer hurried moments at once."""
    assert found.timetable is not None
    problem = day.problem
    late = weighted_lateness(problem, found.timetable)
    objective.hold_end_and_lateness(day, found.timetable.finish_min, late)
    for stage, share in (
        (objective.loads_used, SHARE_OF_SECOND_STAGE),
        (objective.overlapping_moments, 1.0),
    ):
        if search.left() < 2 * LEAST_STAGE_S and not search.deterministic:
            return
        _hint_solution(day, solver)
        goal = stage(day)
        if goal is None:
            continue
        if stage is objective.overlapping_moments and not _hint_again(day, search):
            return
        day.model.minimize(goal)
        later, status = _run(day, search, search.left() * share)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return
        solver = later
        found.timetable = timetable_of(day, solver.value)
        day.model.add(goal <= round(solver.objective_value))


def _hint_again(day: Day, search: Search) -> bool:
    """Complete a hint after variables were added."""
    proto_hint = [
        (day.model.get_int_var_from_proto_index(i), v)
        for i, v in zip(
            day.model.proto.solution_hint.vars,
            day.model.proto.solution_hint.values,
            strict=True,
        )
    ]
    day.model.clear_objective()  # type: ignore[no-untyped-call]
    return hint_fully(day, proto_hint, search)


class _Watcher(cp_model.CpSolverSolutionCallback):
    """Keeps the trace, and tells of better plans as they come."""

    def __init__(
        self, day: Day, found: Found, on_better: Better | None, began: float
    ) -> None:
        super().__init__()
        self.day, self.found, self.on_better, self.began = day, found, on_better, began
        self.best: int | None = None
        self.failed: Exception | None = None

    def on_solution_callback(self) -> None:
        value, bound = round(self.objective_value), round(self.best_objective_bound)
        if self.best is not None and value >= self.best:
            return
        self.best = value
        self.found.trace.append((time.monotonic() - self.began, value, bound))
        if self.on_better is None:
            return
        try:
            self.on_better(timetable_of(self.day, self.value), bound)
        except Exception as failed:  # noqa: BLE001 - a solver's thread: raised by _run
            self.failed = failed
            self.stop_search()

    def on_bound(self, bound: float) -> None:
        if self.best is not None:
            seconds = time.monotonic() - self.began
            self.found.trace.append((seconds, self.best, round(bound)))
