"""
A batch that was left out taken back into a day that has begun.

It is put where the plan leaves room by hand, or behind everything else; from there the
rest of the day is planned again by the same rules as after any other change, with the
past fixed. Whether there is room is what then has to give way: nothing more
than without it.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

from stillroom.planning.begun.changes import OUR_PLAN, Changes, with_changes
from stillroom.planning.begun.promised_anew import served_anew
from stillroom.planning.dayplan import Spare
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.happened import Happened
from stillroom.planning.how_good.lateness import batches_done_min, late_wants
from stillroom.planning.problem import Batch, Problem, Window
from stillroom.planning.second_thoughts.leave_out import gives_way_min
from stillroom.planning.second_thoughts.moves import moves_between, open_steps
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.replanned import PUT_OFF, Replanned
from stillroom.planning.timetable import Timetable, numbered_beside
from stillroom.planning.way_changes import ending_later
from stillroom.planning.ways.held_plan import only
from stillroom.planning.ways.put_behind import with_the_others
from stillroom.refusal import Refusal

MOST_TRIED = 2
LEAST_S = 0.5
"""Less time than this for one batch finds nothing worth showing. [s]"""
LONGER_MIN = 600
"""How much longer a day is thought to be for the plan of a batch by itself. [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class WithBatches:
    """The day with batches taken in, and a first plan of it."""

    problem: Problem
    plan: Timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A batch for which there is room, and the day with it."""

    spare: Spare
    found: Replanned

    @property
    def batch(self) -> str:
        """Its name."""
        return self.spare.batch.id

    @property
    def jars(self) -> int:
        """Jars that it fills."""
        return self.spare.made.jars


def rooms(
    problem: Problem,
    plan: Timetable,
    happened: Happened,
    spares: Sequence[Spare],
    changes: Changes,
    found: Replanned,
    *,
    seconds: float,
) -> tuple[Room, ...]:
    """
    Return the batches that may be taken in, one at a time: nothing gives way for them.

    Of each product one is tried, those that are missed most first.

    Parameters
    ----------
    problem, plan, happened, spares, changes
        See `take_in`.
    found : Replanned
        The rest of the day without them.
    seconds : float
        For all of them together. [s]
    """
    until = time.monotonic() + seconds
    tried = list({spare.batch.serves: spare for spare in reversed(spares)}.values())
    tried = tried[::-1][:MOST_TRIED]
    there = []
    for left, spare in zip(range(len(tried), 0, -1), tried, strict=True):
        share = (until - time.monotonic()) / left
        if share < LEAST_S:
            break
        more = take_in(
            problem,
            plan,
            happened,
            [spare],
            changes,
            seconds=share,
            promised_min=found.new.finish_min - found.later_min,
        )
        if not isinstance(more, Refusal) and has_room(more, [spare]):
            there.append(Room(spare=spare, found=more))
    return tuple(there)


def has_room(found: Replanned, spares: Sequence[Spare] = ()) -> bool:
    """
    Whether nothing gives way, nobody stays longer, and no promise comes later.

    ``spares`` are what is taken in: late is better than not at all for their own.
    """
    own = {product for spare in spares for product in spare.batch.serves}
    later = any(p.is_later for p in found.promises if p.want.product not in own)
    return found.made_by != PUT_OFF and not gives_way_min(found) and not later


def with_batches(
    problem: Problem, plan: Timetable, happened: Happened, spares: Sequence[Spare]
) -> WithBatches | Refusal:
    """
    Return a day with batches that were left out, each behind all other work.

    Parameters
    ----------
    problem : Problem
        The day as the run goes by it.
    plan : Timetable
        Its plan so far.
    happened : Happened
        What has begun: a new batch begins after now.
    spares : sequence of Spare
        What is taken in, in this order.
    """
    for spare in spares:
        name = spare.batch.id
        if any(b.id == name for b in problem.batches):
            return Refusal(
                f"{name} is in the plan already",
                instead="choose a batch that was left out",
                source=OUR_PLAN,
            )
        batch = _not_before(spare, happened.now_min)
        problem = _with(problem, batch, spare)
        behind = _behind(problem, plan, happened, name)
        if behind is None:
            return Refusal(
                f"{name} cannot be worked by whoever is still there",
                instead="leave it out; its fruit is kept as was said in the morning",
                source=OUR_PLAN,
            )
        plan = behind
        both = problem.batches
        done = batches_done_min(problem, plan)
        anew = served_anew(problem.wants, both, both, {name}, done)
        problem = replace(problem, batches=anew)
    return WithBatches(problem=problem, plan=plan)


def take_in(
    problem: Problem,
    plan: Timetable,
    happened: Happened,
    spares: Sequence[Spare],
    changes: Changes,
    *,
    seconds: float,
    promised_min: int,
) -> Replanned | Refusal:
    """
    Plan the rest of a day again with batches that were left out.

    Parameters
    ----------
    problem, plan, happened : Problem, Timetable, Happened
        The day as the run goes by it.
    spares : sequence of Spare
        What is taken in.
    changes : Changes
        What else turned out otherwise.
    seconds : float
        For the search. [s]
    promised_min : int
        The end that was said before. [min]
    """
    more = with_batches(problem, plan, happened, spares)
    if isinstance(more, Refusal):
        return more
    changed = with_changes(more.problem, more.plan, happened, changes)
    if isinstance(changed, Refusal):
        return changed
    found = replan_changed(
        changed, happened, seconds=seconds, promised_min=promised_min
    )
    # what is shown beside it is the plan that there was, not the one made up here
    was = with_changes(problem, plan, happened, changes)
    old = plan if isinstance(was, Refusal) else was.plan
    return replace(
        found,
        old=old,
        missed_before_min={
            want.product: over for want, over in late_wants(problem, plan)
        },
        moves=moves_between(happened, old, found.new),
        open_steps=open_steps(happened, old),
        old_order=None,
    )


def _not_before(spare: Spare, now: int) -> Batch:
    """The batch, its fruit not in the pot before it has thawed."""
    if not spare.thaws_min:
        return spare.batch
    first = next((s.id for s in spare.batch.steps if s.in_pot), None)
    first = first or spare.batch.steps[0].id
    thawed = Window(step=first, earliest_min=now + spare.thaws_min, why="it has thawed")
    return replace(spare.batch, windows=(*spare.batch.windows, thawed))


def _with(problem: Problem, batch: Batch, spare: Spare) -> Problem:
    """The day with one batch more, its process and its want."""
    known = {p.id for p in problem.processes}
    wanted = {w.product for w in problem.wants}
    return replace(
        problem,
        batches=(*problem.batches, batch),
        processes=(
            *problem.processes,
            *(p for p in spare.processes if p.id not in known),
        ),
        wants=(
            *problem.wants,
            *(w for w in spare.wants if w.product not in wanted),
        ),
    )


def _behind(
    problem: Problem, plan: Timetable, happened: Happened, name: str
) -> Timetable | None:
    """The plan, and the batch where it leaves room by hand; else behind all of it."""
    longer = ending_later(problem, LONGER_MIN)
    since = happened.now_min
    placed = replace(
        longer,
        batches=tuple(
            _all_from(b, since) if b.id == name else b for b in longer.batches
        ),
    )
    found = with_the_others(placed, plan, [name])
    if found is not None:
        return found
    last = max([since, plan.finish_min, *(r.end_min for r in plan.breaks)])
    alone = by_hand(_by_itself(longer, name, last), seconds=0.0, shuffles=3)
    if alone is None:
        return None
    return _one_after_the_other(plan, alone.moved(last), last)


def _all_from(batch: Batch, minute: int) -> Batch:
    """The batch, no step of it before a minute."""
    held = {w.step: max(w.earliest_min, minute) for w in batch.windows}
    return replace(
        batch,
        windows=tuple(
            Window(step=s.id, earliest_min=held.get(s.id, minute)) for s in batch.steps
        ),
    )


def _by_itself(problem: Problem, name: str, last: int) -> Problem:
    """A day of the one batch alone from a minute on, with everybody there."""
    alone = only(problem, [name])
    return replace(
        alone,
        batches=tuple(replace(b, windows=()) for b in alone.batches),
        wants=(),
        people=tuple(
            replace(p, arrives_min=0, leaves_min=alone.horizon_min, breaks=(), away=())
            for p in alone.people
        ),
        burners=tuple(
            replace(
                b, taken=tuple((start - last, end - last) for start, end in b.taken)
            )
            for b in alone.burners
        ),
    )


def _one_after_the_other(plan: Timetable, more: Timetable, since: int) -> Timetable:
    """Two plans as one, the loads of the second numbered on."""
    loads = numbered_beside(more.loads, (load.id for load in plan.loads))
    assert all(s.start_min >= since for s in more.steps)
    return Timetable(
        steps=(*plan.steps, *more.steps),
        loads=(*plan.loads, *loads),
        breaks=plan.breaks,
    )
