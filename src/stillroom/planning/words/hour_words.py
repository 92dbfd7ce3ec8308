"""
Somebody's hours in words, and what nobody else does while they are not there.

That a helper leaves at nine is half of a reason; that nobody else lifts hot jars after
nine is the other half.
"""

from __future__ import annotations

from collections.abc import Iterable

from stillroom.in_a_list import all_of, any_of
from stillroom.methods.step import Skill
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Person, Problem

DOES = {
    Skill.COLD: "does the cold work",
    Skill.KNIFE: "cuts fruit and turns the mill",
    Skill.PAN: "stirs the hot pan and pours",
    Skill.LIFT: "lifts hot jars",
}


def comes_at(problem: Problem, person: Person) -> str:
    """When somebody comes: "Bo comes at 19:30, and nobody else lifts hot jars ..."."""
    comes = max(0, person.arrives_min)
    at = clock_time(problem.starts_at, comes)
    missing = _nobody_else(problem, person, 0, comes)
    return f"{person.id} comes at {at}" + (missing and f"{missing} before that")


def leaves_at(problem: Problem, person: Person) -> str:
    """When somebody leaves, and what nobody else does afterwards."""
    leaves = person.leaves_min
    at = clock_time(problem.starts_at, leaves)
    missing = _nobody_else(problem, person, leaves, problem.horizon_min)
    return f"{person.id} leaves at {at}" + (missing and f"{missing} after that")


def is_away(problem: Problem, person: Person, gone: int, back: int) -> str:
    """When somebody is away, and what nobody else does meanwhile."""
    since = clock_time(problem.starts_at, gone)
    until = clock_time(problem.starts_at, back)
    missing = _nobody_else(problem, person, gone, back)
    return f"{person.id} is away {since} to {until}" + (missing and f"{missing} then")


def is_taken(problem: Problem, burners: Iterable[str], *spans: tuple[int, int]) -> str:
    """When a burner, or several at once, are somebody else's."""
    names, at = list(burners), problem.starts_at
    hours = all_of(f"{clock_time(at, a)} to {clock_time(at, b)}" for a, b in spans)
    if len(names) > 1:
        return f"the burners {all_of(names)} are taken {hours}"
    return f"{the_burner(names[0])} is taken {hours}"


def the_burner(name: str) -> str:
    """
    A burner as one speaks of it.

    >>> the_burner("front left"), the_burner("one more burner")
    ('the burner front left', 'one more burner')
    """
    return name if "burner" in name else f"the burner {name}"


def asked_skills(problem: Problem) -> set[str]:
    """What somebody must be able to do for the work of the day."""
    asked = {str(s.skill) for b in problem.batches for s in b.steps}
    if any(batch.process for batch in problem.batches):
        asked.add(str(Skill.LIFT))
    return asked


def missing_skills(problem: Problem) -> list[Skill]:
    """Which work of the day nobody in it does."""
    there = {skill for person in problem.people for skill in person.skills}
    return [skill for skill in Skill if str(skill) in asked_skills(problem) - there]


def _nobody_else(problem: Problem, person: Person, since: int, until: int) -> str:
    """
    ", and nobody else lifts hot jars": of a stretch in which somebody is not there.

    Empty where each work of theirs is done by somebody who is there, or alone at work.
    """
    others = [
        p
        for p in problem.people
        if p.id != person.id and p.arrives_min < until and p.leaves_min > since
    ]
    if not others or until <= since:
        return ""
    does = {skill for p in others for skill in p.skills}
    only = (person.skills & asked_skills(problem)) - does
    missing = [DOES[skill] for skill in Skill if str(skill) in only]
    return f", and nobody else {any_of(missing)}" if missing else ""
