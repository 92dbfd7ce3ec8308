"""
The rest of a running day planned again: from its events, and what she says beside them.

Pure but for the search: it reads no clock and writes nothing. What is shown is what
`TakePlan` takes over.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.as_known import LOWER, Known, as_known
from stillroom.planning.begun.changes import OUR_PLAN, Changes
from stillroom.planning.begun.moved_rests import to_come
from stillroom.planning.begun.over import with_jars_left
from stillroom.planning.begun.promised_anew import not_made
from stillroom.planning.dayplan import Spare
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.before_its_hour import sooner
from stillroom.planning.second_thoughts.leave_out import Offer, gives_way_min, offers
from stillroom.planning.second_thoughts.limit_words import not_together
from stillroom.planning.second_thoughts.replan import SECONDS
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.second_thoughts.take_in import Room, has_room, rooms, take_in
from stillroom.planning.second_thoughts.until_it_fits import Fitted, until_it_fits
from stillroom.planning.timetable import Timetable
from stillroom.refusal import Refusal
from stillroom.running.batches import batches_in
from stillroom.running.commands import TakePlan
from stillroom.running.events import KeptPlan, LeftOut, RunBatch
from stillroom.running.fold import RunState
from stillroom.running.kept_plan import OwnFile, as_called
from stillroom.running.loads import (
    loads_in,
    named_on,
    published_as_begun,
    published_for,
)
from stillroom.running.rules import OUR_RECORD
from stillroom.running.so_far import said_of_the_day
from stillroom.running.under_way import left_of

HARDER = 2
"""So many times as long is searched where hands or a canner are gone, or at another
hour."""
OFFERS_S = 1.8
"""For trying which batch might be left out. [s]"""
ROOMS_S = 4.0
"""For trying which batch that was left out has room now. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What she says beside what was tapped."""

    more_min: Mapping[Key, int] = field(default_factory=dict)
    """(batch, step) that runs to the minutes that it still needs."""
    not_begun: frozenset[Key] = frozenset()
    changes: Changes = field(default_factory=Changes)
    taken: tuple[str, ...] = ()
    """Batches that were left out and are taken in."""
    given_up: frozenset[str] = frozenset()
    """Loads without a clock whose jars are booked as never processed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """
    A day planned again, with what may be left out, or taken in.

    It has all that is needed to take it over, whatever day file stands by then.
    """

    at: dt.datetime
    """Now, as the rest begins."""
    seen: int
    """Events of the run that it knows."""
    of: str
    """Mark of the day file that the run was begun by."""
    told: Told
    """What she said, with what the planner left out for it."""
    known: Known
    found: Replanned
    offers: tuple[Offer, ...]
    rooms: tuple[Room, ...] = ()
    """Batches that were left out in the morning and have room now."""
    spares: tuple[Spare, ...] = ()
    """Those of ``told.taken``."""
    own: OwnFile = field(default_factory=OwnFile)
    """What the day file of the run said when it was planned."""
    said: Told = field(default_factory=Told)
    """What she said, and no more."""
    better: bool | None = None
    """Whether a longer search found it; `None` where there was none."""


def is_harder(told: Told) -> bool:
    """Whether hands, a canner or an hour are otherwise, or a batch comes in."""
    said = told.changes
    return bool(said.leaves_min or said.moved_min or said.broken or told.taken)


def nothing_left(state: RunState) -> Refusal | None:
    """Say that a day that was begun is done; `None` where something is to come yet."""
    left = left_of(state)
    if state.begun_at is None or left.loads or left.steps:
        return None
    jars = "every jar of it is out and " if state.loads else ""
    return Refusal(
        f"the day is done: {jars}every step of it is done: nothing is left to plan "
        "again",
        instead="book the day's lots; if a step was said done by mistake, take that "
        "back at the stove first",
        source=OUR_RECORD,
    )


