"""
The whole of a large day asked for a plan that ends by so much: found, or given up.

No part of the plan at hand is held, and it is no hint: what is asked for is a tenth
or a fiftieth better, and that alone narrows every minute of the day so far that one
thread finds such a plan, from nothing, in seconds. With what it learned on the way it
makes that plan better still until its turn is over. Asked for a minute less from the
start it takes many times as long. The best of a turn is what the next begins with; work
is counted and not timed, unless the clock is asked for.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.constraints import twins
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.solving import one_thread, solved
from stillroom.planning.cpsat.variables import DayModel, Expr
from stillroom.planning.cpsat.walking import A_UNIT_IN_ALL_S, work_of
from stillroom.planning.how_good.lateness import POINTS_A_LATE_MINUTE

MANY_VARIABLES = 900
"""Past so many variables a unit of deterministic time takes longer in proportion."""
A_TRY_S = 1.0
"""Work of one worker in its first turn. [s]"""
LONGER = 1.5
"""By so much a turn is longer than the one before, where that brought nothing."""
LEAST_TRY_S = 0.25
FIRST_STEP = 0.12
"""What is asked for first is so much better: a start by turns is that far off."""
NEXT_WORKER = 0.6
"""Of it each worker asks for so much less than the one before: one of them has luck."""
AFTER_FOUND, IN_VAIN = 0.3, 0.5
"""
So large is the next step beside one that was found, for that came further by itself,
and beside one that was not.
"""


def search_aimed(
    day: DayModel,
    goal: Expr,
    known: cp_model.CpSolver,
    floor: int,
    search: Search,
    seconds: float,
    on_better: Callable[[cp_model.CpSolver], None],
) -> cp_model.CpSolver:
    """
    Search all of a day for plans with a smaller goal, by large steps and then smaller.

    Parameters
    ----------
    day : DayModel
        The model; it is not changed.
    goal : Expr
        What is made small: minutes, and points of lateness.
    known : CpSolver
        With values of a plan.
    floor : int
        No plan has a smaller goal.
    search : Search
        Workers, seed, whether work is counted, and the clock.
    seconds : float
        Work of each worker, or by the clock how long. [s]
    on_better : callable
        Called with each better solution, from the thread that waits for the answer.

    Returns
    -------
    CpSolver
        With the values of the best plan; ``known`` where none is better.
    """
    worth = known.value(goal)
    half = (worth - floor) / (2 * max(1, worth))
    steps = [min(FIRST_STEP, half) * NEXT_WORKER**n for n in range(search.workers)]
    steps[0] = _first_step(day, known, worth, floor)
    until = None if search.deterministic else time.monotonic() + seconds
    crew = [
        _Worker(day, goal, floor, search, 1000 * search.seed + n, step)
        for n, step in enumerate(steps)
    ]
    best, left, turn_s = known, seconds, A_TRY_S
    with ThreadPoolExecutor(search.workers) as threads:
        while left >= LEAST_TRY_S and best.value(goal) > floor:
            for worker in crew:  # what one has ruled out none asks for again
                worker.floor = floor
            turn_s = min(turn_s, left)
            turns = [threads.submit(w.turn, best, turn_s, until) for w in crew]
            try:
                found = [turn.result() for turn in turns]
            except BaseException:  # broken off: nobody waits for the others
                for worker in crew:
                    worker.stop()
                raise
            floor = max(worker.floor for worker in crew)
            first = min(found, key=lambda solver: solver.value(goal))
            if first.value(goal) < best.value(goal):
                best = first
                on_better(best)
            else:
                turn_s *= LONGER
            left -= max(LEAST_TRY_S, *(worker.done_s for worker in crew))
            if until is not None:
                left = until - time.monotonic()
            elif time.monotonic() > search.latest:
                search.cut.happened = True
                break
    return best


def _first_step(
    day: DayModel, known: cp_model.CpSolver, worth: int, floor: int
) -> float:
    """
    By what share of a plan's worth the first question asks for less.

    A plan that is late on a want is asked to be late on none: a tenth of so many points
    leaves every minute of the day as free as it was.
    """
    late = sum(weight * known.value(minutes) for weight, minutes in day.late)
    points = POINTS_A_LATE_MINUTE * late
    half = (worth - floor) / 2
    return max(min(FIRST_STEP * worth, half), min(points, 2 * half)) / max(1, worth)


@dataclass(slots=True)
class _Worker:
    """One worker: by how much better it asks, and what it has done in its turn."""

    day: DayModel
    goal: Expr
    floor: int
    search: Search
    seed: int
    step: float
    tried: int = 0
    done_s: float = 0.0
    over: bool = False
    solver: cp_model.CpSolver | None = None
    """The one that is at it."""

    def stop(self) -> None:
        """End its turn."""
        self.over = True
        if self.solver is not None:
            self.solver.stop_search()

    def turn(
        self, best: cp_model.CpSolver, work_s: float, until: float | None
    ) -> cp_model.CpSolver:
        """Ask for better and better plans until so much work is done."""
        self.done_s = 0.0
        while work_s - self.done_s >= LEAST_TRY_S and not self.over:
            worth = best.value(self.goal)
            if worth <= self.floor:
                break
            aim = max(self.floor, worth - max(1, round(self.step * worth)))
            left_s = work_s - self.done_s
            status, solver, took_s = self._ask(best, aim, left_s, until)
            self.done_s += took_s
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                best = solver
                self.step *= AFTER_FOUND
            else:
                self.step *= IN_VAIN
            if status == cp_model.OPTIMAL:
                self.floor = best.value(self.goal)
            elif status == cp_model.INFEASIBLE:
                self.floor = aim + 1
        return best

    def _ask(
        self, best: cp_model.CpSolver, aim: int, work_s: float, until: float | None
    ) -> tuple[int, cp_model.CpSolver, float]:
        self.tried += 1
        model = self.day.model.clone()
        model.clear_hints()  # type: ignore[no-untyped-call]
        model.minimize(self.goal)
        model.add(self.goal <= aim)
        for _, late in self.day.late:
            model.add(late <= best.value(late))
        keep_twins_in_order(model, self.day)
        heavy = max(1.0, len(model.proto.variables) / MANY_VARIABLES)
        solver = self.solver = whole_day_solver(self.seed + 10 * self.tried)
        began = time.monotonic()
        if until is None:
            solver.parameters.max_deterministic_time = work_s / (
                heavy * A_UNIT_IN_ALL_S
            )
            solver.parameters.max_time_in_seconds = self.search.wall_s()
        else:
            left_s = min(work_s, until - began)
            solver.parameters.max_time_in_seconds = max(LEAST_TRY_S / 5, left_s)
        status = int(solved(solver, model))
        took_s = heavy * work_of(self.day, solver)
        if until is not None:
            took_s = time.monotonic() - began
        return status, solver, took_s


def whole_day_solver(seed: int) -> cp_model.CpSolver:
    """Return a solver for all of a large day: one thread, conflicts by the thousand."""
    solver = one_thread(seed)
    parameters = solver.parameters
    parameters.cp_model_probing_level = 0
    parameters.max_presolve_iterations = 1
    parameters.use_overload_checker_in_cumulative = True
    parameters.use_disjunctive_constraint_in_cumulative = False
    parameters.new_linear_propagation = False
    parameters.use_sat_inprocessing = False
    parameters.exploit_best_solution = True  # what it has found it stays near: 0113
    return solver


def keep_twins_in_order(model: cp_model.CpModel, day: DayModel) -> None:
    """
    Of batches that differ in nothing but their name the first does all of it first.

    What of theirs is not bound to a pot may trade places until it is so: two waits of
    the same limits keep them when the two that begin and the two that end are paired in
    the order of the clock. What is in a pot may, where they have one size alone.
    """
    for group in twins(day.problem.batches):
        for first, second in pairwise(group):
            one_size = len(day.pot_size.get(first.id, {})) <= 1
            for n, chain in enumerate(day.networks[first.id].chains):
                in_pot = any(first.steps[i].in_pot for i, _ in chain.members)
                if one_size or not in_pot:
                    early, late = day.starts[first.id][n], day.starts[second.id][n]
                    model.add(early <= late)
