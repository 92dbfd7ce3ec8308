"""
The large search made of small ones: a part of the best plan set free, over and over.

Every worker takes the best plan there is, frees a part of it, asks the solver for a
plan that is better by some minutes, and hands back what it finds. On a day of a dozen
batches this gets further in some seconds than one search over everything.
"""

from __future__ import annotations

import random
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.neighbourhood import Part, Parts, hold_the_rest
from stillroom.planning.cpsat.variables import Day, Expr

WORK_A_PART = 0.02
"""Deterministic time for one part: about a fifth of a second on an idle core."""
LONGEST_PART_S = 1.0
FIRST_GAIN_MIN, LEAST_GAIN_MIN, MOST_GAIN_MIN = 8.0, 1.0, 30.0
"""By about how many minutes the next plan must be better; drawn around it. [min]"""
MORE_GAIN, LESS_GAIN = 1.3, 0.9
"""It grows where that was found, and shrinks where it was not."""
FEW = (1, 1, 2, 3)
"""By how much it must be where loads, splits or moments are counted."""
SHARE_OF_TIDY_STEPS = 0.1
"""How often less than a minute is asked for where minutes are what counts."""
PARTS_A_SECOND = 6
"""Parts tried for each second asked for, where work is counted and not the clock."""
AT_REST = 60
"""So many parts on end searched to their end with nothing found: enough is enough."""

Told = Callable[[cp_model.CpSolver], None]


@dataclass(frozen=True, slots=True)
class Effort:
    """How long, and with how many hands, parts are searched."""

    until: float
    """`time.monotonic` at which all must be over. [s]"""
    workers: int
    seed: int
    parts: int | None = None
    """Try so many, whatever the clock says, in one thread: the same plan each time."""

    def is_over(self, tried: int) -> bool:
        """Whether no further part is to be tried."""
        if self.parts is not None:
            return tried >= self.parts
        return time.monotonic() >= self.until


def improve(
    day: Day,
    goal: Expr,
    known: cp_model.CpSolver,
    effort: Effort,
    *,
    unit: int | None = None,
    floor: int | None = None,
    on_better: Told | None = None,
) -> cp_model.CpSolver:
    """
    Make a goal smaller, part by part.

    Parameters
    ----------
    day : Day
        The model; its objective is ``goal``, and it is not changed.
    goal : Expr
        What is made small.
    known : CpSolver
        With values for every variable of the model.
    effort : Effort
        Time and workers.
    unit : int, optional
        What a minute weighs in the goal; `None` where it counts no minutes. Smaller
        gains than a minute are asked for now and then.
    floor : int, optional
        No plan has a smaller goal: stop there.
    on_better : callable, optional
        Called with each better solution, from any thread, never two at once.

    Returns
    -------
    CpSolver
        With the values of the best plan; ``known`` where none is better.
    """
    pool = _Pool(day, goal, known, effort, unit, floor, on_better)
    workers = 1 if effort.parts is not None else max(1, effort.workers)
    threads = [threading.Thread(target=pool.work) for _ in range(workers - 1)]
    for thread in threads:
        thread.start()
    pool.work()
    for thread in threads:
        thread.join()
    if pool.failed is not None:
        raise pool.failed
    return pool.best


class _Pool:
    """The best plan so far, shared by the workers."""

    def __init__(
        self,
        day: Day,
        goal: Expr,
        known: cp_model.CpSolver,
        effort: Effort,
        unit: int | None,
        floor: int | None,
        on_better: Told | None,
    ) -> None:
        self.day, self.goal, self.effort = day, goal, effort
        self.unit, self.floor, self.on_better = unit, floor, on_better
        self.best, self.worth = known, known.value(goal)
        self.parts = Parts(day, effort.seed, about_loads=unit is None)
        self.drawn = random.Random(effort.seed)
        self.lock = threading.Lock()
        self.tried = self.in_vain = 0
        self.gain = FIRST_GAIN_MIN
        self.failed: Exception | None = None

    def work(self) -> None:
        """Try part after part until time is over."""
        try:
            while self._another():
                pass
        except Exception as failed:  # noqa: BLE001 - raised again by `improve`
            self.failed = failed

    def _another(self) -> bool:
        with self.lock:
            if self.failed is not None or self.effort.is_over(self.tried):
                return False
            if self.floor is not None and self.worth <= self.floor:
                return False
            if self.in_vain >= AT_REST:
                return False
            self.tried += 1
            turn, best, worth = self.tried, self.best, self.worth
            kind, part = self.parts.draw(best.value, self._finish(best))
            step = self._step()
        status, solver = self._search(best, part, worth - step, turn)
        searched = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        with self.lock:
            self.parts.heard(kind, searched)
            self.in_vain += searched
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                self.gain = max(LEAST_GAIN_MIN, LESS_GAIN * self.gain)
                return True
            self.gain = min(MOST_GAIN_MIN, MORE_GAIN * self.gain)
            found = solver.value(self.goal)
            if found < self.worth:
                self.best, self.worth, self.in_vain = solver, found, 0
                if self.on_better is not None:
                    self.on_better(solver)
        return True

    def _step(self) -> int:
        """By how much the goal must get smaller: what is asked is soon ruled out."""
        few, share = self.drawn.choice(FEW), self.drawn.random()
        if self.unit is None or self.drawn.random() < SHARE_OF_TIDY_STEPS:
            return few
        return max(1, round(1.5 * share * self.gain)) * self.unit

    def _finish(self, solver: cp_model.CpSolver) -> int:
        assert self.day.finish is not None
        return solver.value(self.day.finish)

    def _search(
        self, best: cp_model.CpSolver, part: Part, at_most: int, turn: int
    ) -> tuple[int, cp_model.CpSolver]:
        model = self.day.model.clone()
        model.clear_hints()  # type: ignore[no-untyped-call]
        for index, value in enumerate(best.response_proto.solution):
            model.add_hint(model.get_int_var_from_proto_index(index), value)
        hold_the_rest(model, self.day, best.value, part)
        model.add(self.goal <= at_most)
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.num_workers = 1
        parameters.random_seed = self.effort.seed * 1000 + turn
        parameters.linearization_level = 0
        parameters.symmetry_level = 0
        parameters.cp_model_probing_level = 0
        # half as many conflicts a second with it, on parts of a day
        parameters.use_disjunctive_constraint_in_cumulative = False
        parameters.max_deterministic_time = WORK_A_PART
        left = self.effort.until - time.monotonic()
        if self.effort.parts is None:
            parameters.max_time_in_seconds = max(0.02, min(LONGEST_PART_S, left))
        return int(solver.solve(model)), solver