def plan_again(
    state: RunState,
    at: dt.datetime,
    told: Told,
    *,
    seconds: float = SECONDS,
    offers_s: float = OFFERS_S,
    own: OwnFile | None = None,
) -> Again | Refusal:
    """
    Plan the rest of a run again.

    Parameters
    ----------
    state : RunState
        The run.
    at : datetime
        Now, in the kitchen's own zone.
    told : Told
        What she says beside what was tapped.
    seconds : float
        For the plan. [s]
    offers_s : float
        For trying which batch might be left out, where that may help, or taken in. [s]
    own : OwnFile, optional
        What the day file that it was begun by says: batches that it is without, and
        what was promised, as far as the run no longer serves it.
    """
    own = OwnFile() if own is None else own
    plan = state.plan
    if plan is None or state.begun_at is None:
        return Refusal(
            "this day was not begun with a plan, so there is nothing to plan again",
            instead="begin the day at the stove; before it begins, change the day file",
            source=OUR_PLAN,
        )
    if not own.spares and (done := nothing_left(state)) is not None:
        return done
    now, said = said_of_the_day(
        state,
        plan,
        at,
        more_min=dict(told.more_min),
        not_begun=told.not_begun,
        given_up=told.given_up,
    )
    known = as_known(plan.problem, plan.timetable, now, said)
    if (no := _not_to_come(plan, known, told.changes)) is not None:
        return no
    taken = _taken(told, own.spares)
    if isinstance(taken, Refusal):
        return taken
    early = sooner(known)
    rest = _Rest(
        problem=early.day(plan.problem),
        old=early.plan(as_called(plan.timetable, state)),
        happened=early.happened(known.happened),
        changes=early.changes(told.changes),
        missed=own.missed,
        keep=frozenset(batch for batch, _ in known.not_said),
    )
    missing = [early.spare(plan.problem, spare) for spare in own.spares]
    asked = [spare for spare in missing if spare.batch.id in told.taken]
    if is_harder(told):
        seconds *= HARDER
    try:
        fitted = rest.planned(asked, seconds)
        if isinstance(fitted, Refusal):
            return fitted
        found = fitted.found
        room = () if taken else rest.rooms(found, missing)
    except BrokenPlan as broken:
        return not_together(
            rest.problem,
            rest.old,
            broken,
            instead="say of the steps that run which have not begun, and plan again; "
            "the clocks at the stove go on",
        )
    enough = taken or fitted.left_out  # what is left out is as much as it takes
    helpful = () if enough else rest.offers(found, offers_s)
    asked_for = (
        *state.promised,
        *(want for spare in taken for want in spare.wants),
        *own.promised,
    )
    wants = {want.product: want for want in asked_for}.values()

    def shown(one: Replanned) -> Replanned:
        """In the minutes of the day, with what is not made now or since the morning."""
        back = early.back(one)
        # breaks are shown where they were, also those that she puts at another hour
        old = replace(back.old, breaks=plan.timetable.breaks)
        there = with_jars_left(back.problem.batches, back.new)
        return replace(back, old=old, not_made=not_made(wants, there))

    spare_of = {spare.batch.id: spare for spare in own.spares}
    return Again(
        at=at,
        seen=state.sequence,
        of=plan.of,
        told=_without(told, fitted.left_out),
        said=told,
        known=known,
        found=shown(found),
        offers=tuple(replace(offer, found=shown(offer.found)) for offer in helpful),
        rooms=tuple(
            Room(spare=spare_of[one.batch], found=shown(one.found)) for one in room
        ),
        spares=tuple(taken),
        own=own,
    )


def _not_to_come(plan: KeptPlan, known: Known, changes: Changes) -> Refusal | None:
    """Say that a break or absence that she moves is none to come, or has begun."""
    there = to_come(plan.problem, plan.timetable, known.happened)
    wrong = {*changes.moved_min} - {(one.person, one.start_min) for one in there}
    if not wrong:
        return None
    starts = plan.problem.starts_at
    who, was = min(wrong)
    names = ", ".join(
        f"{one.person} {clock_time(starts, one.start_min)}" for one in there
    )
    return Refusal(
        f"{who[:60]} has no break and no absence to come that begins at "
        f"{clock_time(starts, was)}",
        instead=f"name one of these: {names}"
        if names
        else "say when they come, or are back",
        source=OUR_PLAN,
    )


