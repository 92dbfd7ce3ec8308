"""
One worker of the search by parts: part after part, and now and then a step aside.

Parts are asked for a plan that is better by some minutes. Where for a while none of
them has one, plans that are as good or nearly so lead on: three parts in ten are then
asked for one that ends at most a few minutes after the best, found anew. From there the
search goes on, and after some forty parts in vain it goes back to the best.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.neighbourhood import Part, Parts
from stillroom.planning.cpsat.one_part import Demand, search_part
from stillroom.planning.cpsat.reach import ABOUT, SOONER, Reach
from stillroom.planning.cpsat.variables import DayModel, Expr

WORK_A_PART, WORK_ASIDE, LEAST_WORK = 0.04, 0.03, 0.004
"""
The most deterministic time for a part, and for a step aside; where less than the last
is left of the work, no further part is begun.
"""
LONGEST_PART_S = 1.0
"""By the clock. [s]"""
ASIDE_AFTER, SHARE_ASIDE = 15, 0.3
"""
After so many parts in vain, and how often from then on, a step aside is tried where
minutes are what counts. Tried from the first part on it makes the first seconds worse.
"""
ASIDE_MIN = 3
"""By how much it may end after the best plan. [min]"""
BACK_AFTER = 40
"""After so many parts without a better plan it is the best one again."""
MOST = 10**15
"""More than any goal."""
A_VARIABLE_S, A_UNIT_S, A_PROPAGATION_S = 4.5e-5, 5.9, 0.9e-7
"""
What a part takes of a core: for each variable of its model, for each unit of the
solver's deterministic time and for each bound it moves. Fitted to 372 parts of six days
of 40 to 160 jars; what the parts of one day took was 0.8 to 1.1 of the sum. [s]
"""
A_UNIT_IN_ALL_S = 6.4
"""A unit of it with the bounds that are moved meanwhile: five million of them on parts
of an eighty-jar day. [s]"""


def work_of(day: DayModel, solver: cp_model.CpSolver) -> float:
    """Seconds of a core that a part takes, by what was counted. [s]"""
    response = solver.response_proto
    return (
        A_VARIABLE_S * len(day.model.proto.variables)
        + A_UNIT_S * response.deterministic_time
        + A_PROPAGATION_S * response.num_integer_propagations
    )


@dataclass(slots=True)
class Came:
    """What a worker came to in a round."""

    best: cp_model.CpSolver
    worth: int
    work_s: float = 0.0
    tried: int = 0
    in_vain: int = 0
    """Parts searched to their end in vain, since the last gain if there was one."""
    gained: list[tuple[str, Part]] = field(default_factory=list)
    """Parts by which something was gained."""


class Walker:
    """
    One of the workers: its own draws, where it stands, and what it heard of its parts.

    Parameters
    ----------
    day : DayModel
        The model; its objective is ``goal``, and it is not changed.
    goal : Expr
        What is made small.
    seed : int
        Of its draws.
    unit : int or None
        What a minute weighs in the goal; `None` where it counts no minutes.
    until : float or None
        `time.monotonic` that it works to; `None` where work is counted. [s]
    """

    def __init__(
        self,
        day: DayModel,
        goal: Expr,
        seed: int,
        unit: int | None,
        until: float | None,
    ) -> None:
        self.day, self.goal, self.unit, self.until = day, goal, unit, until
        self.seed, self.drawn = seed, random.Random(seed)
        self.parts = Parts(day, seed, about_loads=unit is None)
        self.demand = Demand(seed, unit)
        self.again: list[tuple[str, Part]] = []
        self.tried = 0
        self.least, self.since_better = MOST, 0
        self.stands: tuple[cp_model.CpSolver, int] | None = None
        """Where it went aside, and what that is worth."""

    def turn(
        self,
        best: cp_model.CpSolver,
        worth: int,
        work_s: float,
        is_over: Callable[[int], bool],
        most_s: float = inf,
    ) -> Came:
        """
        Try part after part for so much work, each on top of what was found.

        The last may go beyond it, but not beyond the most.
        """
        came = Came(best, worth)
        again, self.again = self.again, []
        if worth < self.least:  # another worker's: all go on from there
            self.least, self.since_better, self.stands = worth, 0, None
        while came.work_s < work_s and not is_over(came.worth):
            if self.until is not None and time.monotonic() >= self.until:
                break
            aside = not again and self._goes_aside()
            work = self._work(aside, most_s - came.work_s)
            if work < LEAST_WORK:
                break
            stands, at = self.stands or (came.best, came.worth)
            if again:
                kind, part = again.pop(0)
            else:
                kind, part = self.parts.draw(stands.value, self._finish(stands))
            if aside:
                assert self.unit is not None
                at_most = came.worth + ASIDE_MIN * self.unit
            else:
                at_most = at - self.demand.next()
            status, solver = self._search(came, stands, part, at_most, aside, work)
            found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
            searched = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
            self.since_better += 1
            if not aside:
                self.parts.heard(kind, searched)
                self.demand.heard(found)
                came.in_vain += searched
            if found:
                self.stands = solver, solver.value(self.goal)
                if self.stands[1] < came.worth:
                    came.best, came.worth = self.stands
                    self.least = came.worth
                    came.in_vain, self.since_better = 0, 0
                    came.gained.append((kind, part))
            if self.since_better % BACK_AFTER == 0:
                self.stands = None
        return came

    def _goes_aside(self) -> bool:
        if self.unit is None or self.since_better < ASIDE_AFTER:
            return False
        return self.drawn.random() < SHARE_ASIDE

    def _search(
        self,
        came: Came,
        stands: cp_model.CpSolver,
        part: Part,
        at_most: int,
        aside: bool,
        work: float,
    ) -> tuple[int, cp_model.CpSolver]:
        self.tried += 1
        came.tried += 1
        began, seconds = time.monotonic(), None
        if self.until is not None:
            seconds = max(0.02, min(LONGEST_PART_S, self.until - began))
        status, solver = search_part(
            self.day,
            self.goal,
            stands,
            part,
            at_most,
            seed=self.seed * 1000 + self.tried,
            seconds=seconds,
            work=work,
            reach=self._reach(aside),
            anew=aside,
        )
        if self.until is None:
            came.work_s += work_of(self.day, solver)
        else:
            came.work_s += time.monotonic() - began
        return status, solver

    def _work(self, aside: bool, left_s: float) -> float:
        """Deterministic time for the next part; the first has some in any case."""
        work = WORK_ASIDE if aside else WORK_A_PART
        if self.until is not None:  # the clock ends it
            return work
        left_s -= A_VARIABLE_S * len(self.day.model.proto.variables)
        work = min(work, left_s / A_UNIT_IN_ALL_S)
        return work if self.tried else max(LEAST_WORK, work)

    def _reach(self, aside: bool) -> Reach:
        if self.unit is None:  # fewer loads may well make something later
            return Reach()
        return self.drawn.choice(ABOUT if aside else SOONER)

    def _finish(self, solver: cp_model.CpSolver) -> int:
        assert self.day.finish is not None
        return solver.value(self.day.finish)
