"""
A plan of some batches, and the others put behind and between them by hand.

Nothing of the plan is moved. So what a search has found for those that fit is not lost
while it is asked how much later all of them would be done.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stillroom.planning.hand.free_time import (
    FreeKitchen,
    HandLoad,
    empty_kitchen,
    minutes,
)
from stillroom.planning.hand.hand_batch import Placing
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable, numbered_beside
from stillroom.planning.ways.held_plan import only
from stillroom.planning.words.canner_moved import stays_from


def with_the_others(
    problem: Problem, plan: Timetable, others: Sequence[str]
) -> Timetable | None:
    """
    Return the plan with more batches, each as soon as its pot, hands and fire are free.

    Parameters
    ----------
    problem : Problem
        The day with all of them, its end far away.
    plan : Timetable
        A plan of the day without ``others``.
    others : sequence of str
        Ids of batches, in the order in which they are put in.

    Returns
    -------
    Timetable or None
        `None` where one finds no place, or the judge does not pass it.
    """
    whole = put_behind(problem, plan, others)
    if whole is None:
        return None
    made = {s.batch for s in whole.steps}
    return None if violations(only(problem, made), whole) else whole


def put_behind(
    problem: Problem, plan: Timetable, others: Sequence[str]
) -> Timetable | None:
    """The same, also of a day that has begun, of which the past may break rules."""
    kitchen = _kitchen_of(problem, plan)
    if kitchen is None:
        return None
    batches = {b.id: b for b in problem.batches}
    for name in others:
        if not Placing(problem, kitchen, batches[name], False).place():
            return None
    there = {(x.canner, x.lower_min): x.id for x in plan.loads}
    placed = [held.placed for line in kitchen.loads.values() for held in line]
    kept = [
        replace(load, id=there[load.canner, load.lower_min])
        for load in placed
        if (load.canner, load.lower_min) in there
    ]
    new = (load for load in placed if (load.canner, load.lower_min) not in there)
    loads = [*kept, *numbered_beside(new, (load.id for load in kept))]
    loads.sort(key=lambda load: (load.lower_min, load.id))
    steps = sorted(kitchen.steps, key=lambda s: (s.start_min, s.batch, s.end_min))
    return Timetable(
        steps=tuple(steps), loads=tuple(loads), breaks=tuple(kitchen.breaks)
    )


def _kitchen_of(problem: Problem, plan: Timetable) -> FreeKitchen | None:
    """What a plan leaves free."""
    kitchen = empty_kitchen(problem, canner_keeps_burner=False)
    if kitchen is None:
        return None
    kitchen.breaks = list(plan.breaks)
    kitchen.steps = list(plan.steps)
    for load in sorted(plan.loads, key=lambda load: load.lower_min):
        # it is not moved: what joins it is closed before it goes in
        since = stays_from(problem, plan, load)
        kitchen.loads[load.canner].append(HandLoad(load, load.lower_min, since))
    for person in problem.people:
        kitchen.release_hands(person, problem.horizon_min)
    for s in plan.steps:
        if s.burner is not None:
            kitchen.burners[s.burner] &= ~minutes(s.start_min, s.end_min)
        if s.pot is not None:
            freed = max(kitchen.pot_free_from[s.pot], s.end_min)
            kitchen.pot_free_from[s.pot] = freed
        if s.mill is not None:
            freed = max(kitchen.mill_free_from[s.mill - 1], s.end_min)
            kitchen.mill_free_from[s.mill - 1] = freed
    fires = {canner.id: canner.burners for canner in problem.canners}
    for load in plan.loads:
        since = stays_from(problem, plan, load)
        for burner in fires[load.canner]:
            kitchen.burners[burner] &= ~minutes(since, load.stands_until_min)
    return kitchen
