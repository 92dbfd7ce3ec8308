"""
Cooked food and filled jars that stand longer than they may, and what becomes of them.

An hour of rest that is late is a pity; food that stands warm for hours is none to can.
So these limits are said first and apart from the others, each with what the hand does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.happened import Happened
from stillroom.planning.judge.check_waits import waits_over
from stillroom.planning.problem import CLOSED, Batch, Limit, Problem
from stillroom.planning.second_thoughts.limits_over import over_said
from stillroom.planning.spoken_of import Sentence
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import closing_steps
from stillroom.planning.words.stood_closed import INTO_THE_COLD_MIN, cold_or_anew


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Food of one batch that a plan lets stand longer than it may."""

    batch: str
    is_closed: bool
    """Whether it is in closed jars; else it waits to be filled, or for its lids."""
    limit: Sentence
    """The limit that gives way, as `Replanned.limits` has it."""
    since_min: int
    """Since when it stands. [min]"""
    stands_min: int
    """How long the plan lets it. [min]"""
    now_min: int = 0
    """Minute of the day at which the rest is planned again. [min]"""

    @property
    def is_too_long(self) -> bool:
        """Whether it is not to be canned then any more."""
        return self.stands_min > INTO_THE_COLD_MIN

    def told(self, starts_at: str) -> str:
        """What stands, and what to do with it, in a sentence or two."""
        jars = "closed jars" if self.is_closed else "cooked food"
        hour = clock_time(starts_at, self.since_min + INTO_THE_COLD_MIN)
        stands = f"{jars} of {self.batch} would stand {said_minutes(self.stands_min)}"
        if not self.is_too_long:
            return (
                f"{stands}, longer than they may before the process: take them "
                f"before all else, and keep them hot; what is in no canner by {hour} "
                "goes into the refrigerator or freezer."
                if self.is_closed
                else f"{stands}, longer than it may: take it before all else, and "
                f"keep it hot; what is in no jar by {hour} goes into the refrigerator "
                "or freezer."
            )
        since = clock_time(starts_at, self.since_min)
        if self.since_min + INTO_THE_COLD_MIN <= self.now_min:
            # row stood-before-late of the same table
            return (
                f"{stands}, and their 2 h were over at {hour}, if they stand since "
                f"{since}: do not can them so. Discard low-acid and doubtful food "
                "untasted; discard acid food too, or hold it cold and closed, eat none "
                "of it, and ask the extension service."
            )
        return f"{stands}: do not can them so. {cold_or_anew(hour)}"


def standing(
    problem: Problem, happened: Happened, new: Timetable
) -> tuple[Standing, ...]:
    """
    Return the food that a plan lets stand longer than it may, the longest first.

    What stood so long in the past, and was taken up since, is past.
    """
    found = list(_standing(problem, happened, new))
    return tuple(sorted(found, key=lambda one: -one.stands_min))


def _standing(
    problem: Problem, happened: Happened, new: Timetable
) -> Iterator[Standing]:
    batches = {batch.id: batch for batch in problem.batches}
    ends = {(s.batch, s.step): s.end_min for s in new.steps}
    starts = {(s.batch, s.step): s.start_min for s in new.steps}
    over = waits_over(problem, happened, new)
    for limit, minutes in over.items():
        name, before, after = limit
        batch = batches[name]
        if not _is_of_food(batch, limit):
            continue
        ((said, _),) = over_said(problem, {limit: minutes})
        if before == CLOSED:
            since = max(ends[name, s] for s in closing_steps(batch))
            stands = batch.closed_wait_at_most_min + minutes
        else:
            since = ends[name, before]
            stands = starts[name, after] - since
        yield Standing(
            batch=name,
            is_closed=before == CLOSED,
            limit=said,
            since_min=since,
            stands_min=stands,
            now_min=happened.now_min,
        )


def _is_of_food(batch: Batch, limit: Limit) -> bool:
    """Whether a limit is one of closed jars, or of cooked food on its way into jars."""
    _, before, after = limit
    if before == CLOSED:
        return True
    steps = {s.id: s for s in batch.steps}
    if before not in steps or batch.process is None:
        return False
    first, second = steps[before], steps[after]
    # what stands in a basin of hot water is jars, and no food
    return (first.in_pot and second.put_up) or first.put_up
