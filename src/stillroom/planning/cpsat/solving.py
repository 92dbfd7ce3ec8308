"""
How the solver is called, so that Ctrl-C ends a search and nothing else.

As it comes, each of its searches takes the signal for itself: two of them side by side
end the whole process in the midst of its memory, and one alone stops searching and goes
on as if nobody had asked. Here none does, and what waits for it can be broken off.
"""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor

from ortools.sat.python import cp_model


def new_solver() -> cp_model.CpSolver:
    """Return a solver that leaves Ctrl-C to the program."""
    solver = cp_model.CpSolver()
    solver.parameters.catch_sigint_signal = False
    return solver


def one_thread(seed: int) -> cp_model.CpSolver:
    """
    Return a solver that searches in one thread: for work that is counted.

    What it learns of a conflict speaks of minutes, and not only of the yes and no that
    minutes were turned into (docs/decisions/0107).
    """
    solver = new_solver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = seed
    parameters.linearization_level = 0
    parameters.symmetry_level = 0  # its search for symmetry fails on a few models
    parameters.use_new_integer_conflict_resolution = True
    return solver


def solved(
    solver: cp_model.CpSolver,
    model: cp_model.CpModel,
    callback: cp_model.CpSolverSolutionCallback | None = None,
) -> cp_model.CpSolverStatus:
    """
    Solve a model; where the program is broken off meanwhile the search is stopped.

    In the thread that hears of signals the solver runs in one beside it, for nothing is
    heard there while the solver has it.
    """
    if threading.current_thread() is not threading.main_thread():
        return solver.solve(model, callback)
    with ThreadPoolExecutor(1) as beside:
        answer = beside.submit(solver.solve, model, callback)
        try:
            return answer.result()
        except BaseException:
            solver.stop_search()
            raise
