"""
The large search made of small ones: a part of the best plan set free, over and over.

Every worker takes the best plan there is, frees a part of it, asks the solver for a
plan that is better by some minutes, and hands back what it finds. On a day of a dozen
batches this gets further in some seconds than one search over everything. By the clock
workers never wait for one another; by counted work they go in `rounds`.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.neighbourhood import Part, Parts
from stillroom.planning.cpsat.one_part import Demand, search_part
from stillroom.planning.cpsat.rounds import AT_REST, Rounds
from stillroom.planning.cpsat.search import Cut
from stillroom.planning.cpsat.variables import Day, Expr

LONGEST_PART_S = 1.0

Told = Callable[[cp_model.CpSolver], None]


@dataclass(frozen=True, slots=True)
class Effort:
    """How long, and with how many hands, parts are searched."""

    until: float
    """`time.monotonic` at which all must be over. [s]"""
    workers: int
    seed: int
    work_s: float | None = None
    """So much work of each worker, whatever the clock says: the same plan each time."""
    cut: Cut = field(default_factory=Cut)
    """Noted where the clock ended such work all the same."""

    def is_over(self) -> bool:
        """Whether no further part is to be tried."""
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
    if effort.work_s is not None:
        rounds = Rounds(day, goal, effort.seed, unit, floor, on_better)
        best, cut = rounds.run(known, effort.work_s, effort.workers, effort.until)
        effort.cut.happened |= cut
        return best
    pool = _Pool(day, goal, known, effort, unit, floor, on_better)
    threads = [threading.Thread(target=pool.work) for _ in range(effort.workers - 1)]
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
        self.floor, self.on_better = floor, on_better
        self.best, self.worth = known, known.value(goal)
        self.parts = Parts(day, effort.seed, about_loads=unit is None)
        self.demand = Demand(effort.seed, unit)
        self.lock = threading.Lock()
        self.tried = self.in_vain = 0
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
            if self.failed is not None or self.effort.is_over():
                return False
            if self.floor is not None and self.worth <= self.floor:
                return False
            if self.in_vain >= AT_REST:
                return False
            self.tried += 1
            turn, best, worth = self.tried, self.best, self.worth
            kind, part = self.parts.draw(best.value, self._finish(best))
            step = self.demand.next()
        status, solver = self._search(best, part, worth - step, turn)
        searched = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        with self.lock:
            self.parts.heard(kind, searched)
            self.in_vain += searched
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                self.demand.heard(False)
                return True
            self.demand.heard(True)
            found = solver.value(self.goal)
            if found < self.worth:
                self.best, self.worth, self.in_vain = solver, found, 0
                if self.on_better is not None:
                    self.on_better(solver)
        return True

    def _finish(self, solver: cp_model.CpSolver) -> int:
        assert self.day.finish is not None
        return solver.value(self.day.finish)

    def _search(
        self, best: cp_model.CpSolver, part: Part, at_most: int, turn: int
    ) -> tuple[int, cp_model.CpSolver]:
        left = self.effort.until - time.monotonic()
        seconds = max(0.02, min(LONGEST_PART_S, left))
        return search_part(
            self.day,
            self.goal,
            best,
            part,
            at_most,
            seed=self.effort.seed * 1000 + turn,
            seconds=seconds,
        )
