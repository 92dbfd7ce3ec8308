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
    pressed = {p.id for p in problem.processes if p.pressure_psi is not None}
    for load in timetable.loads:
        if load.process not in pressed:
            continue
        for since, until in _nobody(problem, timetable, load):
            yield Caution(
                f"{from_to(problem.starts_at, since, until)} nobody who may lift jars "
                f"is in the kitchen, and the {load.canner} vents or is under pressure: "
                "it is not left alone. Move a break or somebody's hours, or start that "
                "load when one of you is there",
                COMMON_PRACTICE,
            )


def _nobody(
    problem: Problem, timetable: Timetable, load: PlacedLoad
) -> list[tuple[int, int]]:
    """Return the spans of a load, from the last jar in to the fire off, without one."""
    able = [p for p in problem.people if Skill.LIFT in p.skills]
    minutes = [
        minute
        for minute in range(load.lowered_min, load.done_min)
        if not any(_is_there(p, timetable, minute) for p in able)
    ]
    spans: list[tuple[int, int]] = []
    for minute in minutes:
        if spans and spans[-1][1] == minute:
            spans[-1] = (spans[-1][0], minute + 1)
        else:
            spans.append((minute, minute + 1))
    return spans


def _is_there(person: Person, timetable: Timetable, minute: int) -> bool:
    rests = [
        (b.start_min, b.end_min) for b in timetable.breaks if b.person == person.id
    ]
    gone = (*person.away, *rests)
    here = person.arrives_min <= minute < person.leaves_min
    return here and not any(since <= minute < until for since, until in gone)
