"""
A way out as a change of the day file, and the proof that it is one.

It is typed as after ``--with``. The changed file is read and made into batches again,
and the judge passes the plan of the way for it; a day that comes out otherwise, say
because two now share the cutting, is planned anew.
"""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable, Iterator
from dataclasses import replace

from stillroom.planning.cpsat.solve import Search
from stillroom.planning.day import Day
from stillroom.planning.day_file.day_changes import changed_day_text, in_path
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.daytime import clock_time
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import NoPlan, Timetable, WayOut
from stillroom.planning.way_changes import Change, Changes, Kind, changed, in_order
from stillroom.planning.ways.held_plan import as_far_as_it_holds
from stillroom.planning.ways.way_plans import with_end_open
from stillroom.planning.which_batches.batches import Batched
from stillroom.refusal import Refusal, Unreadable

Again = Callable[[Day], Problem | Refusal]


def with_typed_ways(
    none: NoPlan,
    day: Day,
    made: Batched,
    problem: Problem,
    again: Again,
    search: Search,
) -> NoPlan:
    """
    Return why nothing fits, each way out with the change of the day file that it is.

    Parameters
    ----------
    none : NoPlan
        A day without a plan.
    day, made, problem : Day, Batched, Problem
        The day as it is.
    again : callable
        The problem of a changed day; a refusal where it cannot be worked.
    search : Search
        How a changed day is planned where it must be.
    """
    text = write_day(day)
    ways = []
    for left, way in zip(range(len(none.ways_out), 0, -1), none.ways_out, strict=True):
        part = search.left() / left
        on = replace(search, until=time.monotonic() + part)
        ways.append(_typed(way, text, day, made, problem, again, on))
    return replace(none, ways_out=tuple(ways))


def _typed(
    way: WayOut,
    text: str,
    day: Day,
    made: Batched,
    problem: Problem,
    again: Again,
    search: Search,
) -> WayOut:
    if not way.changes:
        return way
    planned_anew: list[tuple[str, Problem]] = []
    why_not = ""
    for typed in changes_typed(day, made, problem, way.changes):
        try:
            other = again(read_day(changed_day_text(text, typed)))
        except Unreadable as fault:
            why_not = why_not or str(fault.faults[0].what)
            continue
        if isinstance(other, Refusal):
            why_not = why_not or other.reason
            continue
        plan = as_far_as_it_holds(other, way.timetable)
        if plan is not None and plan.finish_min <= way.finish_min:
            return _with(way, typed, plan, other)
        planned_anew.append((typed, other))
    for left, (typed, other) in zip(
        range(len(planned_anew), 0, -1), planned_anew, strict=True
    ):
        on = replace(search, until=time.monotonic() + search.left() / left)
        plan = with_end_open(other, on, way.timetable)
        if plan is not None and not violations(other, plan):
            return _with(way, typed, plan, other)
    if planned_anew:
        why_not = why_not or (
            "the day file makes other batches of it, and no plan of those was found in "
            "the time"
        )
    elif not why_not:
        why_not = 'a name in the day file holds a sign that parts changes: ; = " [ ]'
    return replace(way, why_not_typed=f"it cannot be typed as a change: {why_not}")


def _with(way: WayOut, typed: str, plan: Timetable, other: Problem) -> WayOut:
    return replace(
        way,
        typed=typed,
        timetable=plan,
        finish_min=plan.finish_min,
        done_by=clock_time(other.starts_at, plan.finish_min),
    )


def changes_typed(
    day: Day, made: Batched, problem: Problem, changes: Changes
) -> Iterator[str]:
    """
    Changes as they are typed after ``--with``, the plainest first.

    A batch that is left out is so many jars fewer that are wanted; where that makes
    other batches of the rest, or fewer jars would stand where more were promised, it is
    named: the day file keeps every promise. Nothing for a name that holds what parts
    changes.
    """
    gone = [c.subject for c in in_order(changes) if c.kind is Kind.LEAVE_OUT]
    later = _Typing(day, problem, changes)
    rest = [
        part
        for change in in_order(changes)
        if change.kind is not Kind.LEAVE_OUT
        for part in later.typed(change)
    ]
    names = [*(p.name for p in day.people), *(w.product for w in day.wants)]
    names += [c.name for c in day.kitchen.canners] + [p.name for p in day.kitchen.pots]
    if any(mark in name for name in names for mark in ';="[]{}'):
        return
    fewer = _fewer_wanted(made, day, set(gone)) if gone and not day.without else None
    if fewer is not None or not gone:
        yield "; ".join([*(fewer or []), *rest])
    if gone:
        all_gone = "; ".join([*day.without, *gone])
        yield "; ".join([f'day.without="{all_gone}"', *rest])


