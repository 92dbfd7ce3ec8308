"""
Who is not there until some hour: comes at another than was meant, or goes and is back.

What she has in hand she ends first. What she was to do meanwhile is done by others, or
waits for her; a rest that would have fallen into it she has had where she was.
"""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.begun.held import held_by
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Break, Person, Problem
from stillroom.planning.timetable import PlacedBreak, Timetable


def not_there_until(person: Person, back: int, happened: Happened) -> Person:
    """Return a person who comes, or is back, at a minute of the day, and not before."""
    back = max(back, happened.now_min)
    gone = gone_from(person.id, happened)
    if gone is None:  # nobody has seen her yet
        return replace(person, arrives_min=back, breaks=_had(person, 0, back, happened))
    if gone >= back:
        return person
    return replace(
        person,
        away=(*person.away, (gone, back)),
        breaks=_had(person, gone, back, happened),
    )


def gone_from(person: str, happened: Happened) -> int | None:
    """
    Return when somebody who goes now is gone: at the end of what she has in hand.

    `None` of somebody in whose hands nothing was yet.
    """
    ends = [one.end_min for one in held_by(person, happened)]
    return max(happened.now_min, *ends) if ends else None


def _had(person: Person, gone: int, back: int, happened: Happened) -> tuple[Break, ...]:
    """Her breaks, without those to come that can only fall while she is not there."""
    left = breaks_left(person, happened)
    elsewhere = [
        b
        for b in left
        if gone <= b.earliest_min and b.latest_start_min + b.duration_min <= back
    ]
    return tuple(b for b in person.breaks if b not in elsewhere)


def breaks_left(person: Person, happened: Happened) -> list[Break]:
    """Return the breaks of a person that have not begun."""
    left = list(person.breaks)
    for taken in happened.breaks:
        if taken.person != person.id:
            continue
        length = taken.end_min - taken.start_min
        left.sort(key=lambda b: (abs(b.duration_min - length), b.earliest_min))
        del left[:1]
    return left


def breaks_asked(
    problem: Problem, plan: Timetable, happened: Happened
) -> tuple[PlacedBreak, ...]:
    """Return the breaks of a plan that are taken, or still asked for."""
    kept = list(happened.breaks)
    for person in problem.people:
        to_come = [
            r
            for r in plan.breaks
            if r.person == person.id
            and r not in happened.breaks
            and r.end_min <= person.leaves_min
        ]
        to_come.sort(key=lambda r: r.start_min)
        left = len(breaks_left(person, happened))
        kept += (_moved_out(person, r) for r in to_come[max(0, len(to_come) - left) :])
    return tuple(sorted(kept, key=lambda r: (r.start_min, r.person)))


def _moved_out(person: Person, rest: PlacedBreak) -> PlacedBreak:
    """A break behind the absences that it would fall into."""
    length = rest.end_min - rest.start_min
    start = max(rest.start_min, person.arrives_min)
    for gone, back in person.absences:
        if gone < start + length and start < back:
            start = back
    return replace(rest, start_min=start, end_min=start + length)


def is_there(person: Person, start: int, end: int) -> bool:
    """Whether a person is there for all of some minutes, whenever she leaves."""
    apart = any(gone < end and start < back for gone, back in person.away)
    return start >= person.arrives_min and not apart
