"""
Hours at which a canner is under pressure, and nobody who could see to it is there.

A pressure that falls is brought back at once and its whole time begins anew, and one
that climbs is turned down: somebody stays by it. The plan counts no hands for that, so
it says where by its own breaks nobody is in the kitchen.
"""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.methods.step import Skill
from stillroom.planning.daytime import from_to
from stillroom.planning.problem import Person, Problem
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.refusal import COMMON_PRACTICE, Caution


def unwatched(problem: Problem, timetable: Timetable) -> Iterator[Caution]:
    """Say of each load under pressure when nobody who may lift jars is there."""
    for load, since, until in left_alone(problem, timetable):
        yield Caution(
            f"{from_to(problem.starts_at, since, until)} nobody who may lift jars "
            f"is in the kitchen, and the {load.canner} vents or is under pressure: "
            "it is not left alone. Move a break or somebody's hours, or start that "
            "load when one of you is there",
            COMMON_PRACTICE,
        )


def left_alone(
    problem: Problem, timetable: Timetable
) -> Iterator[tuple[PlacedLoad, int, int]]:
    """Spans without one who could see to it, from the last jar in to the fire off."""
    pressed = {p.id for p in problem.processes if p.pressure_psi is not None}
    able = [p for p in problem.people if Skill.LIFT in p.skills]
    for load in timetable.loads:
        if load.process not in pressed:
            continue
        since = None
        for minute in range(load.lowered_min, load.done_min + 1):
            alone = minute < load.done_min and not any(
                is_there(person, timetable, minute) for person in able
            )
            if alone and since is None:
                since = minute
            elif not alone and since is not None:
                yield load, since, minute
                since = None


def kept_by(
    problem: Problem, timetable: Timetable, person: Person
) -> tuple[tuple[int, int], ...]:
    """
    Return the spans in which somebody alone can see to a canner under pressure.

    Her hands are free then, and she is not: nobody else who may lift jars is there.
    """
    if Skill.LIFT not in person.skills:
        return ()
    others = [
        other
        for other in problem.people
        if other.id != person.id and Skill.LIFT in other.skills
    ]
    pressed = {p.id for p in problem.processes if p.pressure_psi is not None}
    hers = {
        minute
        for load in timetable.loads
        if load.process in pressed
        for minute in range(load.lowered_min, load.done_min)
        if not any(is_there(other, timetable, minute) for other in others)
    }
    starts = sorted(minute for minute in hers if minute - 1 not in hers)
    ends = sorted(minute + 1 for minute in hers if minute + 1 not in hers)
    return tuple(zip(starts, ends, strict=True))


def is_there(person: Person, timetable: Timetable, minute: int) -> bool:
    """Whether somebody is in the kitchen, and neither resting nor away."""
    rests = [
        (b.start_min, b.end_min) for b in timetable.breaks if b.person == person.id
    ]
    gone = (*person.away, *rests)
    here = person.arrives_min <= minute < person.leaves_min
    return here and not any(since <= minute < until for since, until in gone)
