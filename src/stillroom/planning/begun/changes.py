"""What turns out otherwise: who goes or comes, what breaks, what is left out."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from stillroom.planning.begun.absences import not_there_until
from stillroom.planning.begun.held import InHand
from stillroom.planning.begun.moved_rests import Moved, with_moved
from stillroom.planning.begun.promised_anew import (
    LackingJars,
    not_made,
    served_anew,
    taken_over,
)
from stillroom.planning.begun.who_goes import (
    for_other_hands,
    in_hand_at,
    not_to_be_spared,
)
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Happened
from stillroom.planning.how_good.lateness import batches_done_min, late_wants
from stillroom.planning.problem import Batch, Person, Problem, wants_of
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.waits.load_names import LoadNames
from stillroom.refusal import COMMON_PRACTICE, Refusal

OUR_PLAN = "how Stillroom plans a day again"


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What somebody knows of the rest of the day."""

    leaves_min: Mapping[str, int] = field(default_factory=dict)
    """Person to the minute at which they leave."""
    back_min: Mapping[str, int] = field(default_factory=dict)
    """Person to the minute until which they are not there."""
    moved_min: Moved = field(default_factory=dict)
    """Breaks and absences to come that begin at another hour."""
    broken: Collection[str] = ()
    """Canners that take no load any more."""
    dropped: Collection[str] = ()
    """Batches that are left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """The day as it is now to be planned, and its plan without what is left out."""

    problem: Problem
    plan: Timetable
    goes: frozenset[str] = frozenset()
    """
    People whose hour of going was said, and who are not asked to stay longer: others
    can end what has begun.
    """
    ends_first: Mapping[str, InHand] = field(default_factory=dict)
    """Of those, who goes later than said, and what is in hand until then."""
    not_made: tuple[LackingJars, ...] = ()
    """Jars that were promised by an hour and are in no batch of the plan."""
    was_late_min: Mapping[str, int] = field(default_factory=dict)
    """Want to the minutes by which it was missed before the changes."""
    taken_over: tuple[tuple[str, str], ...] = ()
    """(batch, want) whose jars come from that batch now, and did not before."""


def with_changes(
    problem: Problem, plan: Timetable, happened: Happened, changes: Changes
) -> Changed | Refusal:
    """
    Return the day with changes.

    A batch can be left out as long as nothing of it is in a pot; what was begun of it
    stays in the past, and jars of its like go to those whom it was for. A canner that
    holds a load is emptied first.
    """
    no = _refused(problem, plan, happened, changes)
    if no is not None:
        return no
    moved = with_moved(problem, plan, happened, changes.moved_min)
    if isinstance(moved, Refusal):
        return moved
    problem, plan = moved
    leaves = {who: max(at, happened.now_min) for who, at in changes.leaves_min.items()}
    people = tuple(
        _leaving(_coming(p, changes, happened), changes, happened)
        for p in problem.people
    )
    canners = tuple(
        replace(c, places=dict.fromkeys(c.places, 0)) if c.id in changes.broken else c
        for c in problem.canners
    )
    planned = {(s.batch, s.step): s for s in plan.steps}
    batches = [
        _left(for_other_hands(b, leaves, happened, planned), happened, changes)
        for b in problem.batches
    ]
    kept = tuple(b for b in batches if b is not None)
    kept = served_anew(
        problem.wants,
        problem.batches,
        kept,
        changes.dropped,
        batches_done_min(problem, plan),
    )
    made = [b for b in kept if b.id not in changes.dropped]
    changed = replace(
        problem,
        people=people,
        canners=canners,
        batches=kept,
        wants=wants_of(problem.wants, made),
    )
    goes = frozenset(p.id for p in people if p.goes_then)
    goes -= not_to_be_spared(changed, happened, goes, {*changes.dropped})
    in_hand = {who: in_hand_at(who, leaves[who], happened) for who in goes & {*leaves}}
    ends_first = {who: held for who, held in in_hand.items() if held is not None}
    people = tuple(
        replace(p, leaves_min=max(p.leaves_min, ends_first[p.id].end_min))
        if p.id in ends_first
        else p
        for p in changed.people
    )
    return Changed(
        problem=replace(changed, people=people),
        plan=_without(plan, happened, changes),
        goes=goes,
        ends_first=ends_first,
        not_made=not_made(problem.wants, made),
        taken_over=taken_over(problem.wants, problem.batches, made),
        was_late_min={want.product: over for want, over in late_wants(problem, plan)},
    )


def _refused(
    problem: Problem, plan: Timetable, happened: Happened, changes: Changes
) -> Refusal | None:
    """Say which of the changes cannot be, the first of them; `None` where all can."""
    names = {b.id for b in problem.batches}
    for name in changes.dropped:
        if name not in names:
            return Refusal(
                f'there is no batch "{name}" in the plan',
                instead=f"choose one of these: {', '.join(sorted(names))}",
                source=OUR_PLAN,
            )
        if not may_be_dropped(problem, happened, name):
            return Refusal(
                f"{name} is in its pot or in its jars already",
                instead="finish it; leave out a batch that has not been put on",
                source=COMMON_PRACTICE,
            )
    for canner in changes.broken:
        held = _held_in(happened, canner)
        if held is not None:
            called = LoadNames(problem, plan)
            return Refusal(
                f"{called.canner[held.id]} still holds {called.short(held.id)}",
                instead="say at the stove that its boil was lost, bring the jars to a "
                "full boil in another canner, and lift them out before planning again",
                source=OUR_PLAN,
            )
    for name, leaves in changes.leaves_min.items():
        if leaves < 0:  # 7:00 for seven in the evening
            starts = problem.starts_at
            return Refusal(
                f"{name} cannot leave at {clock_time(starts, leaves)}: the day begins "
                f"at {clock_time(starts, 0)}",
                instead='give the hour of 24, "19:00", or "7 pm"',
                source=OUR_PLAN,
            )
    for name, back in changes.back_min.items():
        if back <= happened.now_min:
            starts = problem.starts_at
            return Refusal(
                f"{name} cannot come at {clock_time(starts, back)}: it is "
                f"{clock_time(starts, happened.now_min)} now",
                instead="give the hour at which they come, or are back; whoever is "
                "there needs no hour",
                source=OUR_PLAN,
            )
    return None


def may_be_dropped(problem: Problem, happened: Happened, batch_id: str) -> bool:
    """Whether nothing of a batch is in a pot, in a mill, in jars or in its crock."""
    batch = next(b for b in problem.batches if b.id == batch_id)
    open_ = {s.id for s in batch.steps} - {
        step for b, step in happened.begun if b == batch_id
    }
    begun = [s for s in batch.steps if s.id not in open_]
    aboard = any(batch_id == b for load in happened.loads for b, _ in load.jars)
    if aboard or not open_:
        return False
    return not any(s.in_pot or s.on_mill or s.put_up for s in begun)


def _held_in(happened: Happened, canner: str) -> PlacedLoad | None:
    return next(
        (
            load
            for load in happened.loads
            if load.canner == canner and load.lift_min >= happened.now_min
        ),
        None,
    )


def _coming(person: Person, changes: Changes, happened: Happened) -> Person:
    back = changes.back_min.get(person.id)
    return person if back is None else not_there_until(person, back, happened)


def _leaving(person: Person, changes: Changes, happened: Happened) -> Person:
    leaves = changes.leaves_min.get(person.id)
    if leaves is None:
        return person
    # who goes before the hour of their coming does not come
    leaves = max(leaves, happened.now_min, person.arrives_min)
    breaks = tuple(
        b for b in person.breaks if b.earliest_min + b.duration_min <= leaves
    )
    return replace(person, leaves_min=leaves, breaks=breaks, goes_then=True)


def _left(batch: Batch, happened: Happened, changes: Changes) -> Batch | None:
    """The batch; of one that is left out what was begun, as work without goods."""
    if batch.id not in changes.dropped:
        return batch
    steps = tuple(s for s in batch.steps if (batch.id, s.id) in happened.begun)
    if not steps:
        return None
    ids = {s.id for s in steps}
    return replace(
        batch,
        product=batch.contents or batch.product,
        jars=0,
        process=None,
        pots=(),
        also_for=(),
        ready_after=steps[-1].id,
        steps=steps,
        links=tuple(k for k in batch.links if k.before in ids and k.after in ids),
        windows=(),
    )


def _without(plan: Timetable, happened: Happened, changes: Changes) -> Timetable:
    """The plan without what is left out, as far as it has not begun."""
    if not changes.dropped:
        return plan
    begun = happened.begun
    steps = tuple(
        s
        for s in plan.steps
        if s.batch not in changes.dropped or (s.batch, s.step) in begun
    )
    loads = []
    for load in plan.loads:
        jars = tuple((b, n) for b, n in load.jars if b not in changes.dropped)
        if jars:
            loads.append(replace(load, jars=jars))
    return replace(plan, steps=steps, loads=tuple(loads))