def _taken(told: Told, spares: Sequence[Spare]) -> list[Spare] | Refusal:
    """Return the batches that she takes in, or which she may."""
    taken = [spare for spare in spares if spare.batch.id in told.taken]
    unknown = set(told.taken) - {spare.batch.id for spare in taken}
    if unknown:
        names = ", ".join(spare.batch.id for spare in spares) or "none"
        return Refusal(
            f'"{min(unknown)[:80]}" is no batch that was left out of this day',
            instead=f"choose one of these: {names}",
            source=OUR_PLAN,
        )
    return taken


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rest:
    """A day that runs, as the planner is asked for the rest of it."""

    problem: Problem
    old: Timetable
    happened: Happened
    changes: Changes
    missed: Sequence[str]
    """Batches, those that would be missed most first."""
    keep: frozenset[str]
    """Batches that may be in their pot although nobody said so."""

    def planned(self, taken: Sequence[Spare], seconds: float) -> Fitted | Refusal:
        """The rest of the day, with what is taken in, or without what does not fit."""
        if taken:
            found = take_in(
                self.problem,
                self.old,
                self.happened,
                taken,
                self.changes,
                seconds=seconds,
                promised_min=self.old.finish_min,
            )
            return found if isinstance(found, Refusal) else Fitted(found=found)
        return until_it_fits(
            self.problem,
            self.old,
            self.happened,
            self.changes,
            missed=self.missed,
            keep=self.keep,
            seconds=seconds,
        )

    def rooms(self, found: Replanned, missing: Sequence[Spare]) -> tuple[Room, ...]:
        """What of the missing may be taken in: looked for where the day is no later."""
        if not missing or not has_room(found) or found.later_min > 0:
            return ()
        return rooms(
            self.problem,
            self.old,
            self.happened,
            missing,
            self.changes,
            found,
            seconds=ROOMS_S,
        )

    def offers(self, found: Replanned, seconds: float) -> tuple[Offer, ...]:
        """What might be left out: tried where the day or a promise comes late."""
        late = any(promise.is_late_min for promise in found.promises)
        if found.later_min <= 0 and not gives_way_min(found) and not late:
            return ()
        return offers(
            self.problem, self.old, self.happened, found, self.changes, seconds=seconds
        )


def with_room(again: Again, room: Room) -> Again:
    """Return the same with a batch taken in, as it was offered."""
    told = replace(again.told, taken=(*again.told.taken, room.batch))
    said = replace(again.said, taken=(*again.said.taken, room.batch))
    spares = (*again.spares, room.spare)
    return replace(
        again,
        told=told,
        said=said,
        found=room.found,
        offers=(),
        rooms=(),
        spares=spares,
    )


def without(again: Again, offer: Offer) -> Again:
    """Return the same with one more batch left out, as it was offered."""
    told = _without(again.told, [offer.batch])
    said = _without(again.said, [offer.batch])
    return replace(again, told=told, said=said, found=offer.found, offers=(), rooms=())


def _without(told: Told, names: Sequence[str]) -> Told:
    changes = told.changes
    dropped = (*changes.dropped, *names)
    return replace(told, changes=replace(changes, dropped=dropped))


def taking(again: Again, state: RunState, at: dt.datetime) -> TakePlan:
    """
    Return the command that takes a plan over as it was shown.

    What has a load in the run keeps its published process, jar and source, whatever
    the day file says by now. A batch that is taken in has those that it was shown with.
    """
    found = again.found
    made = [spare.made for spare in again.spares]
    published = {**published_for(made), **published_as_begun(state)}
    loads = loads_in(found.problem, found.new, published)
    return TakePlan(
        at=at,
        seen=again.seen,
        plan=KeptPlan(of=again.of, problem=found.problem, timetable=found.new),
        loads=named_on(loads, state),
        sentence=found.sentence,
        over=(
            *(
                (s.batch, s.step)
                for s in found.happened.steps
                if not found.happened.runs(s)
            ),
            *((load.id, LOWER) for load in found.happened.loads),
        ),
        left_out=tuple(
            LeftOut(batch=name, keeps=again.own.keeps.get(name, ()))
            for name in again.told.changes.dropped
        ),
        taken_in=_taken_in(again),
    )


def _taken_in(again: Again) -> tuple[RunBatch, ...]:
    """The batches that are taken in, placed as they were shown."""
    day, found = again.own.day, again.found
    if day is None:
        return ()
    made = (spare.made for spare in again.spares)
    return batches_in(day, found.problem, found.new, made)
