"""
Work of a batch that nobody in the day can do: for want of the skill, or of attention.

Who minds a baby has three quarters of attention to give, and the boil takes all four:
that is said with the figures of both, so that it is seen what would have to change.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.methods.step import Skill, Step
from stillroom.planning.bounding.bounds import able_people, lifters_of
from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.problem import Batch, Person, Problem
from stillroom.planning.words.hour_words import DOES
from stillroom.planning.words.step_words import called

ALL_QUARTERS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lacking:
    """A step that nobody in the day can do."""

    step: Step
    skills: frozenset[str]
    """All that its steps in the same hands ask for."""
    quarters: int
    """The most attention that one of them takes."""
    skilled: tuple[Person, ...]
    """Who could do it with more attention to give."""


def nobodys_work(problem: Problem, batch: Batch) -> Iterator[str]:
    """Say of the steps of a batch that nobody can do what they ask for."""
    yield from unskilled(problem, batch).values()
    by_people: dict[tuple[Person, ...], list[_Lacking]] = {}
    for one in _lacking(problem, batch):
        if one.skilled:
            by_people.setdefault(one.skilled, []).append(one)
    for people, ones in by_people.items():
        hardest = max(ones, key=lambda one: one.step.attention_quarters)
        quarters = max(one.quarters for one in ones)
        others = len(ones) - 1
        yield (
            f"{_have(people)}, and {called(batch, hardest.step.id)} takes "
            f"{_of_a_person(quarters)}"
            + (f"; so with {_more(others)}" if others else "")
        )


def unskilled(problem: Problem, batch: Batch) -> dict[frozenset[str], str]:
    """Skills that nobody in the day has together, and what of a batch needs them."""
    by_skills: dict[frozenset[str], list[Step]] = {}
    for one in _lacking(problem, batch):
        if not one.skilled:
            by_skills.setdefault(one.skills, []).append(one.step)
    said = {}
    for skills, steps in by_skills.items():
        needs = "needs" if len(steps) == 1 else "need"
        who = "someone" if len(skills) == 1 else "one person"
        said[skills] = (
            f"{_steps(batch, steps)} {needs} {who} who {_does(skills)}; "
            "nobody in the day does"
        )
    return said


def nobody_lifts(problem: Problem) -> str:
    """Why no load can be lowered and lifted out; empty where somebody does that."""
    if lifters_of(problem):
        return ""
    lift = tuple(p for p in problem.people if str(Skill.LIFT) in p.skills)
    if not lift:
        return "needs someone who lifts hot jars; nobody in the day does"
    return f"{_have(lift)}, and lifting hot jars takes {_of_a_person(LABOUR_QUARTERS)}"


def short_of_attention(problem: Problem) -> tuple[list[Skill], list[Person]]:
    """What is skilled work of somebody without the attention for it, and whose."""
    skills: set[str] = set()
    people: dict[str, Person] = {}
    for batch in problem.batches:
        for one in _lacking(problem, batch):
            if one.skilled:
                skills |= one.skills
                people |= {p.id: p for p in one.skilled}
    canned = any(batch.process for batch in problem.batches)
    if canned and not lifters_of(problem):
        lift = [p for p in problem.people if str(Skill.LIFT) in p.skills]
        people |= {p.id: p for p in lift}
        skills |= {str(Skill.LIFT)} if lift else set()
    return [s for s in Skill if str(s) in skills], list(people.values())


def _lacking(problem: Problem, batch: Batch) -> Iterator[_Lacking]:
    for index, step in enumerate(batch.steps):
        if not step.attention_quarters or able_people(problem, batch, index):
            continue
        group = [step]
        if word := step.same_hands:
            group = [
                s for s in batch.steps if s.same_hands == word and s.attention_quarters
            ]
        skills = frozenset(str(s.skill) for s in group)
        yield _Lacking(
            step=step,
            skills=skills,
            quarters=max(s.attention_quarters for s in group),
            skilled=tuple(p for p in problem.people if skills <= p.skills),
        )


def _steps(batch: Batch, steps: list[Step]) -> str:
    first = called(batch, steps[0].id)
    return first if len(steps) == 1 else f"{first} and {_more(len(steps) - 1)}"


def _more(number: int) -> str:
    return "1 more step" if number == 1 else f"{number} more steps"


def _does(skills: Iterable[str]) -> str:
    return all_of(DOES[skill] for skill in Skill if str(skill) in skills)


def _have(people: tuple[Person, ...]) -> str:
    """
    Say how much attention there is to give.

    >>> def one(name, quarters):
    ...     return Person(
    ...         id=name,
    ...         skills=frozenset(),
    ...         arrives_min=0,
    ...         leaves_min=60,
    ...         quarters=quarters,
    ...     )
    >>> _have((one("Ada", 2),))
    'Ada has 2 of 4 quarters of attention to give'
    >>> _have((one("Ada", 2), one("Bo", 3)))
    'Ada has 2 and Bo has 3 of 4 quarters of attention to give'
    """
    said = all_of(f"{person.id} has {person.quarters}" for person in people)
    return f"{said} of {ALL_QUARTERS} quarters of attention to give"


def _of_a_person(quarters: int) -> str:
    if quarters >= ALL_QUARTERS:
        return f"all {ALL_QUARTERS} of one person"
    return f"{quarters} of one person"
