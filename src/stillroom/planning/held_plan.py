"""A plan of one day, as far as it holds for another that is like it."""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable


def as_far_as_it_holds(problem: Problem, plan: Timetable) -> Timetable | None:
    """
    A plan of another day, without the batches that this one lacks.

    `None` where this day has more, or the plan breaks a rule of it.
    """
    asked = {(b.id, s.id) for b in problem.batches for s in b.steps}
    batches = {b.id for b in problem.batches}
    steps = tuple(s for s in plan.steps if s.batch in batches)
    if {(s.batch, s.step) for s in steps} != asked:
        return None
    loads = []
    for load in plan.loads:
        jars = tuple((b, n) for b, n in load.jars if b in batches)
        if jars:
            loads.append(replace(load, jars=jars))
    people = {p.id for p in problem.people}
    rests = tuple(rest for rest in plan.breaks if rest.person in people)
    held = Timetable(steps=steps, loads=tuple(loads), breaks=rests)
    try:
        return None if violations(problem, held) else held
    except (KeyError, StopIteration):  # a canner or burner that is not there
        return None
