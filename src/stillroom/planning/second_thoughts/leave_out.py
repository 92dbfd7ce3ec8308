"""Which batch to leave out when a day has slipped: each one tried, with its figures."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

from stillroom.in_a_list import all_of
from stillroom.planning.begun.changes import (
    Changed,
    Changes,
    may_be_dropped,
    with_changes,
)
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.due_words import product_of
from stillroom.planning.happened import Happened
from stillroom.planning.how_good.lateness import batches_done_min
from stillroom.planning.problem import Problem, Want
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.timetable import Timetable
from stillroom.refusal import Refusal

MOST_TRIED = 3
WORTH_A_PROMISE_MIN = 30
"""Nobody is told that their jars are not made for less than this: our own. [min]"""
LEAST_S = 0.3
"""Less time than this for one batch finds nothing worth showing. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A batch that may be left out, and what the day then comes to."""

    batch: str
    jars: int
    found: Replanned
    promises_said: tuple[str, ...] = ()
    """Which promises are kept without it and not with it, and which are not made."""

    @property
    def finish_min(self) -> int:
        """End of the day without it. [min]"""
        return self.found.new.finish_min

    @property
    def limits_said(self) -> str:
        """How many limits give way then, and who stays longer, in words."""
        stay = all_of(
            [
                f"{person} stays {said_minutes(minutes)} longer"
                for person, minutes in self.found.longer_min.items()
            ]
        )
        match len(self.found.limits):
            case 0:
                limits = "no limit gives way"
            case 1:
                limits = "1 limit gives way"
            case more:
                limits = f"{more} limits give way"
        return f"{limits}, and {stay}" if stay else limits


def gives_way_min(found: Replanned) -> int:
    """Minutes and places by which limits give way, and people stay on, summed."""
    over = sum(minutes for _, minutes in found.limits)
    return over + sum(found.longer_min.values()) + found.more_places


def offers(
    problem: Problem,
    old: Timetable,
    happened: Happened,
    found: Replanned,
    changes: Changes,
    *,
    seconds: float,
) -> tuple[Offer, ...]:
    """
    Return the batches that it helps to leave out, the most helpful first.

    Of each product the one that is to be begun last is tried. Where the day is no worse
    than it was, only what makes a promise less late helps; what was itself promised has
    to bring half an hour.

    Parameters
    ----------
    problem : Problem
        The day, before ``changes``.
    old : Timetable
        Its plan so far.
    happened : Happened
        What has begun.
    found : Replanned
        The rest of the day with everything in it.
    changes : Changes
        What else turned out otherwise.
    seconds : float
        For all of them together. [s]
    """
    until = time.monotonic() + seconds
    is_worse = found.later_min > 0 or gives_way_min(found) > 0
    late = [promise.want for promise in found.promises if promise.is_late_min]
    tried = _to_be_tried(problem, old, happened, changes, found, late)[:MOST_TRIED]
    helpful = []
    for left, name in zip(range(len(tried), 0, -1), tried, strict=True):
        share = (until - time.monotonic()) / left
        if share < LEAST_S:
            break
        without = replace(changes, dropped=(*changes.dropped, name))
        changed = with_changes(problem, old, happened, without)
        if isinstance(changed, Refusal):
            continue
        again = _from_what_was_found(changed, found, happened, without, share)
        if isinstance(again, Refusal):
            continue
        jars = next(b.jars for b in problem.batches if b.id == name)
        said = _promises_said(again, found, late)
        offer = Offer(batch=name, jars=jars, found=again, promises_said=said)
        breaks = _breaks(offer, found)
        least = (WORTH_A_PROMISE_MIN, 0) if breaks else (0, 1)
        brings = (
            mine - its for mine, its in zip(_worth(found), _worth(again), strict=True)
        )
        is_sooner = is_worse and tuple(brings) >= least
        is_less_late = not breaks and _late(again) < _late(found)
        if is_sooner or is_less_late:
            helpful.append(offer)
    return tuple(
        sorted(
            helpful, key=lambda o: (_breaks(o, found), _late(o.found), *_worth(o.found))
        )
    )


def _from_what_was_found(
    changed: Changed,
    found: Replanned,
    happened: Happened,
    changes: Changes,
    seconds: float,
) -> Replanned | Refusal:
    """The day without a batch: never worse than what was found, less that batch."""
    # who stays on for the whole of it is asked for the rest, too
    changed = replace(changed, goes=changed.goes - found.longer_min.keys())
    # its breaks and absences are at their new hours already
    changes = replace(changes, moved_min={})
    begun_from = with_changes(found.problem, found.new, happened, changes)
    if isinstance(begun_from, Refusal):
        return begun_from
    again = replan_changed(
        changed,
        happened,
        seconds=seconds,
        promised_min=found.new.finish_min - found.later_min,
        begin=begun_from.plan,
    )
    return replace(again, old_order=None)


def _worth(found: Replanned) -> tuple[int, int]:
    return found.new.finish_min + gives_way_min(found), found.new.finish_min


def _late(found: Replanned) -> int:
    """Minutes by which promises are missed times their weights, summed."""
    return sum(p.want.weight * p.is_late_min for p in found.promises)


def _promises_said(
    again: Replanned, found: Replanned, late: Sequence[Want]
) -> tuple[str, ...]:
    """What becomes of promises without a batch that does not with it."""
    starts = again.problem.starts_at
    in_time = {p.want.product for p in again.promises if not p.is_late_min}
    in_time -= {out.product for out in again.not_made}
    kept = (
        f"{product_of(want.product)} is there by {clock_time(starts, want.by_min)}"
        for want in late
        if want.product in in_time
    )
    before = found.promises_said
    return (*kept, *(said for said in again.promises_said if said not in before))


def _breaks(offer: Offer, found: Replanned) -> bool:
    """Whether jars of a promise are not made without the batch, and are with it."""
    before = set(found.not_made)
    return any(out not in before for out in offer.found.not_made)


def _to_be_tried(
    problem: Problem,
    old: Timetable,
    happened: Happened,
    changes: Changes,
    found: Replanned,
    late: Sequence[Want],
) -> list[str]:
    """
    Batches that may be left out, one of each product, the last to begin first.

    Where promises are late, what nobody was promised comes before the rest, and of each
    product it is a batch that is begun before the late goods are there.
    """
    begins: dict[str, int] = {}
    for s in old.steps:
        if (s.batch, s.step) not in happened.begun:
            begins[s.batch] = min(begins.get(s.batch, s.start_min), s.start_min)
    promised = {want.product for want in problem.wants} if late else set()
    done = batches_done_min(found.problem, found.new)
    wanted = {want.product for want in late}
    there = [
        done[b.id]
        for b in found.problem.batches
        if b.id in done and not wanted.isdisjoint(b.serves)
    ]
    until = max(there, default=old.finish_min)

    def place(name: str) -> tuple[bool, int]:
        return begins[name] < until, begins[name]

    last: dict[tuple[str, ...], str] = {}
    for batch in problem.batches:
        if batch.id in changes.dropped or batch.id not in begins:
            continue
        if not may_be_dropped(problem, happened, batch.id):
            continue
        other = last.get(batch.serves)
        if other is None or place(other) < place(batch.id):
            last[batch.serves] = batch.id
    return [
        last[serves]
        for serves in sorted(
            last,
            key=lambda serves: (
                not promised.isdisjoint(serves),
                -begins[last[serves]],
            ),
        )
    ]
