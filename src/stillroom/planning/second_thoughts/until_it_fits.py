"""
The rest of a day of which not all fits: batches left out until what is left does.

Who says when she goes is gone then. Where not all can be done without her, what has not
been put on is left out, the least wanted first, as many as it takes: food that stands
warm for hours, or somebody else kept at work until night, is worse than a batch less.
"""

from __future__ import annotations

import time
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from stillroom.in_a_list import all_of
from stillroom.planning.begun.changes import Changes, may_be_dropped, with_changes
from stillroom.planning.begun.limits_said import rests_in_time
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Happened
from stillroom.planning.problem import Problem, Window
from stillroom.planning.second_thoughts.no_room import no_room
from stillroom.planning.second_thoughts.replan_changed import replan_changed
from stillroom.planning.second_thoughts.replanned import Replanned
from stillroom.planning.timetable import Timetable
from stillroom.planning.ways.put_behind import put_behind
from stillroom.refusal import Refusal

LEAST_S = 0.3
"""Less time than this for one try finds nothing worth showing. [s]"""
SEARCHES = 3
"""So many searches as the next one are thought to fit into the time that is left."""
SHARE_OF_ALL = 0.2
"""Of the time that is left, for the day with everything, and then without."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """The rest of the day, and which batches are left out of it for that."""

    found: Replanned
    left_out: tuple[str, ...] = ()


def until_it_fits(
    problem: Problem,
    old: Timetable,
    happened: Happened,
    changes: Changes,
    *,
    missed: Sequence[str] = (),
    keep: Collection[str] = (),
    seconds: float,
) -> Fitted | Refusal:
    """
    Plan the rest of a day again after changes, without what cannot be made any more.

    Where everything fits, nothing is left out. Where nobody goes, and a day has only
    slipped, it is so only for food that would stand for hours; it takes twice the time
    then.

    Parameters
    ----------
    problem : Problem
        The day, before ``changes``.
    old : Timetable
        Its plan so far.
    happened : Happened
        What has begun.
    changes : Changes
        What turned out otherwise.
    missed : sequence of str
        Batches, those that would be missed most first; what is not named comes behind.
    keep : collection of str
        Batches that may be in their pot although nobody said so.
    seconds : float
        For everything. [s]
    """
    day = _Day(problem, old, happened, changes, time.monotonic() + seconds)
    may_go = [name for name in day.least_missed_first(missed) if name not in keep]
    goes = bool(may_go and day.goes)
    best = day.without([], day.left_s * (SHARE_OF_ALL if goes else 1.0))
    if isinstance(best, Refusal) or not may_go:
        return best
    if not goes:
        if not any(one.is_too_long for one in best.found.standing):
            return best
        day.until = time.monotonic() + seconds
    if not harm_min(best.found):
        return day.longer(best)
    alone = day.without(may_go, day.left_s * SHARE_OF_ALL)
    if isinstance(alone, Refusal) or harm_min(alone.found) >= harm_min(best.found):
        return day.longer(best)
    return day.longer(day.filled(alone, may_go[::-1]))


def harm_min(found: Replanned) -> int:
    """
    Minutes and places by which anything but an hour of rest gives way, summed.

    Who stays longer than was said, and the end of the day, are among them.
    """
    rests = {rests_in_time(p.id) for p in found.problem.people}
    past = found.by_now_min
    over = sum(
        # a rule that nobody can keep at all has no minutes
        max(1, minutes) - by_now
        for (what, minutes), by_now in zip(found.limits, past, strict=True)
        if what not in rests
    )
    return over + sum(found.longer_min.values()) + found.more_places


@dataclass(slots=True)
class _Day:
    """A day that runs, as it is tried without some of its batches."""

    problem: Problem
    old: Timetable
    happened: Happened
    changes: Changes
    until: float
    """`time.monotonic` at which it must be over. [s]"""

    @property
    def left_s(self) -> float:
        return self.until - time.monotonic()

    @property
    def goes(self) -> dict[str, int]:
        """Who goes when, of those who have said so, now or before. [min]"""
        said = {
            p.id: p.leaves_min
            for p in self.problem.people
            if p.goes_then and p.leaves_min > self.happened.now_min
        }
        return {**said, **self.changes.leaves_min}

    @property
    def because(self) -> str:
        """The same in words; empty where nobody does."""
        starts = self.problem.starts_at
        return all_of(
            f"{who} goes at {clock_time(starts, minute)}"
            for who, minute in self.goes.items()
        )

    def least_missed_first(self, missed: Sequence[str]) -> list[str]:
        """What may be left out; what is peeled or scalded spoils, and comes last."""
        begins: dict[str, int] = {}
        for s in self.old.steps:
            begins[s.batch] = min(begins.get(s.batch, s.start_min), s.start_min)
        weight = {want.product: want.weight for want in self.problem.wants}
        may_go = [
            b
            for b in self.problem.batches
            if b.jars
            and b.id not in self.changes.dropped
            and may_be_dropped(self.problem, self.happened, b.id)
        ]
        names = [b.id for b in may_go]
        made = no_room(self.problem, self.happened, names)
        prepared = {one.batch for one in made if one.prepared}
        place = {name: n for n, name in enumerate(missed)}
        promised = {b.id: sum(weight.get(p, 0) for p in b.serves) for b in may_go}

        def key(name: str) -> tuple[bool, int, int, int]:
            rank = place.get(name, len(place))
            return name in prepared, -rank, promised[name], -begins.get(name, 0)

        return sorted(names, key=key)

    def filled(self, alone: Fitted, wanted: Sequence[str]) -> Fitted:
        """
        What has begun, with as many of the others as fit beside it, first come first.

        They are put in by hand where they find a place, and searched for together; what
        then stands too long was one too many.
        """
        best, most, refused = alone, harm_min(alone.found), set[str]()
        at_most = len(wanted)
        while self.left_s > 2 * LEAST_S:
            missing = [n for n in wanted if n in best.left_out and n not in refused]
            if not missing:
                break
            plan, more = self._put_in(best, missing[:at_most])
            if not more:  # also not where the last search has drawn all together
                refused.add(missing[0])
                continue
            left = [name for name in best.left_out if name not in more]
            found = self.without(left, self.left_s / SEARCHES, begin=plan)
            if not isinstance(found, Refusal) and harm_min(found.found) <= most:
                best = found
            elif len(more) > 1:
                at_most = len(more) // 2
            else:
                refused.update(more)
        return best

    def _put_in(
        self, best: Fitted, names: Sequence[str]
    ) -> tuple[Timetable, list[str]]:
        """The plan with batches put in by hand, up to the first that finds no place."""
        plan, more = best.found.new, list[str]()
        for name in names:
            left = [n for n in best.left_out if n not in (*more, name)]
            less = replace(self.changes, dropped=(*self.changes.dropped, *left))
            changed = with_changes(self.problem, self.old, self.happened, less)
            if isinstance(changed, Refusal):
                break
            there = _to_come(changed.problem, self.happened, name)
            with_it = put_behind(there, plan, [name])
            if with_it is None:
                break
            plan, more = with_it, [*more, name]
        return plan, more

    def without(
        self, names: Sequence[str], seconds: float, begin: Timetable | None = None
    ) -> Fitted | Refusal:
        """The day without some batches, perhaps searched for from a plan of it."""
        dropped = (*self.changes.dropped, *names)
        less = replace(self.changes, dropped=dropped)
        changed = with_changes(self.problem, self.old, self.happened, less)
        if isinstance(changed, Refusal):
            return changed
        found = replan_changed(
            changed,
            self.happened,
            seconds=seconds,
            promised_min=self.old.finish_min,
            begin=begin,
        )
        left = tuple(no_room(self.problem, self.happened, names, self.because))
        return Fitted(found=replace(found, left_out=left), left_out=tuple(names))

    def longer(self, best: Fitted) -> Fitted:
        """The same batches, searched for in the time that is left."""
        if best.found.proven or best.found.found_none or self.left_s < LEAST_S:
            return best
        again = self.without(best.left_out, self.left_s, begin=best.found.new)
        if isinstance(again, Refusal) or harm_min(again.found) > harm_min(best.found):
            return best
        old_order = best.found.old_order
        return replace(again, found=replace(again.found, old_order=old_order))


def _to_come(problem: Problem, happened: Happened, name: str) -> Problem:
    """The day with what is to come of one batch, none of it before now."""
    begun = happened.begun
    batches = []
    for batch in problem.batches:
        if batch.id != name:
            batches.append(batch)
            continue
        since = {s.id: happened.now_min for s in batch.steps}
        for k in batch.links:
            if (name, k.before) in begun:
                ended = begun[name, k.before].end_min + k.at_least_min
                since[k.after] = max(since[k.after], ended)
        for w in batch.windows:
            since[w.step] = max(since[w.step], w.earliest_min)
        steps = tuple(s for s in batch.steps if (name, s.id) not in begun)
        here = {s.id for s in steps}
        batches.append(
            replace(
                batch,
                steps=steps,
                links=tuple(k for k in batch.links if {k.before, k.after} <= here),
                windows=tuple(
                    Window(step=s.id, earliest_min=since[s.id]) for s in steps
                ),
            )
        )
    return replace(problem, batches=tuple(batches))
