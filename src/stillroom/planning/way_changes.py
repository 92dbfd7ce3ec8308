"""
What may be changed in a day that does not fit: hours, batches, things, room, hands.

Each change is a plain value: what it does to a problem, what it weighs in minutes of
somebody's time, and how it is said. Physics, safety and rests are not for sale.
"""

from __future__ import annotations

from collections import Counter as Tally
from dataclasses import dataclass, replace
from enum import StrEnum

from stillroom.in_a_list import all_of
from stillroom.planning.daytime import clock_time, said_minutes, since_midnight_min
from stillroom.planning.due_words import batches_of
from stillroom.planning.one_thing_more import (
    More,
    one_more_burner,
    one_more_canner,
    one_more_helper,
    one_more_pot,
)
from stillroom.planning.problem import Batch, Problem, wants_of

COST_OF_A_JAR = 10
"""A jar that is not made weighs as much as so many minutes of somebody's time.

That is where nothing is known of its fruit or of how much it matters; else it is
`missed_most.a_jar_min`.
"""
COST_OF_A_THING = 240
"""As much weighs a burner, a pot or a canner that has to be found."""

LONGER_DAY_MIN = 720
"""How much longer a day is thought to be while asking what would have to give. [min]"""
EARLIEST_START_MIN = 4 * 60
"""No way out begins a day before 4:00: nobody works at boiling jars on half a night's
sleep because a plan says so (common practice, no source). [min of the clock]"""


class Kind(StrEnum):
    """What a change changes, in the order in which they are said and made."""

    LEAVE_OUT = "leave out"
    HELPER = "one more helper"
    BURNER = "one more burner"
    CANNER = "one more canner"
    POT = "one more pot"
    ROOM = "room to cool"
    STARTS = "starts earlier"
    COMES = "comes sooner"
    ENDS = "ends later"
    STAYS = "stays longer"


THINGS = (Kind.HELPER, Kind.BURNER, Kind.CANNER, Kind.POT)
WHOLE = (Kind.LEAVE_OUT, *THINGS)
"""Changes that cannot be made smaller."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of a day."""

    kind: Kind
    subject: str = ""
    """Id of the batch or person; empty for the day itself and for things."""
    product: str = ""
    """What a batch that is left out makes."""
    amount: int = 1
    """Minutes, places on the counter, or jars that are not made."""
    a_jar: int = COST_OF_A_JAR
    """What a jar that is not made weighs. [min]"""


Changes = tuple[Change, ...]


def leave_out(batch: Batch, a_jar: int = COST_OF_A_JAR) -> Change:
    """The change that a batch is not made; what each of its jars weighs. [min]"""
    return Change(
        kind=Kind.LEAVE_OUT,
        subject=batch.id,
        product=batch.product,
        amount=batch.jars,
        a_jar=a_jar,
    )


_ONE_MORE = {
    Kind.HELPER: one_more_helper,
    Kind.BURNER: one_more_burner,
    Kind.CANNER: one_more_canner,
    Kind.POT: one_more_pot,
}


def thing_more(problem: Problem, kind: Kind) -> More | None:
    """Say a thing, and give the day with one more of it; `None` where there is none."""
    return _ONE_MORE[kind](problem)


def changed(problem: Problem, changes: Changes) -> Problem:
    """The day with changes."""
    gone = {c.subject for c in changes if c.kind is Kind.LEAVE_OUT}
    if gone:
        problem = without(problem, gone)
    for change in in_order(changes):
        problem = _with(problem, change)
    return problem


def in_order(changes: Changes) -> Changes:
    """Changes in the order in which they are made and said."""
    place = list(Kind)
    return tuple(sorted(changes, key=lambda c: (place.index(c.kind), c.subject)))


def together(changes: Changes) -> Changes:
    """The same, with minutes and places of one kind and subject in one change."""
    minutes: dict[tuple[Kind, str], Change] = {}
    for change in changes:
        if change.kind not in WHOLE:
            of = change.kind, change.subject
            before = minutes[of].amount if of in minutes else 0
            minutes[of] = replace(change, amount=before + change.amount)
    return (*(c for c in changes if c.kind in WHOLE), *minutes.values())


def without(problem: Problem, gone: set[str]) -> Problem:
    """The day without some batches, and without the wants that they alone served."""
    rest = tuple(b for b in problem.batches if b.id not in gone)
    return replace(problem, batches=rest, wants=wants_of(problem.wants, rest))


def _with(problem: Problem, change: Change) -> Problem:
    match change.kind:
        case Kind.LEAVE_OUT:
            return problem
        case Kind.ROOM:
            places = problem.counter.places + change.amount
            return replace(problem, counter=replace(problem.counter, places=places))
        case Kind.STARTS:
            return starting_earlier(problem, change.amount)
        case Kind.ENDS:
            return ending_later(problem, change.amount)
        case Kind.COMES:
            return _hours_of(problem, change.subject, sooner=change.amount)
        case Kind.STAYS:
            return _hours_of(problem, change.subject, longer=change.amount)
        case _:
            more = thing_more(problem, change.kind)
            return problem if more is None else more[1]


def _hours_of(problem: Problem, who: str, sooner: int = 0, longer: int = 0) -> Problem:
    people = tuple(
        replace(
            p,
            arrives_min=max(0, p.arrives_min - sooner),
            leaves_min=p.leaves_min + longer,
        )
        if p.id == who
        else p
        for p in problem.people
    )
    return replace(problem, people=people)


