"""
Planned absences that something in hand ran on into: gone by, or begun later.

Somebody may wait for them, a child or a train, so they are told by name, once: what the
plan so far had known of is not told again.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from stillroom.planning.begun.held import InHand, held_by
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.words.step_words import called


@dataclass(frozen=True, slots=True, kw_only=True)
class Overrun:
    """An absence that somebody could not begin when it was meant to."""

    person: str
    start_min: int
    end_min: int
    held: InHand
    """What was in hand, and until when."""

    @property
    def has_gone_by(self) -> bool:
        """Whether nothing of it is left."""
        return self.held.end_min >= self.end_min


def overruns(problem: Problem, old: Timetable, happened: Happened) -> list[Overrun]:
    """
    Return the absences that were overrun, in the order of the people and of the clock.

    Of one that was begun late, and is had by now, there is nothing to tell.
    """
    before = _as_planned(old, happened)
    found = []
    for person in problem.people:
        for gone, back in person.absences:
            held = _held_from(gone, held_by(person.id, happened))
            knew = _held_from(gone, held_by(person.id, before))
            if held is None or (knew and min(held.end_min, back) <= knew.end_min):
                continue
            if held.end_min >= back or held.end_min > happened.now_min:
                found.append(
                    Overrun(person=person.id, start_min=gone, end_min=back, held=held)
                )
    return found


def _as_planned(old: Timetable, happened: Happened) -> Happened:
    """What has begun, at the minutes that the plan so far had for it."""
    begun, loads = happened.begun, {load.id for load in happened.loads}
    return Happened(
        now_min=happened.now_min,
        steps=tuple(s for s in old.steps if (s.batch, s.step) in begun),
        loads=tuple(load for load in old.loads if load.id in loads),
    )


def _held_from(minute: int, all_held: Iterable[InHand]) -> InHand | None:
    """What hands were on at a minute and, without a pause, after it: the last of it."""
    last = None
    for one in sorted(all_held, key=lambda one: one.start_min):
        until = minute if last is None else last.end_min
        if one.start_min <= until < one.end_min:
            last = one
    return last


def told_of_overruns(
    problem: Problem, old: Timetable, happened: Happened
) -> Iterator[str]:
    """Say of each who is not away, or goes later, and because of what: sentences."""

    def at(minute: int) -> str:
        return clock_time(problem.starts_at, minute)

    for one in overruns(problem, old, happened):
        until, doing = one.held.end_min, _doing(problem, old, one.held)
        who = one.person
        if not one.has_gone_by:
            yield (
                f"{who} goes at {at(until)}, not at {at(one.start_min)}, and is still "
                f"to be back at {at(one.end_min)}: {doing} is in hand before."
            )
            continue
        verb = "was" if until <= happened.now_min else "is"
        yield (
            f"{who} {verb} not away {at(one.start_min)} to {at(one.end_min)}: {doing} "
            f"{verb} in hand until {at(until)}. If {who} has still to go, say until "
            f"when {who} is not here."
        )


def told_of_who_ends_first(
    problem: Problem, old: Timetable, ends_first: Mapping[str, InHand]
) -> Iterator[str]:
    """Say of each who goes later than she said what she has to end first."""
    for who, held in ends_first.items():
        yield (
            f"{who} goes at {clock_time(problem.starts_at, held.end_min)}: "
            f"{_doing(problem, old, held)} is in hand before. If somebody else takes "
            f"that over, {who} can go sooner."
        )


def _doing(problem: Problem, old: Timetable, held: InHand) -> str:
    """What is in somebody's hands, in the words of the kitchen."""
    of, what = held.key
    if held.is_load:
        return f'"{LoadNames(problem, old).part(of, what)}"'
    batch = next(b for b in problem.batches if b.id == of)
    return f"{called(batch, what)} of {of}"
