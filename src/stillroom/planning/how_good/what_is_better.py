"""Two plans of one day, side by side: what the other does better, in her words."""

from __future__ import annotations

from collections.abc import Mapping

from stillroom.jar_count import counted
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.goal_order import MAY_END_LATER_MIN, Goal, in_order
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

Figures = Mapping[str, int]
"""What is counted of a plan; less of each is better."""


def what_is_better(
    problem: Problem, plan: Timetable, there: Problem, other: Timetable
) -> str:
    """
    Say by which goal another plan is the better one, the goals taken in her order.

    Parameters
    ----------
    problem, plan : Problem, Timetable
        The plan that is given, and its day.
    there, other : Problem, Timetable
        The other one; its day may divide the same batches otherwise among the pots.

    Returns
    -------
    str
        What the dearest goal in which they differ comes to: "done at 15:58, 16 min
        sooner". Empty where that goal is better in ``plan``, or they differ in none.

    Notes
    -----
    As in the search, a day whose hour is far off may end half an hour later for a goal
    that comes before ending early, and no later than that.
    """
    mine, theirs = _figures(problem, plan), _figures(there, other)
    hour = problem.done_by_min
    for goal in in_order(problem.first):
        for key in _judged_by(goal, hour):
            if mine[key] != theirs[key]:
                return _said(
                    key, mine, theirs, clock_time(there.starts_at, other.finish_min)
                )
        if goal is Goal.BY_THE_HOUR:  # where no hour is named the two end alike here
            apart = abs(mine["finish_min"] - theirs["finish_min"])
            if apart > MAY_END_LATER_MIN:
                done = clock_time(there.starts_at, other.finish_min)
                return _said("finish_min", mine, theirs, done)
    return ""


def _figures(problem: Problem, plan: Timetable) -> Figures:
    """All that the goals are judged by."""
    met = {key: n for met in goals_of(problem, plan) for key, n in met.figures.items()}
    return {
        "late": weighted_lateness(problem, plan),
        "over_the_hour": max(0, -met.get("spare_min", 0)),
        "too_near": met["too_near"],
        "runs": met["runs"],
        "washes": met["pot_washes"] + met["mill_washes"],
        "finish_min": met["finish_min"],
        "not_in_one_piece_min": -met["in_one_piece_min"],
    }


def _judged_by(goal: Goal, hour: int | None) -> tuple[str, ...]:
    """Figures of a goal, the first before all others."""
    by_the_hour = "finish_min" if hour is None else "over_the_hour"
    return {
        Goal.ON_TIME: ("late",),
        Goal.BY_THE_HOUR: (by_the_hour,),
        Goal.ONE_MOMENT: ("too_near",),
        Goal.FEW_RUNS: ("runs", "washes"),
        Goal.EARLY: ("finish_min",),
        Goal.CALM: ("not_in_one_piece_min",),
    }[goal]


def _said(key: str, mine: Figures, theirs: Figures, done: str) -> str:
    """What the other has less of, and when it is done; empty where it has more."""
    less = mine[key] - theirs[key]
    if less < 0:
        return ""
    match key:
        case "late":
            said = "what was promised is less late"
        case "over_the_hour" | "finish_min":
            sooner = mine["finish_min"] - theirs["finish_min"]
            return f"done at {done}, {said_minutes(sooner)} sooner"
        case "not_in_one_piece_min":
            said = f"{said_minutes(less)} more free in one piece"
        case _:
            kind = {"too_near": "hurried moment", "runs": "canner run"}
            said = f"{counted(less, kind.get(key, 'wash'))} fewer"
    return f"{said}, done at {done}"
