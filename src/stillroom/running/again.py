"""
The rest of a running day planned again: from its events, and what she says beside them.

Pure but for the search: it reads no clock and writes nothing. What is shown is what
`TakePlan` takes over.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.as_known import LOWER, Known, as_known
from stillroom.planning.begun.changes import OUR_PLAN, Changes, with_changes
from stillroom.planning.begun.promised_anew import not_made
from stillroom.planning.dayplan import DayPlan, MadeBatch, Spare
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Problem, Want
from stillroom.planning.second_thoughts.before_its_hour import sooner
from stillroom.planning.second_thoughts.leave_out import Offer, gives_way_min, offers
from stillroom.planning.second_thoughts.replan import SECONDS
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.second_thoughts.take_in import Room, has_room, rooms, take_in
from stillroom.planning.timetable import Answer, Timetable
from stillroom.refusal import Refusal
from stillroom.running.commands import TakePlan
from stillroom.running.events import KeptPlan, LeftOut, RunBatch
from stillroom.running.fold import RunState
from stillroom.running.loads import loads_in, named_on
from stillroom.running.so_far import said_of_the_day

HARDER = 2
"""So many times as long is searched where hands or a canner are gone."""
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Again:
    """A day planned again, with what may be left out, or taken in."""

    seen: int
    """Events of the run that it knows."""
    of: str
    """Mark of the day file that the run was begun by."""
    told: Told
    known: Known
    found: Replanned
    offers: tuple[Offer, ...]
    rooms: tuple[Room, ...] = ()
    """Batches that were left out in the morning and have room now."""
    spares: tuple[Spare, ...] = ()
    """Those of ``told.taken``."""


def plan_again(
    state: RunState,
    at: dt.datetime,
    told: Told,
    *,
    seconds: float = SECONDS,
    offers_s: float = OFFERS_S,
    spares: Sequence[Spare] = (),
    promised: Sequence[Want] = (),
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
    spares : sequence of Spare
        Batches that the run is without, the most missed first.
    promised : sequence of Want
        What was promised by an hour when the day began, where more than the run still
        serves: what is not made of it is named again.
    """
    plan = state.plan
    if plan is None or state.begun_at is None:
        return Refusal(
            "this day was not begun with a plan, so there is nothing to plan again",
            instead="begin the day at the stove; before it begins, change the day file",
            source=OUR_PLAN,
        )
    now, said = said_of_the_day(
        state,
        plan,
        at,
        more_min=dict(told.more_min),
        not_begun=told.not_begun,
    )
    known = as_known(plan.problem, plan.timetable, now, said)
    taken = [spare for spare in spares if spare.batch.id in told.taken]
    unknown = set(told.taken) - {spare.batch.id for spare in taken}
    if unknown:
        names = ", ".join(spare.batch.id for spare in spares) or "none"
        return Refusal(
            f'"{min(unknown)[:80]}" is no batch that was left out of this day',
            instead=f"choose one of these: {names}",
            source=OUR_PLAN,
        )
    early = sooner(known)
    problem, old = early.day(plan.problem), early.plan(plan.timetable)
    happened, changes = early.happened(known.happened), early.changes(told.changes)
    missing = [early.spare(plan.problem, spare) for spare in spares]
    asked = [spare for spare in missing if spare.batch.id in told.taken]
    if told.changes.leaves_min or told.changes.broken or taken:
        seconds *= HARDER
    try:
        found = _found(problem, old, happened, changes, asked, seconds)
        if isinstance(found, Refusal):
            return found
        room: tuple[Room, ...] = ()
        if not taken and spares and has_room(found) and found.later_min <= 0:
            room = rooms(
                problem, old, happened, missing, changes, found, seconds=ROOMS_S
            )
    except BrokenPlan as broken:
        return Refusal(
            f"what has happened does not go together for the planner: {broken}",
            instead="say of the steps that run which have not begun, and plan again; "
            "the clocks at the stove go on",
            source=OUR_PLAN,
        )
    helpful: tuple[Offer, ...] = ()
    late = any(promise.is_late_min for promise in found.promises)
    if not taken and (found.later_min > 0 or gives_way_min(found) or late):
        helpful = offers(problem, old, happened, found, changes, seconds=offers_s)
    spare_of = {spare.batch.id: spare for spare in spares}
    asked_for = (*plan.problem.wants, *(w for s in taken for w in s.wants), *promised)
    wants = {want.product: want for want in asked_for}.values()
    return Again(
        seen=state.sequence,
        of=plan.of,
        told=told,
        known=known,
        found=_naming(early.back(found), wants),
        offers=tuple(
            replace(offer, found=_naming(early.back(offer.found), wants))
            for offer in helpful
        ),
        rooms=tuple(
            Room(
                spare=spare_of[one.batch],
                found=_naming(early.back(one.found), wants),
            )
            for one in room
        ),
        spares=tuple(taken),
    )