def ending_later(problem: Problem, minutes: int) -> Problem:
    """The day ends later, and whoever stays to its end stays until then."""
    end = problem.horizon_min + minutes
    people = tuple(
        replace(p, leaves_min=max(p.leaves_min, end))
        if p.leaves_min >= problem.horizon_min
        else p
        for p in problem.people
    )
    return replace(problem, horizon_min=end, people=people)


def most_earlier(problem: Problem) -> int:
    """
    So many minutes earlier a day may start at most; 0 where it is night by then.

    A day that begins before `EARLIEST_START_MIN` as it was typed keeps its hour.
    """
    return max(0, since_midnight_min(problem.starts_at) - EARLIEST_START_MIN)


def starting_earlier(problem: Problem, by: int) -> Problem:
    """The day starts earlier, for all who are there from its start; clocks stay."""

    def later(minute: int) -> int:
        return minute + by

    people = tuple(
        replace(
            p,
            arrives_min=0 if p.arrives_min <= 0 else later(p.arrives_min),
            leaves_min=later(p.leaves_min),
            breaks=tuple(
                replace(
                    rest,
                    earliest_min=later(rest.earliest_min),
                    latest_start_min=later(rest.latest_start_min),
                )
                for rest in p.breaks
            ),
            away=tuple((later(a), later(b)) for a, b in p.away),
        )
        for p in problem.people
    )
    batches = tuple(
        replace(
            batch,
            windows=tuple(
                replace(
                    w,
                    earliest_min=later(w.earliest_min) if w.earliest_min > 0 else 0,
                    latest_min=None if w.latest_min is None else later(w.latest_min),
                )
                for w in batch.windows
            ),
        )
        for batch in problem.batches
    )
    burners = tuple(
        replace(b, taken=tuple((later(start), later(end)) for start, end in b.taken))
        for b in problem.burners
    )
    taken = tuple((jars, later(until)) for jars, until in problem.counter.taken)
    due = problem.done_by_min
    return replace(
        problem,
        starts_at=clock_time(problem.starts_at, -by).zfill(len("07:30")),
        horizon_min=later(problem.horizon_min),
        people=people,
        burners=burners,
        batches=batches,
        counter=replace(problem.counter, taken=taken),
        wants=tuple(replace(w, by_min=later(w.by_min)) for w in problem.wants),
        done_by_min=None if due is None else later(due),
    )


def cost_of(problem: Problem, changes: Changes) -> int:
    """
    What changes weigh, in minutes of somebody's time; see decision 0051. [min]

    Minutes of the day's start and end count once, whoever is there; those of one
    person count for each person.
    """
    total = 0
    for change in changes:
        match change.kind:
            case Kind.LEAVE_OUT:
                total += change.a_jar * change.amount
            case Kind.HELPER:
                total += problem.horizon_min  # the whole of somebody's day
            case Kind.BURNER | Kind.CANNER | Kind.POT:
                total += COST_OF_A_THING
            case _:
                total += change.amount
    return total


def is_more_than(more: Changes, less: Changes) -> bool:
    """Whether ``more`` changes all that ``less`` does, by as much or by more."""
    asked, there = _by_what(less), _by_what(more)
    return all(there.get(what, 0) >= amount for what, amount in asked.items())


def _by_what(changes: Changes) -> dict[tuple[Kind, str], int]:
    found: dict[tuple[Kind, str], int] = {}
    for c in changes:
        out = c.kind is Kind.LEAVE_OUT
        key = (c.kind, c.product if out else c.subject)
        found[key] = found.get(key, 0) + (1 if out else c.amount)
    return found


def said(problem: Problem, changes: Changes) -> str:
    """Say changes: "it fits without one batch of butter, if the day ends ..."."""
    return f"it fits {condition(problem, changes)}"


def condition(problem: Problem, changes: Changes) -> str:
    """Say them behind something: "without one batch of butter, if the day ends ..."."""
    changes = in_order(changes)
    out = Tally(c.product for c in changes if c.kind is Kind.LEAVE_OUT)
    parts = []
    if out:
        fewer = [
            f"{'one batch' if n == 1 else f'{n} batches'} of {batches_of(problem, p)}"
            for p, n in out.items()
        ]
        parts.append(f"without {all_of(fewer)}")
    things = []
    for change in changes:
        if change.kind in THINGS and (more := thing_more(problem, change.kind)):
            things.append(more[0])
    if things:
        parts.append(f"with {all_of(things)}")
    hours = [_hour(problem, c) for c in changes if c.kind not in WHOLE]
    if hours:
        parts.append(f"if {all_of(hours)}")
    return ", ".join(parts)


def _hour(problem: Problem, change: Change) -> str:
    minutes = said_minutes(change.amount)

    def at(minute: int) -> str:
        return clock_time(problem.starts_at, minute)

    who = next((p for p in problem.people if p.id == change.subject), None)
    match change.kind:
        case Kind.STARTS:
            return f"the day starts {minutes} earlier, at {at(-change.amount)}"
        case Kind.ENDS:
            end = at(problem.horizon_min + change.amount)
            return f"the day ends {minutes} later, at {end}"
        case Kind.COMES:
            assert who is not None
            comes = at(who.arrives_min - change.amount)
            return f"{who.id} comes {minutes} sooner, at {comes}"
        case Kind.STAYS:
            assert who is not None
            until = at(who.leaves_min + change.amount)
            return f"{who.id} stays {minutes} longer, until {until}"
        case _:
            jars = "jar" if change.amount == 1 else "jars"
            return f"there is room for {change.amount} more {jars} to cool"
