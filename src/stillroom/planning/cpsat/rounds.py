"""
The parts of a plan searched in rounds by two workers: the same plan on every run.

In a round every worker begins where it stands and tries part after part, each on top
of what it found, until its work is done; what work is, is counted and not timed, unless
the clock is asked for. Then all wait for one another, and the best of what they found
is the plan of the next round; where two found something, the other's part is tried
again on top of it. So nothing hangs on how quick the machine is or what else it does.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.variables import DayModel, Expr
from stillroom.planning.cpsat.walking import Came, Walker

ROUND_S = 0.5
"""Work of one worker in a round, about. [s]"""
LEAST_ROUND_S = 0.01
"""A round is no less, so that every search comes to its end. [s]"""
AT_REST = 60
"""So many parts on end of each worker searched to their end with nothing found, and as
many as were tried before that: enough is enough."""


@dataclass(slots=True)
class Rounds:
    """Parts in rounds, until so much work is done."""

    day: DayModel
    goal: Expr
    seed: int
    unit: int | None
    """What a minute weighs in the goal; `None` where it counts no minutes."""
    floor: int | None
    on_better: Callable[[cp_model.CpSolver], None] | None
    stop: Callable[[], bool] = lambda: False
    """Asked before each part: true where nobody waits for the answer any more."""
    at_rest: int = AT_REST
    """So many parts on end of each worker in vain are enough."""
    left_s: float = 0.0
    """What was left when nothing more was gained. [s]"""

    def run(
        self, known: cp_model.CpSolver, work_s: float | None, workers: int, until: float
    ) -> tuple[cp_model.CpSolver, bool]:
        """
        Search on from a plan.

        Parameters
        ----------
        known : CpSolver
            With its values.
        work_s : float or None
            Work of each worker; `None` where it is the clock that counts. [s]
        workers : int
            How many, whatever the machine has: the plan hangs on it.
        until : float
            `time.monotonic` past which no round begins, whatever work is left. [s]

        Returns
        -------
        tuple of CpSolver and bool
            The best plan; whether the clock ended it before the work was done.
        """
        best, worth, in_vain, tried, needed = known, known.value(self.goal), 0, 0, 0
        clock = until if work_s is None else None
        crew = [
            Walker(self.day, self.goal, 2 * self.seed + n, self.unit, clock)
            for n in range(workers)
        ]
        left = until - time.monotonic() if work_s is None else work_s
        with ThreadPoolExecutor(workers) as threads:
            while left > 0 and not self._is_over(worth):
                if in_vain >= max(self.at_rest * workers, needed):
                    break
                if time.monotonic() > until:
                    return best, work_s is not None
                share = min(ROUND_S, left)
                turns = [
                    threads.submit(w.turn, best, worth, share, self._is_over, left)
                    for w in crew
                ]
                results: list[Came] = [turn.result() for turn in turns]
                if not any(r.tried for r in results):
                    break
                left -= max(LEAST_ROUND_S, *(r.work_s for r in results))
                if work_s is None:  # waiting for one another counts, too
                    left = until - time.monotonic()
                tried += sum(r.tried for r in results)
                first = min(results, key=lambda r: r.worth)
                if first.worth < worth:
                    best, worth, in_vain, needed = first.best, first.worth, 0, tried
                    if self.on_better is not None:
                        self.on_better(best)
                in_vain += sum(r.in_vain for r in results)
                for walker, result in zip(crew, results, strict=True):
                    if result is not first:
                        walker.again = result.gained
        self.left_s = max(0.0, left)
        return best, False

    def _is_over(self, worth: int) -> bool:
        return self.stop() or (self.floor is not None and worth <= self.floor)
