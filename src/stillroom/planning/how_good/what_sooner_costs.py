"""What a plan that ends sooner would ask for: more runs, washes, hurried moments."""

from __future__ import annotations

from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.planning.daytime import said_minutes
from stillroom.planning.goal_order import Goal, in_order
from stillroom.planning.how_good.goals import Met, goals_of
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable


def what_sooner_costs(
    problem: Problem, plan: Timetable, sooner: Timetable, up_to: Goal = Goal.EARLY
) -> str:
    """
    Say what more a plan that ends sooner, or is less late, asks for.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        The plan that is given.
    sooner : Timetable
        One of the same day that ends before it, or is less late.
    up_to : Goal
        What is gained: by ending early, or by nothing late.

    Returns
    -------
    str
        "1 canner run and 2 washes more", of the goals that she holds dearer than what
        is gained, the dearest first; empty where none of them is worse in ``sooner``.
    """
    given = {met.goal: met for met in goals_of(problem, plan)}
    other = {met.goal: met for met in goals_of(problem, sooner)}
    order = in_order(problem.first)
    more, free = [], ""
    for goal in order[: order.index(up_to)]:
        if goal is Goal.ONE_MOMENT:
            more += _more(given[goal], other[goal], {"hurried moment": ("too_near",)})
        elif goal is Goal.FEW_RUNS:
            washes = {"canner run": ("runs",), "wash": ("pot_washes", "mill_washes")}
            more += _more(given[goal], other[goal], washes)
        elif goal is Goal.CALM:
            key = "in_one_piece_min"
            less = given[goal].figures[key] - other[goal].figures[key]
            free = f"{said_minutes(less)} less free in one piece" if less > 0 else ""
    said = all_of(more)
    said = f"{said} more" if said else ""
    return " and ".join(part for part in (said, free) if part)


def _more(given: Met, other: Met, kinds: dict[str, tuple[str, ...]]) -> list[str]:
    """Each kind that there is more of in the other plan, with how many more."""
    found = []
    for kind, keys in kinds.items():
        over = sum(other.figures[key] - given.figures[key] for key in keys)
        if over > 0:
            found.append(counted(over, kind))
    return found
