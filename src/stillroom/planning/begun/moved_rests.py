"""
Breaks and absences to come that begin at another hour than was meant.

The feed at ten is at half past, dinner at one. Each keeps its length; what somebody has
in hand then is ended first, as where they go (see `absences`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
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

    @property
    def kind(self) -> str:
        """What it is called."""
        return "break" if self.is_break else "absence"


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
    there = {person.id: person for person in problem.people}
    anew: list[tuple[ToCome, ToCome]] = []
    for one in to_come(problem, plan, happened):
        at = moved.get((one.person, one.start_min))
        if at is None:
            continue
        no = _refused(problem, there[one.person], one, at, happened.now_min)
        if no is not None:
            return no
        at = max(at, gone_from(one.person, happened) or at)
        anew.append((one, replace(one, start_min=at, end_min=at + one.minutes)))
    if (both := _at_once(problem, plan, happened, anew)) is not None:
        return both
    people = tuple(_with_all(p, anew, happened) for p in problem.people)
    starts = {(old.person, old.start_min): new for old, new in anew if old.is_break}
    breaks = tuple(_placed(rest, starts) for rest in plan.breaks)
    return replace(problem, people=people), replace(plan, breaks=breaks)


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


def _at_once(
    problem: Problem,
    plan: Timetable,
    happened: Happened,
    anew: Sequence[tuple[ToCome, ToCome]],
) -> Refusal | None:
    """Say which two of one person would be at once, where one of them is moved."""
    was = [old for old, _ in anew]
    placed = [new for _, new in anew]
    stay = [one for one in _by_the_clock(problem, plan, happened) if one not in was]
    for n, one in enumerate(placed):
        for other in (*placed[:n], *stay):
            if other.person != one.person:
                continue
            if one.start_min < other.end_min and other.start_min < one.end_min:
                return _both(problem.starts_at, one, other, is_moved=other in placed)
    return None


def _both(starts_at: str, one: ToCome, other: ToCome, *, is_moved: bool) -> Refusal:
    def hours(of: ToCome) -> str:
        first, last = (clock_time(starts_at, m) for m in (of.start_min, of.end_min))
        return f"{of.kind} {first} to {last}"

    behind = clock_time(starts_at, other.end_min)
    way = "leave one of them" if is_moved else f"put that {other.kind}"
    return Refusal(
        f"{one.person} cannot have both at once: the {hours(one)}, as it is moved, and "
        f"the {hours(other)}{', as it is moved too' if is_moved else ''}",
        instead=f"begin the {one.kind} at {behind} or later, when the other is over; "
        f"or {way} {'where it was' if is_moved else 'at another hour as well'}",
        source=OUR_HOURS,
    )


def _by_the_clock(
    problem: Problem, plan: Timetable, happened: Happened
) -> Iterator[ToCome]:
    """What stays at its hour: absences, rests that run, breaks with an hour given."""
    for person in problem.people:
        for gone, back in person.away:
            yield ToCome(person=person.id, start_min=gone, end_min=back, is_break=False)
    for rest in happened.breaks:
        yield ToCome(
            person=rest.person,
            start_min=rest.start_min,
            end_min=rest.end_min,
            is_break=True,
        )
    for one in to_come(problem, plan, happened):
        person = next(p for p in problem.people if p.id == one.person)
        meant = _meant(breaks_left(person, happened), one) if one.is_break else None
        hour = None if meant is None else (meant.earliest_min, meant.latest_start_min)
        if hour == (one.start_min, one.start_min):
            yield one


def _with_all(
    person: Person, anew: Sequence[tuple[ToCome, ToCome]], happened: Happened
) -> Person:
    """Somebody whose breaks and absences are at their new hours, all at once."""
    breaks, left = list(person.breaks), breaks_left(person, happened)
    away = list(person.away)
    for old, new in anew:
        if old.person != person.id:
            continue
        at = new.start_min
        if not old.is_break:
            away.remove((old.start_min, old.end_min))
        elif (mine := _meant(left, old)) is not None:
            left.remove(mine)
            there = replace(mine, earliest_min=at, latest_start_min=at)
            breaks[breaks.index(mine)] = there
    away += [
        (new.start_min, new.end_min)
        for old, new in anew
        if old.person == person.id and not old.is_break
    ]
    return replace(person, breaks=tuple(breaks), away=tuple(away))


def _meant(left: Iterable[Break], one: ToCome) -> Break | None:
    """The break of that length in whose window it is by the plan."""
    alike = (b for b in left if b.duration_min == one.minutes)
    return min(alike, key=lambda b: _apart(b, one.start_min), default=None)


def _apart(rest: Break, minute: int) -> int:
    """How far a minute is from the window of a break."""
    return max(rest.earliest_min - minute, minute - rest.latest_start_min, 0)


def _placed(rest: PlacedBreak, anew: Mapping[tuple[str, int], ToCome]) -> PlacedBreak:
    """A break of the plan where it is now."""
    new = anew.get((rest.person, rest.start_min))
    if new is None:
        return rest
    return replace(rest, start_min=new.start_min, end_min=new.end_min)
