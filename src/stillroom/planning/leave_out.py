"""Which batch to leave out when a day has slipped: each one tried, with its figures."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

from stillroom.planning.changes import (
    Changed,
    Changes,
    may_be_dropped,
    with_changes,
)
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem
from stillroom.planning.replan_changed import replan_changed
from stillroom.planning.replanned import Replanned
from stillroom.planning.timetable import Timetable
from stillroom.refusal import Refusal

MOST_TRIED = 3
LEAST_S = 0.3
"""Less time than this for one batch finds nothing worth showing. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A batch that may be left out, and what the day then comes to."""

    batch: str
    jars: int
    found: Replanned

    @property
    def finish_min(self) -> int:
        """End of the day without it. [min]"""
        return self.found.new.finish_min

    @property
    def limits_said(self) -> str:
        """How many limits give way then, in words."""
        match len(self.found.limits):
            case 0:
                return "no limit gives way"
            case 1:
                return "1 limit gives way"
            case more:
                return f"{more} limits give way"


def gives_way_min(found: Replanned) -> int:
    """Minutes and places by which limits give way, and people stay on, summed."""
    over = sum(minutes for _, minutes in found.broken)
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

    Of each product the one that is to be begun last is tried.

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
    tried = _last_of_each(problem, old, happened, changes)[:MOST_TRIED]
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
        if _worth(again) < _worth(found):
            jars = next(b.jars for b in problem.batches if b.id == name)
            helpful.append(Offer(batch=name, jars=jars, found=again))
    return tuple(sorted(helpful, key=lambda o: _worth(o.found)))


def _from_what_was_found(
    changed: Changed,
    found: Replanned,
    happened: Happened,
    changes: Changes,
    seconds: float,
) -> Replanned | Refusal:
    """The day without a batch: never worse than what was found, less that batch."""
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


def _last_of_each(
    problem: Problem, old: Timetable, happened: Happened, changes: Changes
) -> list[str]:
    """Batches that may be left out, one of each product, the last to begin first."""
    begins: dict[str, int] = {}
    for s in old.steps:
        if (s.batch, s.step) not in happened.begun:
            begins[s.batch] = min(begins.get(s.batch, s.start_min), s.start_min)
    last: dict[str, str] = {}
    for batch in problem.batches:
        if batch.id in changes.dropped or batch.id not in begins:
            continue
        if not may_be_dropped(problem, happened, batch.id):
            continue
        other = last.get(batch.product)
        if other is None or begins[other] < begins[batch.id]:
            last[batch.product] = batch.id
    return sorted(last.values(), key=lambda name: -begins[name])
