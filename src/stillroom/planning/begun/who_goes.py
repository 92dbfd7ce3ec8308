"""
Who says when she goes: what she ends first, and what is begun and goes to others.

The hour is a wall. What is in her hands then is ended; the rest of a pan that was hers
may go to somebody else. Only where nobody else who stays is able to do what has begun
is there a question whether she might stay on.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from stillroom.methods.step import Skill
from stillroom.planning.begun.held import InHand, held_by
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Batch, Person, Problem
from stillroom.planning.timetable import PlacedStep

TAKEN_OVER = ", taken over"
"""What the rest of somebody's work is called where other hands may do it."""


def in_hand_at(person: str, leaves_min: int, happened: Happened) -> InHand | None:
    """What somebody who goes at a minute has to end first, the last of it."""
    held = [one for one in held_by(person, happened) if one.end_min > leaves_min]
    return max(held, key=lambda one: one.end_min, default=None)


def for_other_hands(
    batch: Batch,
    leaves_min: Mapping[str, int],
    happened: Happened,
    planned: Mapping[Key, PlacedStep],
) -> Batch:
    """
    Return a batch whose work that somebody leaves behind may be ended by others.

    Parameters
    ----------
    batch : Batch
        A batch.
    leaves_min : mapping
        Person to the minute at which she goes.
    happened : Happened
        What has begun.
    planned : mapping
        (batch, step) to where the plan so far has it.
    """
    begun, now = happened.begun, happened.now_min
    left_behind = set()
    for word in {s.same_hands for s in batch.steps if s.same_hands}:
        keys = [(batch.id, s.id) for s in batch.steps if s.same_hands == word]
        whose = {begun[k].person for k in keys if k in begun}
        ends = [planned[k].end_min for k in keys if k in planned and k not in begun]
        work = sum(
            planned[k].end_min - planned[k].start_min
            for k in keys
            if k in planned and k not in begun
        )
        for who in whose & leaves_min.keys():
            assert who is not None
            if max([now + work, *ends]) > leaves_min[who]:
                left_behind.add(word)
    steps = tuple(
        replace(s, same_hands=s.same_hands + TAKEN_OVER)
        if s.same_hands in left_behind and (batch.id, s.id) not in begun
        else s
        for s in batch.steps
    )
    return replace(batch, steps=steps)


def not_to_be_spared(
    problem: Problem, happened: Happened, goes: Collection[str], dropped: set[str]
) -> frozenset[str]:
    """
    Return who of those that go does alone what has begun and is not ended.

    ``dropped`` are batches that are not made.
    """
    begun = happened.begun
    asked: set[str] = set()
    for batch in problem.batches:
        mine = [s for s in batch.steps if (batch.id, s.id) in begun]
        if not mine or batch.id in dropped:
            continue
        to_come = [s for s in batch.steps if (batch.id, s.id) not in begun]
        asked |= {str(s.skill) for s in to_come if s.attention_quarters}
        if batch.process is not None and to_come:
            asked.add(str(Skill.LIFT))
    if any(load.out_min > happened.now_min for load in happened.loads):
        asked.add(str(Skill.LIFT))
    return frozenset(
        p.id
        for p in problem.people
        if p.id in goes
        and not asked & _skills(p) <= _of_who_stays(problem, p, happened.now_min)
    )


def _of_who_stays(problem: Problem, person: Person, now: int) -> set[str]:
    """What those can do who are there after somebody has gone."""
    there = [p for p in problem.people if p.leaves_min > max(person.leaves_min, now)]
    return set[str]().union(*(_skills(p) for p in there))


def _skills(person: Person) -> set[str]:
    return {str(skill) for skill in person.skills}
