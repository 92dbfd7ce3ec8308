"""
Batches that nobody and nothing in the day can make, each with its reasons.

The others are planned all the same: one recipe that asks for a lifter of hot jars does
not stop the freezer. Where there are no others, the plan of a day like it is shown.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from stillroom.in_a_list import all_of, any_of
from stillroom.methods.step import Skill
from stillroom.planning.bounding.too_many_jars import a_canner_more, too_many_jars
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import NoPlan
from stillroom.planning.why_not.plan_if import needs_a_mill, plan_if
from stillroom.planning.why_not.refuse import batch_faults
from stillroom.planning.why_not.whose_hands import (
    ALL_QUARTERS,
    nobody_lifts,
    short_of_attention,
    unskilled,
)
from stillroom.planning.words.hour_words import DOES, missing_skills


def unworkable(problem: Problem) -> dict[str, tuple[str, ...]]:
    """
    Ids of the batches that cannot be made as they stand, and why, in words.

    Links in a circle, a step longer than the day, a step that nobody does or that no
    burner, pot or mill serves, jars that no canner takes or nobody lifts, or more of
    them than the canners take before the wait is over.
    """
    found = {
        batch.id: tuple(fault.what for fault in batch_faults(problem, batch))
        for batch in problem.batches
    }
    for one in too_many_jars(problem):
        found[one.batch.id] = found[one.batch.id] or (one.reason,)
    return {name: reasons for name, reasons in found.items() if reasons}


def for_a_short_day(problem: Problem, cannot: Mapping[str, object]) -> frozenset[str]:
    """Ids of those of `unworkable` that only have a step longer than the day."""
    steps = (step for batch in problem.batches for step in batch.steps)
    longest = max((step.duration_min for step in steps), default=0)
    longer = replace(problem, horizon_min=max(longest, problem.horizon_min))
    there = {batch.id for batch in problem.batches if batch.id in cannot}
    return frozenset(there - unworkable(longer).keys())


def without_these(problem: Problem, cannot: Mapping[str, tuple[str, ...]]) -> NoPlan:
    """
    Say why batches are not made, what would help, and give a plan of a day like it.

    Parameters
    ----------
    problem : Problem
        The day with all of its batches.
    cannot : mapping of str to tuple of str
        What `unworkable` says of it.
    """
    like = plan_if(problem)
    helps = _somebody(problem)
    if canner := a_canner_more(problem):
        helps.append(canner)
    if needs_a_mill(problem):
        helps.append(
            "a sieve will do, by hand: count it among the kitchen's sieves, or a food "
            "mill that you borrow among its food mills; or choose goods that go "
            "through neither"
        )
    if not helps and like is not None:
        helps = [f"it fits {like.says}"]
    return NoPlan(
        clashes=(*_nobody(problem), *_reasons(_not_said_yet(problem, cannot))),
        minimal=False,
        would_help=tuple(helps),
        plan_if=like,
        source="the people and things of the day file",
        nothing_can_be_made=len(cannot) == len(problem.batches),
    )


def _nobody(problem: Problem) -> list[str]:
    return [f"nobody that day {DOES[skill]}" for skill in missing_skills(problem)]


def _not_said_yet(
    problem: Problem, cannot: Mapping[str, tuple[str, ...]]
) -> dict[str, list[str]]:
    """The reasons but for what `_nobody` says once, and not again for every batch."""
    missing = {str(skill) for skill in missing_skills(problem)}
    lifting = {nobody_lifts(problem)} if str(Skill.LIFT) in missing else set[str]()
    left = {}
    for batch in problem.batches:
        single = unskilled(problem, batch).items()
        said = lifting | {what for skills, what in single if skills <= missing}
        reasons = cannot.get(batch.id, ())
        left[batch.id] = [reason for reason in reasons if reason not in said]
    return left


def _somebody(problem: Problem) -> list[str]:
    missing = missing_skills(problem)
    if not missing:
        return _with_attention(problem)
    does = all_of(DOES[skill] for skill in missing)
    named = ", ".join(f'"{skill}"' for skill in missing)
    return [
        f"ask another grown-up who {does} ({named} under what a person can do), or "
        "choose goods that need none of it"
    ]


def _with_attention(problem: Problem) -> list[str]:
    """Ask for more attention than those have who are there."""
    skills, people = short_of_attention(problem)
    if not skills:
        return []
    does = all_of(DOES[skill] for skill in skills)
    names = any_of(person.id for person in people)
    return [
        f"ask another grown-up who {does}, with all {ALL_QUARTERS} quarters of "
        f"attention, or take a day on which {names} has more of them: the quarters of "
        "attention that somebody has to give (`quarters` under [[people]]) hold all "
        "day long, and what takes only some of its hours, such as a feed, is an "
        "absence (`away`)"
    ]


def _reasons(cannot: Mapping[str, Sequence[str]]) -> list[str]:
    """Why each is not made; alike reasons of several batches together."""
    alike: dict[str, list[str]] = {}
    for name, reasons in cannot.items():
        for reason in reasons:
            alike.setdefault(reason, []).append(name)
    return [f"{', '.join(names)}: {reason}" for reason, names in alike.items()]
