"""
One part of a plan set free and searched for something better, by one thread.

By how much better is drawn around what was gained of late: a large demand is soon
ruled out, a small one is found late in a plan that is far from its best.
"""

from __future__ import annotations

import random

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.neighbourhood import Part, hold_the_rest
from stillroom.planning.cpsat.reach import Reach, hold_near
from stillroom.planning.cpsat.solving import one_thread, solved
from stillroom.planning.cpsat.variables import DayModel, Expr

FIRST_GAIN_MIN, LEAST_GAIN_MIN, MOST_GAIN_MIN = 8.0, 1.0, 30.0
"""By about how many minutes the next plan must be better; drawn around it. [min]"""
MORE_GAIN, LESS_GAIN = 1.3, 0.9
"""It grows where that was found, and shrinks where it was not."""
FEW = (1, 1, 2, 3)
"""By how much it must be where loads, splits or moments are counted."""
SHARE_OF_TIDY_STEPS = 0.1
"""How often less than a minute is asked for where minutes are what counts."""


class Demand:
    """
    By how much the goal must get smaller: what is asked is soon ruled out.

    Parameters
    ----------
    seed : int
        Of the draws.
    unit : int or None
        What a minute weighs in the goal; `None` where it counts no minutes.
    """

    def __init__(self, seed: int, unit: int | None) -> None:
        self.drawn, self.unit = random.Random(seed), unit
        self.gain = FIRST_GAIN_MIN

    def next(self) -> int:
        """Draw what to ask of the next part."""
        few, share = self.drawn.choice(FEW), self.drawn.random()
        if self.unit is None or self.drawn.random() < SHARE_OF_TIDY_STEPS:
            return few
        return max(1, round(1.5 * share * self.gain)) * self.unit

    def heard(self, found: bool) -> None:
        """Ask for more where it was found, for less where it was not."""
        if found:
            self.gain = min(MOST_GAIN_MIN, MORE_GAIN * self.gain)
        else:
            self.gain = max(LEAST_GAIN_MIN, LESS_GAIN * self.gain)


def part_solver(seed: int) -> cp_model.CpSolver:
    """
    Return a solver for a part of a plan: one thread, little before its search.

    As it learns in minutes, half as many parts stay undecided.
    """
    solver = one_thread(seed)
    parameters = solver.parameters
    parameters.cp_model_probing_level = 0
    parameters.max_presolve_iterations = 1
    # half as many conflicts a second with it, on parts of a day
    parameters.use_disjunctive_constraint_in_cumulative = False
    parameters.use_strong_propagation_in_disjunctive = True
    return solver


def search_part(
    day: DayModel,
    goal: Expr,
    plan: cp_model.CpSolver,
    part: Part,
    at_most: int,
    *,
    seed: int,
    seconds: float | None,
    work: float,
    reach: Reach,
    anew: bool = False,
) -> tuple[int, cp_model.CpSolver]:
    """
    Search a part of a plan for a goal of so much at most.

    Parameters
    ----------
    day : DayModel
        The model; it is not changed.
    goal : Expr
        What is to be small.
    plan : CpSolver
        With values of the plan.
    part : Part
        What is set free.
    at_most : int
        What the goal must come to.
    seed : int
        Of the solver.
    seconds : float or None
        How long at most; `None` where only its work is counted. [s]
    work : float
        The most deterministic time for it.
    reach : Reach
        How far what is held may move.
    anew : bool
        The first plan that is found, without a look at how the part lies now: another
        plan and hardly ever the same again.

    Returns
    -------
    tuple of int and CpSolver
        The solver's status, and the solver.
    """
    model = day.model.clone()
    model.clear_hints()  # type: ignore[no-untyped-call]
    if not anew:
        for index, value in enumerate(plan.response_proto.solution):
            model.add_hint(model.get_int_var_from_proto_index(index), value)
    hold_the_rest(model, day, plan.value, part)
    hold_near(model, day, plan.value, part, reach)
    model.add(goal <= at_most)
    solver = part_solver(seed)
    parameters = solver.parameters
    parameters.stop_after_first_solution = anew
    parameters.max_deterministic_time = work
    if seconds is not None:
        parameters.max_time_in_seconds = seconds
    return int(solved(solver, model)), solver
