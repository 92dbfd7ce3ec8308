"""
What no plan can beat, by all rules of a day at once: each way to end sooner ruled out.

Sums (`bounding`) let a batch be smeared over the day, and so stop where smearing would
do. Here one thread is asked for a plan that ends by some minutes more than is proven;
where it answers that there is none, that is proven too, and it is asked for later ones.
Two hundredths later take about three times as long.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import combinations, pairwise

from ortools.sat.python import cp_model

from stillroom.planning.bounding.bounds import least_load_min
from stillroom.planning.cpsat.aimed import MANY_VARIABLES, whole_day_solver
from stillroom.planning.cpsat.constraints import (
    add_rules,
    may_touch,
    ordering_step,
    twins,
)
from stillroom.planning.cpsat.search import LONGEST_COUNTED_S
from stillroom.planning.cpsat.solving import solved
from stillroom.planning.cpsat.variables import DayModel, make_variables
from stillroom.planning.cpsat.walking import A_UNIT_IN_ALL_S, work_of
from stillroom.planning.network import network_of
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.rinses import at_the_shortest

FIRST_STEP, LEAST_STEP, MOST_STEP = 0.01, 0.004, 0.03
"""So much later than what is proven is asked for: first, at least and at most."""
EASY, HARD = 0.05, 0.25
"""
What took so little of what was left is followed by a step twice as large, what took so
much by one half as large.
"""
SHARE_OF_LEFT = 0.7
"""Of what is left one question takes no more: in vain, a smaller one comes after it."""
LEAST_QUESTION_S = 0.05


@dataclass(slots=True)
class RuledOut:
    """
    Ends of a day ruled out, one after the other, by the whole of its rules.

    Parameters
    ----------
    problem : Problem
        The day; whether it is late on its wants counts for nothing.
    seed : int
        Of the solver.
    """

    problem: Problem
    seed: int
    cut: bool = False
    """Whether the clock ended counted work before it was done."""
    _over: bool = False
    _solver: cp_model.CpSolver | None = field(default=None, repr=False)

    def stop(self) -> None:
        """End it: what is proven by now stands."""
        self._over = True
        if self._solver is not None:
            self._solver.stop_search()

    def up_from(
        self,
        known: int,
        at_most: int,
        seconds: float,
        latest: float | None,
        on_better: Callable[[int], None],
    ) -> int:
        """
        Prove of later and later minutes that no plan ends before them.

        Parameters
        ----------
        known : int
            No plan ends before: proven. [min]
        at_most : int
            A plan that ends then is known. [min]
        seconds : float
            Work, or how long by the clock. [s]
        latest : float or None
            `time.monotonic` at which counted work ends too; `None` where the clock is
            what counts. [s]
        on_better : callable
            Called with each later minute.

        Returns
        -------
        int
            The last of them; ``known`` where there is none. A plan that is found by the
            way is none for the caller: it may be late on any want.
        """
        day = whole_model(self.problem, known, at_most)
        until = time.monotonic() + seconds if latest is None else latest
        left, step = seconds, FIRST_STEP
        while known < at_most and not self._over:
            if left < LEAST_QUESTION_S or time.monotonic() >= until:
                self.cut |= latest is not None and left >= LEAST_QUESTION_S
                break
            by = min(known - 1 + max(1, round(step * known)), at_most - 1)
            asked_s = SHARE_OF_LEFT * left
            status, took_s, ends = self._ask(day, by, asked_s, latest)
            left -= max(LEAST_QUESTION_S, took_s)
            if latest is None:
                left = until - time.monotonic()
            if status == cp_model.INFEASIBLE:
                known = by + 1
                on_better(known)
                step = _next_step(step, took_s, left)
            elif status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                at_most = ends
                step = min(step, max(0.0, (at_most - known) / (2 * max(1, known))))
            else:
                self.cut |= latest is not None and time.monotonic() >= latest
                step /= 2
                if step * known < 0.5:
                    break
        return known

    def is_soonest(
        self, known: int, at_most: int, seconds: float, latest: float | None
    ) -> bool:
        """
        Whether it is proven that no plan ends before one that is known.

        Parameters as in `up_from`; where nothing is proven in that time it is false.
        """
        if known >= at_most:
            return True
        day = whole_model(self.problem, known, at_most)
        status, _, _ = self._ask(day, at_most - 1, seconds, latest)
        if latest is not None and status == cp_model.UNKNOWN:
            self.cut |= time.monotonic() >= latest
        return status == cp_model.INFEASIBLE

    def _ask(
        self, day: DayModel, by: int, work_s: float, latest: float | None
    ) -> tuple[int, float, int]:
        """Whether a plan ends by a minute, what that took, and when one does."""
        assert day.finish is not None
        model = day.model.clone()
        model.add(day.finish <= by)
        heavy = max(1.0, len(model.proto.variables) / MANY_VARIABLES)
        solver = self._solver = whole_day_solver(self.seed)
        if self._over:  # stopped while there was no solver to stop
            return int(cp_model.UNKNOWN), 0.0, 0
        began = time.monotonic()
        if latest is None:
            solver.parameters.max_time_in_seconds = work_s
        else:
            solver.parameters.max_deterministic_time = work_s / (
                heavy * A_UNIT_IN_ALL_S
            )
            wall_s = min(latest - began, LONGEST_COUNTED_S)
            solver.parameters.max_time_in_seconds = max(LEAST_QUESTION_S, wall_s)
        status = int(solved(solver, model))
        took_s = heavy * work_of(day, solver)
        if latest is None:
            took_s = time.monotonic() - began
        found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
        return status, took_s, solver.value(day.finish) if found else 0


def whole_model(problem: Problem, known: int, at_most: int) -> DayModel:
    """
    Model of a day with room for every load that can be done by a minute.

    Parameters
    ----------
    problem : Problem
        The day.
    known : int
        No plan ends before: proven. [min]
    at_most : int
        Only plans that end by then are of interest. [min]
    """
    slots = loads_by(problem, at_most)
    end = problem.horizon_min
    day = make_variables(problem, horizon=end, slots=slots, earliest_finish=known)
    day.spread_at_will = True
    add_rules(day)
    order_twins(day)
    return day


def order_twins(day: DayModel) -> None:
    """
    Of batches that differ in nothing but their name the first does all of it first.

    That loses no end of a day, for what two of them do may be named the other way
    round, step by step: two waits of the same limits keep them when the two that begin
    and the two that end are paired in the order of the clock, and two pots of one size
    are held no longer together. Where what goes together may not be parted, only the
    step that the rules order twins by (`ordering_step`) is in order.
    """
    for group in twins(day.problem.batches):
        if _goes_together(day, group[0]):
            continue
        for early, late in pairwise(group):
            starts = zip(day.starts[early.id], day.starts[late.id], strict=True)
            for a, b in starts:
                day.model.add(a <= b)


def _goes_together(day: DayModel, batch: Batch) -> bool:
    """
    Whether steps of a batch that do not follow at once may not trade places alone.

    Their pot is one of several sizes; one pair of hands is bound to them; two fires of
    theirs that touch are one burner's; or the rules order its twins by the end of a
    wash that may be a rinse, which is another order than that of its start.
    """
    network = day.networks[batch.id]
    in_pot = [
        c for c in network.chains if any(batch.steps[i].in_pot for i, _ in c.members)
    ]
    if len(day.pot_size.get(batch.id, {})) > 1 and len(in_pot) > 1:
        return True
    if any(
        len({network.chain_of[i] for i in hands.steps}) > 1
        for hands in day.hands
        if hands.batch == batch.id
    ):
        return True
    fires = [b for b in day.blocks if b.batch == batch.id and b.in_pot]
    if any(may_touch(network, a, b) for a, b in combinations(fires, 2)):
        return True
    return (batch.id, ordering_step(batch)) in day.rinses


def loads_by(problem: Problem, end: int) -> dict[str, int]:
    """How many loads each canner can have at most, all out by a minute."""
    short = at_the_shortest(problem)
    with_jars = [b for b in short.batches if b.process is not None]
    most = sum(b.jars for b in with_jars)
    closed = min((_closed_by(b) for b in with_jars), default=end)
    fit = {}
    for canner in problem.canners:
        cycle = least_load_min(problem, canner)
        there = max(0, end - max(canner.first_heat_min, closed))
        fit[canner.id] = min(most, there // cycle) if cycle else 0
    return fit


def _closed_by(batch: Batch) -> int:
    """Minute before which no jar of a batch is closed. [min]"""
    earliest = network_of(batch).earliest
    ends = (
        earliest[i] + step.duration_min
        for i, step in enumerate(batch.steps)
        if batch.ready_after in ("", step.id)
    )
    return max(ends, default=0)


def _next_step(step: float, took_s: float, left_s: float) -> float:
    """How much later is asked for next, so that it is not asked in vain."""
    if took_s < EASY * left_s:
        return min(MOST_STEP, 2 * step)
    if took_s > HARD * left_s:
        return max(LEAST_STEP, step / 2)
    return step
