"""
Breaks and absences to come that begin at another hour than was meant.

The feed at ten is at half past, dinner at one. Each keeps its length; what somebody has
in hand then is ended first, as where they go (see `absences`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from stillroom.planning.begun.absences import breaks_left, gone_from
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Break, Person, Problem
from stillroom.planning.timetable import PlacedBreak, Timetable
from stillroom.refusal import Refusal

OUR_HOURS = "how Stillroom puts a break at another hour"

Moved = Mapping[tuple[str, int], int]
"""Person and the minute at which it was to begin, to the minute at which it begins."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToCome:
    """A break or a fixed absence that has not begun."""

    person: str
    start_min: int
    end_min: int
    is_break: bool

    @property
    def minutes(self) -> int:
        """How long it is. [min]"""
        return self.end_min - self.start_min


def to_come(
    problem: Problem, plan: Timetable, happened: Happened
) -> tuple[ToCome, ...]:
    """Return the breaks of a plan and the absences of a day that are still to come."""
    now = happened.now_min
    found = []
    for person in problem.people:
        mine = [
            ToCome(person=person.id, start_min=a, end_min=b, is_break=False)
            for a, b in person.away
            if a > now and a < person.leaves_min
        ]
        mine += [
            ToCome(
                person=person.id,
                start_min=r.start_min,
                end_min=r.end_min,
                is_break=True,
            )
            for r in plan.breaks
            if r.person == person.id and r.start_min > now
            if r not in happened.breaks
        ]
        found += sorted(mine, key=lambda one: one.start_min)
    return tuple(found)


def with_moved(
    problem: Problem, plan: Timetable, happened: Happened, moved: Moved
) -> tuple[Problem, Timetable] | Refusal:
    """
    Return a day and its plan with breaks and absences at other hours.

    What is at its new hour already, as in a plan that was found with it, stays there.
    """
    for one in to_come(problem, plan, happened):
        at = moved.get((one.person, one.start_min))
        if at is None:
            continue
        person = next(p for p in problem.people if p.id == one.person)
        if (no := _refused(problem, person, one, at, happened.now_min)) is not None:
            return no
        at = max(at, gone_from(person.id, happened) or at)
        if one.is_break:
            person = _resting_at(person, one, at, happened)
            plan = replace(plan, breaks=tuple(_placed_at(plan.breaks, one, at)))
        else:
            was = (one.start_min, one.end_min)
            away = (a for a in person.away if a != was)
            person = replace(person, away=(*away, (at, at + one.minutes)))
        people = tuple(person if p.id == person.id else p for p in problem.people)
        problem = replace(problem, people=people)
    return problem, plan


def _refused(
    problem: Problem, person: Person, one: ToCome, at: int, now: int
) -> Refusal | None:
    """Say why it cannot begin at an hour; `None` where it can."""

    def clock(minute: int) -> str:
        return clock_time(problem.starts_at, minute)

    what = f"{person.id}'s {said_minutes(one.minutes)} cannot begin at {clock(at)}"
    leaves = min(person.leaves_min, problem.horizon_min)
    if at < now:
        return Refusal(
            f"{what}: it is {clock(now)} now",
            instead="give an hour to come",
            source=OUR_HOURS,
        )
    if at < person.arrives_min or at + one.minutes > leaves:
        return Refusal(
            f"{what}: {person.id} is there {clock(person.arrives_min)} to "
            f"{clock(leaves)}",
            instead="give an hour at which all of it falls into that; or say at what "
            "hour they come or leave",
            source=OUR_HOURS,
        )
    return None


def _resting_at(person: Person, one: ToCome, at: int, happened: Happened) -> Person:
    """Her break of that length, the one in whose window it was, at an hour."""
    left = [b for b in breaks_left(person, happened) if b.duration_min == one.minutes]
    if not left:
        return person
    mine = min(left, key=lambda b: _apart(b, one.start_min))
    breaks = list(person.breaks)
    breaks[breaks.index(mine)] = replace(mine, earliest_min=at, latest_start_min=at)
    return replace(person, breaks=tuple(breaks))


def _apart(rest: Break, minute: int) -> int:
    """How far a minute is from the window of a break."""
    return max(rest.earliest_min - minute, minute - rest.latest_start_min, 0)


def _placed_at(
    breaks: Iterable[PlacedBreak], one: ToCome, at: int
) -> Iterable[PlacedBreak]:
    for rest in breaks:
        if (rest.person, rest.start_min) == (one.person, one.start_min):
            yield replace(rest, start_min=at, end_min=at + one.minutes)
        else:
            yield rest
