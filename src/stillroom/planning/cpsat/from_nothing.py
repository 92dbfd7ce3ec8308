"""
Any plan at all of a large day for which no plan is at hand: asked of all its rules.

By hand batches are put one after another, and by turns load after load; a batch that
holds one pair of hands for hours, beside people who come and go, may fit in neither way
and still have room. One thread that learns from its conflicts, and is asked for no good
plan but for any, finds one from nothing in a second or two (docs/decisions/0112).
"""

from __future__ import annotations

import time
from concurrent.futures import ThreadPoolExecutor

from ortools.sat.python import cp_model

from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.aimed import (
    LEAST_TRY_S,
    MANY_VARIABLES,
    keep_twins_in_order,
    whole_day_solver,
)
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.solve import day_model
from stillroom.planning.cpsat.solving import solved
from stillroom.planning.cpsat.variables import DayModel
from stillroom.planning.cpsat.walking import A_UNIT_IN_ALL_S, work_of
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

FIRST_TRY_S, LONGER = 0.6, 2.0
"""
Work of each worker in its first try, and by so much each is longer than the one before:
luck with a seed is worth more than patience. [s]
"""


def any_plan(
    problem: Problem, least: int, search: Search
) -> tuple[Timetable | None, float]:
    """
    Look for a plan of a large day from nothing.

    Parameters
    ----------
    problem : Problem
        The day; its wants may be missed, its limits not.
    least : int
        A bound on its finish. [min]
    search : Search
        Workers, seed, and the time there is.

    Returns
    -------
    tuple of Timetable or None, and float
        The plan that ends soonest and is late least of those that were found, and the
        seconds it took: of counted work, or by the clock. [s]
    """
    day = day_model(problem, None, least)
    ends = objective.end_and_lateness(day)
    keep_twins_in_order(day.model, day)
    began, spent, turn_s, tried = time.monotonic(), 0.0, FIRST_TRY_S, 0
    with ThreadPoolExecutor(search.workers) as threads:
        while search.seconds - spent >= LEAST_TRY_S:
            turn_s = min(turn_s, search.seconds - spent)
            seeds = [1000 * search.seed + 10 * tried + n for n in range(search.workers)]
            solvers = [whole_day_solver(seed) for seed in seeds]
            asked = [threads.submit(_asked, day, s, turn_s, search) for s in solvers]
            try:
                came = [a.result() for a in asked]
            except BaseException:  # broken off: nobody waits for the others
                for solver in solvers:
                    solver.stop_search()
                raise
            spent += max(LEAST_TRY_S, *(work_s for _, work_s in came))
            if not search.deterministic:
                spent = time.monotonic() - began
            found = [
                solver
                for solver, (status, _) in zip(solvers, came, strict=True)
                if status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
            ]
            if found:
                best = min(found, key=lambda solver: solver.value(ends))
                return timetable_of(day, best.value), spent
            if any(status == cp_model.INFEASIBLE for status, _ in came):
                break  # with like batches in order, and two loads to spare: no proof
            if search.deterministic and time.monotonic() > search.latest:
                search.cut.happened = True
                break
            turn_s, tried = LONGER * turn_s, tried + 1
    return None, spent


def _asked(
    day: DayModel, solver: cp_model.CpSolver, work_s: float, search: Search
) -> tuple[int, float]:
    """One try of one worker: what the solver says, and the work it took."""
    heavy = max(1.0, len(day.model.proto.variables) / MANY_VARIABLES)
    if search.deterministic:
        counted = work_s / (heavy * A_UNIT_IN_ALL_S)
        solver.parameters.max_deterministic_time = counted
        solver.parameters.max_time_in_seconds = search.wall_s()
    else:
        solver.parameters.max_time_in_seconds = work_s
    status = int(solved(solver, day.model))
    return status, heavy * work_of(day, solver)
