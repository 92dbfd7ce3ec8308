"""
The parts of a plan searched in rounds by two workers: the same plan on every run.

In a round every worker begins with the best plan there is and tries part after part,
each on top of what it found, until its work is done; what work is, is counted and not
timed. Then all wait for one another, and the best of what they found is the plan of the
next round; where two found something, the other's part is tried again on top of it. So
nothing hangs on how quick the machine is or on what else it does.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.neighbourhood import Part, Parts
from stillroom.planning.cpsat.one_part import Demand, search_part
from stillroom.planning.cpsat.variables import Day, Expr

ROUND_S = 0.5
"""Work of one worker in a round, about. [s]"""
LEAST_ROUND_S = 0.01
"""A round is no less, so that every search comes to its end. [s]"""
WORK_A_PART = 0.06
"""
Deterministic time for one part at most: three times as much as by the clock. In six
seconds of processor, medians of three seeds, the demo day came to 464 and d3 to 461
with a third of it, and to 421 and 450 with this.
"""
AT_REST = 60
"""So many parts on end of each worker searched to their end with nothing found: enough
is enough."""
A_VARIABLE_S, A_UNIT_S, A_PROPAGATION_S = 3.3e-5, 11.0, 1.0e-6
"""
What a part takes of a core: for each variable of its model, for each unit of the
solver's deterministic time and for each bound it moves. Fitted to 176 parts of eleven
days of 52 to 240 jars; the sum of one day was 0.7 to 1.0 of what its parts took on a
machine that was shared. [s]
"""


def work_of(day: Day, solver: cp_model.CpSolver) -> float:
    """Seconds of a core that a part takes, by what was counted. [s]"""
    response = solver.response_proto
    return (
        A_VARIABLE_S * len(day.model.proto.variables)
        + A_UNIT_S * response.deterministic_time
        + A_PROPAGATION_S * response.num_integer_propagations
    )


@dataclass(slots=True)
class Rounds:
    """Parts in rounds, until so much work is done."""

    day: Day
    goal: Expr
    seed: int
    unit: int | None
    """What a minute weighs in the goal; `None` where it counts no minutes."""
    floor: int | None
    on_better: Callable[[cp_model.CpSolver], None] | None
    stop: Callable[[], bool] = lambda: False
    """Asked before each part: true where nobody waits for the answer any more."""

    def run(
        self, known: cp_model.CpSolver, work_s: float, workers: int, until: float
    ) -> tuple[cp_model.CpSolver, bool]:
        """
        Search on from a plan.

        Parameters
        ----------
        known : CpSolver
            With its values.
        work_s : float
            Work of each worker. [s]
        workers : int
            How many, whatever the machine has: the plan hangs on it.
        until : float
            `time.monotonic` past which no round begins, whatever work is left. [s]

        Returns
        -------
        tuple of CpSolver and bool
            The best plan; whether the clock ended it before the work was done.
        """
        best, worth, in_vain = known, known.value(self.goal), 0
        crew = [_Worker(self, n) for n in range(workers)]
        with ThreadPoolExecutor(workers) as threads:
            enough = AT_REST * workers
            while work_s > 0 and in_vain < enough and not self._is_over(worth):
                if time.monotonic() > until:
                    return best, True
                share = min(ROUND_S, work_s)
                turns = [threads.submit(w.turn, best, worth, share) for w in crew]
                results = [turn.result() for turn in turns]
                work_s -= max(LEAST_ROUND_S, *(r.work_s for r in results))
                first = min(results, key=lambda r: r.worth)
                if first.worth < worth:
                    best, worth, in_vain = first.best, first.worth, 0
                    if self.on_better is not None:
                        self.on_better(best)
                in_vain += sum(r.in_vain for r in results)
                for worker, result in zip(crew, results, strict=True):
                    if result is not first:
                        worker.again = result.gained
        return best, False

    def _is_over(self, worth: int) -> bool:
        return self.stop() or (self.floor is not None and worth <= self.floor)


@dataclass(slots=True)
class _Result:
    """What a worker came to in a round."""

    best: cp_model.CpSolver
    worth: int
    work_s: float = 0.0
    in_vain: int = 0
    """Parts searched to their end in vain, since the last gain if there was one."""
    gained: list[tuple[str, Part]] = field(default_factory=list)
    """Parts by which something was gained."""


class _Worker:
    """One of the workers: its own draws, and what it heard of its parts."""

    def __init__(self, rounds: Rounds, number: int) -> None:
        self.rounds = rounds
        self.seed = 2 * rounds.seed + number
        self.parts = Parts(rounds.day, self.seed, about_loads=rounds.unit is None)
        self.demand = Demand(self.seed, rounds.unit)
        self.again: list[tuple[str, Part]] = []
        self.tried = 0

    def turn(self, best: cp_model.CpSolver, worth: int, work_s: float) -> _Result:
        """Try part after part for so much work, each on top of what was found."""
        came, rounds = _Result(best, worth), self.rounds
        again, self.again = self.again, []
        while came.work_s < work_s and not rounds._is_over(came.worth):
            if again:
                kind, part = again.pop(0)
            else:
                kind, part = self.parts.draw(came.best.value, self._finish(came.best))
            self.tried += 1
            status, solver = search_part(
                rounds.day,
                rounds.goal,
                came.best,
                part,
                came.worth - self.demand.next(),
                seed=self.seed * 1000 + self.tried,
                seconds=None,
                work=WORK_A_PART,
            )
            came.work_s += work_of(rounds.day, solver)
            found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
            searched = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
            self.parts.heard(kind, searched)
            self.demand.heard(found)
            came.in_vain += searched
            if found:
                came.best, came.worth = solver, solver.value(rounds.goal)
                came.in_vain = 0
                came.gained.append((kind, part))
        return came

    def _finish(self, solver: cp_model.CpSolver) -> int:
        assert self.rounds.day.finish is not None
        return solver.value(self.rounds.day.finish)