def _fewer_wanted(made: Batched, day: Day, gone: set[str]) -> list[str] | None:
    """As many jars wanted as are still made; the last wants of a product give first."""
    parts = []
    for group in made.groups:
        mine = [
            b
            for b in made.batches
            if b.product == group.chosen.product
            and made.chosen[b.id].fitted.jar == group.chosen.fitted.jar
        ]
        if not any(b.id in gone for b in mine):
            continue
        # the first of them are made when fewer are wanted, whichever are left out
        many = sum(b.id not in gone for b in mine)
        left = sum(b.jars for b in mine[:many])
        for want in group.wants:
            if sum(w.product == want.product for w in day.wants) > 1:
                return None
            jars = min(want.jars, left)
            left -= jars
            if want.by is not None and jars != want.jars:
                return None
            path = f"wants.{in_path(want.product)}"
            if jars == 0:
                parts.append(f"{path}=nothing")
            elif jars != want.jars:
                parts.append(f"{path}.jars={jars}")
    return parts


class _Typing:
    """Hours, room and things of a day, as they are typed."""

    def __init__(self, day: Day, problem: Problem, changes: Changes) -> None:
        self.day, self.problem, self.changes = day, problem, changes
        given = {c.kind: c.amount for c in changes if not c.subject}
        self.starts = _moved(day.starts, -given.get(Kind.STARTS, 0))
        self.ends = _moved(day.ends, given.get(Kind.ENDS, 0))

    def typed(self, change: Change) -> Iterator[str]:
        """One change, in one part or more."""
        day, minutes = self.day, change.amount
        who = next((p for p in day.people if p.name == change.subject), None)
        match change.kind:
            case Kind.ROOM:
                yield f"kitchen.counter={day.kitchen.counter_places + minutes}"
            case Kind.STARTS:
                yield f"day.starts={self.starts:%H:%M}"
                for p in day.people:
                    if self.starts < p.comes <= day.starts:
                        yield f"people.{in_path(p.name)}.comes={self.starts:%H:%M}"
            case Kind.ENDS:
                yield f"day.ends={self.ends:%H:%M}"
                for p in day.people:
                    if day.ends <= p.goes < self.ends:
                        yield f"people.{in_path(p.name)}.goes={self.ends:%H:%M}"
            case Kind.COMES:
                assert who is not None
                comes = _moved(who.comes, -minutes)
                yield f"people.{in_path(who.name)}.comes={comes:%H:%M}"
            case Kind.STAYS:
                assert who is not None
                goes = _moved(who.goes, minutes)
                yield f"people.{in_path(who.name)}.goes={goes:%H:%M}"
            case _:
                yield from self._thing(change)

    def _thing(self, change: Change) -> Iterator[str]:
        more = changed(self.problem, (change,))
        there = {p.id for p in self.problem.people}
        for person in more.people:
            if person.id not in there:
                can = ", ".join(f'"{skill}"' for skill in sorted(person.skills))
                yield (
                    f'people.{person.id}={{ comes = "{self.starts:%H:%M}", '
                    f'goes = "{self.ends:%H:%M}", can = [{can}] }}'
                )
        fires = {b.id for b in self.problem.burners}
        for fire in more.burners:
            if fire.id not in fires:
                yield f'kitchen.burners.{fire.id}={{ power = "{fire.power_w:g} W" }}'
        canners = {c.id for c in self.problem.canners}
        for canner in more.canners:
            if canner.id not in canners:
                like = self.problem.canners[0].id
                on = ", ".join(f'"{name}"' for name in canner.burners)
                yield f"kitchen.canners.{canner.id}=like {like}"
                yield f"kitchen.canners.{canner.id}.stands_on=[{on}]"
        pots = {p.id for p in self.problem.pots}
        for pot in more.pots:
            if pot.id not in pots:
                like = next(p.id for p in self.problem.pots if p.size == pot.size)
                yield f"kitchen.pots.{pot.id}=like {like}"


def _moved(clock: dt.time, minutes: int) -> dt.time:
    total = clock.hour * 60 + clock.minute + minutes
    total = max(0, min(total, 24 * 60 - 1))
    return dt.time(total // 60, total % 60)
