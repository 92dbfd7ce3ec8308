"""
What a plan on the way had, and the one that is given has not, for a dearer goal.

The search weighs the end of the day and what is late in one figure. People do not: an
hour that could be sooner is said in minutes of the end, and lateness as lateness.
"""

from __future__ import annotations

from collections.abc import Mapping

from stillroom.in_a_list import all_of
from stillroom.planning.daytime import said_minutes
from stillroom.planning.due_words import batches_of
from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.lateness import late_wants
from stillroom.planning.how_good.what_sooner_costs import what_sooner_costs
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable


def given_up(problem: Problem, plan: Timetable, other: Timetable) -> str:
    """
    Say by how much a plan on the way ended sooner or was less late, and at what cost.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        The plan that is given.
    other : Timetable
        One of the same day that is better by its end and by what is late.

    Returns
    -------
    str
        "it could end 12 min sooner, with 1 canner run more"; empty where it gains
        neither.
    """
    sooner = plan.finish_min - other.finish_min
    mine, its = _late(problem, plan), _late(problem, other)
    less = {name: over - its[name] for name, over in mine.items() if its[name] < over}
    more = {name: over - mine[name] for name, over in its.items() if mine[name] < over}
    gains = [f"it could end {said_minutes(sooner)} sooner"] if sooner > 0 else []
    gains += [
        f"{name} could be {said_minutes(by)} less late"
        if its[name]
        else f"{name} could be there in time"
        for name, by in less.items()
    ]
    if not gains:
        return ""
    said = all_of(gains)
    if sooner < 0:
        said += f", and the day would end {said_minutes(-sooner)} later"
    later = [f"{name} {said_minutes(by)} later" for name, by in more.items()]
    goal = Goal.EARLY if sooner > 0 else Goal.ON_TIME
    costs = what_sooner_costs(problem, plan, other, goal)
    if asks := all_of([*later, costs] if costs else later):
        return f"{said}, with {asks}"
    dearer = "ending early" if goal is Goal.EARLY else "being in time"
    return f"{said}; that is given up for what comes before {dearer}"


def _late(problem: Problem, plan: Timetable) -> Mapping[str, int]:
    """Minutes by which each product is late, where it is wanted by an hour."""
    late: dict[str, int] = {}
    for want, over in late_wants(problem, plan):
        name = batches_of(problem, want.product)
        late[name] = max(over, late.get(name, 0))
    return late
