"""
One goal after another, in the keeper's order: what is reached is held for the next.

The first search makes the end of the day and lateness small together; it is the start
of all that follows. Goals of that search that stand in front are held as they came out,
with the time that an hour still far off gives; the others are searched one by one.
Stages explain themselves, and a weighted sum finds worse plans in the same time.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from stillroom.planning.cpsat import objective
from stillroom.planning.cpsat.calm import helpers_end
from stillroom.planning.cpsat.moments import moments_too_near
from stillroom.planning.cpsat.rinses import least_washes, washes
from stillroom.planning.cpsat.variables import DayModel, Expr
from stillroom.planning.goal_order import MAY_END_LATER_MIN, Goal, in_order


@dataclass(frozen=True, slots=True)
class Stage:
    """One goal for the solver."""

    goal: Goal
    make: Callable[[DayModel], Expr | None]
    """Adds what it needs to the model, and returns what is made small."""
    share: float
    in_minutes: bool
    adds_variables: bool
    floor: Callable[[DayModel], int] = lambda _: 0
    """A figure below which no plan is."""


def held_at_first(day: DayModel, finish: int, late: int) -> tuple[Goal, ...]:
    """
    Hold what the first search reached, as far as it comes first in the order.

    Parameters
    ----------
    day : DayModel
        The model; rules are added.
    finish, late : int
        Finish and weighted lateness of its best plan. [min]

    Returns
    -------
    tuple of Goal
        Those that are held and need no stage of their own.
    """
    assert day.finish is not None
    order = in_order(day.problem.first)
    hour = day.problem.done_by_min
    held: list[Goal] = []
    for goal in order:
        if goal is Goal.ON_TIME:
            if day.late:
                sum_of = objective.lateness(day)
                assert sum_of is not None
                day.model.add(sum_of <= late)
        elif goal is Goal.EARLY or (goal is Goal.BY_THE_HOUR and hour is None):
            day.model.add(day.finish <= finish)
            held += [Goal.EARLY, Goal.BY_THE_HOUR]
        elif goal is Goal.BY_THE_HOUR and hour is not None:
            if Goal.EARLY not in held:
                latest = max(finish, min(hour, finish + MAY_END_LATER_MIN))
                day.model.add(day.finish <= latest)
        else:
            break
        held.append(goal)
    return tuple(held)


def stages_after(day: DayModel, held: tuple[Goal, ...]) -> list[Stage]:
    """The stages that are left, in the keeper's order, with their share of the time."""
    made = {
        Goal.ON_TIME: Stage(Goal.ON_TIME, objective.lateness, 1.0, True, False),
        Goal.BY_THE_HOUR: Stage(Goal.BY_THE_HOUR, _over_the_hour, 1.0, True, True),
        Goal.ONE_MOMENT: Stage(Goal.ONE_MOMENT, moments_too_near, 1.0, False, True),
        Goal.FEW_RUNS: Stage(
            Goal.FEW_RUNS,
            objective.loads_and_splits,
            3.0,
            False,
            False,
            objective.least_loads_and_splits,
        ),
        Goal.EARLY: Stage(Goal.EARLY, _finish, 1.0, True, False),
        Goal.CALM: Stage(Goal.CALM, helpers_end, 1.0, True, True),
    }
    washed = Stage(Goal.FEW_RUNS, washes, 1.5, False, False, least_washes)
    left: list[Stage] = []
    for goal in in_order(day.problem.first):
        if goal not in held:
            left.append(made[goal])
            if goal is Goal.FEW_RUNS:  # no run is given for a wash
                left.append(washed)
    return left


def _finish(day: DayModel) -> Expr:
    assert day.finish is not None
    return day.finish


def _over_the_hour(day: DayModel) -> Expr:
    """Minutes by which the day goes past the hour she named; its end without one."""
    assert day.finish is not None
    hour = day.problem.done_by_min
    if hour is None:
        return day.finish
    over = day.model.new_int_var(0, day.horizon, "over the hour")
    day.model.add(over >= day.finish - hour)
    return over
