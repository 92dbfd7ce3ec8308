"""What somebody has in hand: whose it is, what is left of it, and of their hands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from stillroom.methods.step import Skill, Step
from stillroom.planning.begun.absences import gone_from
from stillroom.planning.begun.held import held_by
from stillroom.planning.happened import QUARTERS, Happened, Key
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.problem import Person, Problem
from stillroom.planning.timetable import PlacedLoad, PlacedStep


def quarters_left(problem: Problem, happened: Happened) -> dict[Key, int]:
    """
    Quarters of running steps, cut where a person has more at hand than she can give.

    Who is said to do two things at once gives each of them what there is.
    """
    asked: dict[str, list[PlacedStep]] = {}
    for s in happened.steps:
        if happened.runs(s) and s.person is not None:
            asked.setdefault(s.person, []).append(s)
    busy = {
        who: LABOUR_QUARTERS
        for load in happened.loads
        for who in hands_at(load, happened.now_min)
    }
    has = {person.id: person.quarters for person in problem.people}
    found: dict[Key, int] = {}
    for person, steps in asked.items():
        room = max(0, has.get(person, QUARTERS) - busy.get(person, 0))
        for s in sorted(steps, key=lambda s: -s.quarters):
            found[s.batch, s.step] = min(s.quarters, room)
            room -= found[s.batch, s.step]
    return found


def not_free(
    person: Person, happened: Happened, quarters: Mapping[Key, int]
) -> tuple[tuple[int, int, int], ...]:
    """
    Return what is left of her hands while she should be away, and ends what is in them.

    From when, until when, and how many quarters: nothing else is given to them.
    """
    now = happened.now_min
    held = [
        (one.end_min, LABOUR_QUARTERS if one.is_load else quarters[one.key])
        for one in held_by(person.id, happened)
        if one.end_min > now
    ]
    goes = gone_from(person.id, happened) or now
    found = []
    for gone, back in person.absences:
        start, end = max(gone, now), min(goes, back)
        cuts = [start, *sorted(e for e, _ in held if start < e < end), end]
        for begins, ends in pairwise(cuts):
            free = person.quarters - sum(q for e, q in held if e > begins)
            if begins < ends and free > 0:
                found.append((begins, ends, free))
    return tuple(found)


def hands_at(load: PlacedLoad, now: int) -> tuple[str, ...]:
    """Who has their hands on a load at a minute."""
    if load.lower_min <= now < load.lowered_min:
        return (load.lowered_by,)
    return (load.lifted_by,) if load.lift_min < now < load.out_min else ()


def in_their_hands(step: Step, who: str | None, problem: Problem) -> Step:
    """A step of whoever has begun it, though by the day it is not theirs to do."""
    skills = next((p.skills for p in problem.people if p.id == who), None)
    if not skills or str(step.skill) in {str(skill) for skill in skills}:
        return step
    return replace(
        step, skill=Skill(min(str(skill) for skill in skills)), same_hands=""
    )
