"""
A small day searched as one whole by counted work: the same plan on every run.

One thread searches everything, for the proof; where there is a plan to begin with,
another frees parts of it meanwhile. What is proven stands, whatever the other found;
else the better of the two does, and both have done all of their work by then.
"""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.rounds import Rounds
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.solving import one_thread, solved
from stillroom.planning.cpsat.variables import DayModel, Expr

UNITS_A_SECOND = 0.27
"""Deterministic time that a whole search takes of a second of a core, about."""
LEAST_UNITS = 0.01
MOST = 10**9


@dataclass(frozen=True, slots=True)
class Answered:
    """What a search came to."""

    solver: cp_model.CpSolver
    """With the values of the best plan, where there is one."""
    status: int
    bound: int
    """No plan has a smaller goal."""


def search_whole(
    day: DayModel,
    goal: Expr,
    known: cp_model.CpSolver | None,
    search: Search,
    seconds: float,
    *,
    callback: cp_model.CpSolverSolutionCallback | None = None,
    unit: int | None = 1,
) -> Answered:
    """
    Search a model for the smallest goal, for so much work.

    Parameters
    ----------
    day : DayModel
        The model; its objective is ``goal``.
    goal : Expr
        What is made small.
    known : CpSolver or None
        With values of a plan.
    search : Search
        Seed, and the clock's last resort.
    seconds : float
        Work of either thread. [s]
    callback : optional
        Told of what the whole search finds.
    unit : int, optional
        What a minute weighs in the goal; `None` where it counts no minutes.
    """
    if known is None:
        return _all_of_it(day, search, seconds, callback)
    done = threading.Event()
    rounds = Rounds(day, goal, search.seed, unit, None, None, stop=done.is_set)
    with ThreadPoolExecutor(1) as beside:
        parts = beside.submit(rounds.run, known, seconds, 1, search.latest)
        whole = _all_of_it(day, search, seconds, callback)
        proven = whole.status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        if proven:
            done.set()
        best, cut = parts.result()
    search.cut.happened |= cut and not proven
    if proven:
        return whole
    found = whole.status == cp_model.FEASIBLE
    if found and whole.solver.value(goal) <= best.value(goal):
        return whole
    # the bound of a part is none of the whole
    return Answered(best, int(cp_model.FEASIBLE), whole.bound)


def _all_of_it(
    day: DayModel,
    search: Search,
    seconds: float,
    callback: cp_model.CpSolverSolutionCallback | None,
) -> Answered:
    solver = one_thread(search.seed)
    parameters = solver.parameters
    parameters.max_deterministic_time = max(LEAST_UNITS, UNITS_A_SECOND * seconds)
    parameters.max_time_in_seconds = search.wall_s()
    return answered(solver, int(solved(solver, day.model, callback)))


def answered(solver: cp_model.CpSolver, status: int) -> Answered:
    """What a solver came to, its bound as a whole figure."""
    bound = max(-MOST, min(MOST, solver.best_objective_bound))
    return Answered(solver, status, round(bound))