def _naming(found: Replanned, wants: Iterable[Want]) -> Replanned:
    """The same with all that was promised and is not made, now or since the morning."""
    return replace(found, not_made=not_made(wants, found.problem.batches))


def _found(
    problem: Problem,
    old: Timetable,
    happened: Happened,
    changes: Changes,
    taken: Sequence[Spare],
    seconds: float,
) -> Replanned | Refusal:
    """The rest of the day, with what is taken in."""
    promised = old.finish_min
    if taken:
        return take_in(
            problem,
            old,
            happened,
            taken,
            changes,
            seconds=seconds,
            promised_min=promised,
        )
    changed = with_changes(problem, old, happened, changes)
    if isinstance(changed, Refusal):
        return changed
    return replan_changed(changed, happened, seconds=seconds, promised_min=promised)


def with_room(again: Again, room: Room) -> Again:
    """Return the same with a batch taken in, as it was offered."""
    told = replace(again.told, taken=(*again.told.taken, room.batch))
    spares = (*again.spares, room.spare)
    return replace(
        again, told=told, found=room.found, offers=(), rooms=(), spares=spares
    )


def without(again: Again, offer: Offer) -> Again:
    """Return the same with one more batch left out, as it was offered."""
    changes = again.told.changes
    dropped = (*changes.dropped, offer.batch)
    told = replace(again.told, changes=replace(changes, dropped=dropped))
    return replace(again, told=told, found=offer.found, offers=(), rooms=())


def keeps_of(batch: MadeBatch) -> tuple[str, ...]:
    """What stays of a batch that is left out: food that it would have drawn."""
    return tuple(
        f"{draw.text} of {draw.lot}" for draw in batch.draws if draw.count is None
    )


def taking(
    again: Again,
    state: RunState,
    batches: Sequence[MadeBatch],
    at: dt.datetime,
    sentence: str,
    taken_in: tuple[RunBatch, ...] = (),
) -> TakePlan:
    """
    Return the command that takes a plan over as it was shown.

    ``batches`` are all of the day, also those that are taken in; ``taken_in`` are these
    as the run knows a batch.
    """
    made = {batch.id: batch for batch in batches}
    found = again.found
    loads = loads_in(found.problem, found.new, batches)
    return TakePlan(
        at=at,
        seen=again.seen,
        plan=KeptPlan(of=again.of, problem=found.problem, timetable=found.new),
        loads=named_on(loads, state),
        sentence=sentence,
        over=(
            *(
                (s.batch, s.step)
                for s in found.happened.steps
                if not found.happened.runs(s)
            ),
            *((load.id, LOWER) for load in found.happened.loads),
        ),
        left_out=tuple(
            LeftOut(batch=name, keeps=keeps_of(made[name]) if name in made else ())
            for name in again.told.changes.dropped
        ),
        taken_in=taken_in,
    )


def taken_in(plan: DayPlan, again: Again) -> DayPlan:
    """The batches alone that are taken in, placed as they were shown."""
    answer = plan.answer
    if isinstance(answer, Answer):
        answer = replace(answer, timetable=again.found.new)
    return replace(
        plan,
        problem=again.found.problem,
        batches=tuple(spare.made for spare in again.spares),
        answer=answer,
    )
