"""
Minutes that a plan of a way out does not need, read off the plan itself.

A plan is searched for within hours that give enough, and made to end soon: then it may
be over before they are. What is not needed is not asked for. And where a promise is
broken, all of it begun as much sooner may keep it.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.how_good.lateness import late_wants, weighted_lateness
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.way_changes import (
    Change,
    Changes,
    Kind,
    changed,
    most_earlier,
)
from stillroom.planning.ways.way_found import Way, settled

AT_THE_START = (Kind.STARTS, Kind.COMES)
HOURS = (*AT_THE_START, Kind.ENDS, Kind.STAYS)


def tightened(
    problem: Problem, changes: Changes, plan: Timetable
) -> tuple[Changes, Timetable]:
    """
    Ask for no more minutes than a plan needs.

    Parameters
    ----------
    problem : Problem
        The day as it is.
    changes : tuple of Change
        What changes in it.
    plan : Timetable
        A plan of the changed day, which the judge passes.

    Returns
    -------
    tuple of Change, Timetable
        The same with fewer minutes, where fewer do; nothing promised comes later.
    """
    late = weighted_lateness(changed(problem, changes), plan)
    for change in sorted(changes, key=lambda c: -c.amount):
        if change.kind not in HOURS:
            continue
        found = [
            _fewest(problem, changes, change, plan, late, put_off=put_off)
            for put_off in ((False, True) if change.kind in AT_THE_START else (False,))
        ]
        amount, plan = min(found, key=lambda tried: tried[0])
        fewer = (replace(change, amount=amount),) if amount else ()
        changes = (*(c for c in changes if c is not change), *fewer)
    return changes, plan


def _fewest(
    problem: Problem,
    changes: Changes,
    change: Change,
    plan: Timetable,
    late: int,
    *,
    put_off: bool,
) -> tuple[int, Timetable]:
    """Fewest minutes of one change, its plan as it stands by the clock or put off."""
    rest = tuple(c for c in changes if c is not change)

    def with_(amount: int) -> tuple[Problem, Timetable]:
        fewer = (replace(change, amount=amount),) if amount else ()
        day = changed(problem, (*rest, *fewer))
        less = change.amount - amount
        if change.kind is Kind.STARTS:  # the plan's first minute is a later one then
            less = 0 if put_off else -less
        elif not put_off:
            less = 0
        return day, plan.moved(less)

    low, high = -1, change.amount
    while high - low > 1:
        middle = (low + high) // 2
        day, moved = with_(middle)
        if violations(day, moved) or weighted_lateness(day, moved) > late:
            low = middle
        else:
            high = middle
    return high, with_(high)[1]


def begun_sooner(problem: Problem, way: Way) -> Way | None:
    """
    Return a way that keeps its promises, its hours at the start that much sooner.

    `None` where nothing is late in it, no hour at its start gives, or the judge does
    not pass it.
    """
    over = max((late for _, late in late_wants(way.problem, way.plan)), default=0)
    if over <= 0 or not any(c.kind in AT_THE_START for c in way.changes):
        return None
    sooner = tuple(
        replace(c, amount=c.amount + over) if c.kind in AT_THE_START else c
        for c in way.changes
    )
    starts = any(c.kind is Kind.STARTS for c in way.changes)
    if sum(c.amount for c in sooner if c.kind is Kind.STARTS) > most_earlier(problem):
        return None
    plan = way.plan if starts else way.plan.moved(-over)
    hours = tuple(c for c in sooner if c.kind in HOURS)
    firm = tuple(c for c in way.node.firm if c.kind not in HOURS)
    return settled(problem, replace(way.node, firm=firm), hours, plan, least=False)
