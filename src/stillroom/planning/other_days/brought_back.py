"""What one more helper, burner or canner would bring back of what was left out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.one_thing_more import ONE_MORE, More
from stillroom.planning.other_days.what_if import plans_at_hand
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day

SECONDS_EACH = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BroughtBack:
    """One thing more, and what then has room that had none."""

    what: str
    """In words: "one more helper, all day, for cold work and the knife"."""
    batches: tuple[tuple[str, int], ...]
    """(batch, jars) of those that have room with it, what is missed most first."""
    finish_min: int
    """When the day with them is done. [min]"""

    @property
    def jars(self) -> int:
        """Jars that have room with it."""
        return sum(jars for _, jars in self.batches)


def brought_back(
    plan: DayPlan, *, seconds: float = SECONDS_EACH, workers: int = 2
) -> tuple[BroughtBack, ...]:
    """
    Return what each would bring back, the most jars first.

    The whole day is planned again with each, beginning with the plan that there is: no
    answer makes less.

    Parameters
    ----------
    plan : DayPlan
        A day of which something was left out; nothing comes of any other.
    seconds : float
        For each of the three; twice that where not all fits even so. [s]
    workers : int
        Search threads.
    """
    if plan.problem is None or not plan.left_out:
        return ()
    out = [pair for left in plan.left_out for pair in left.each]
    found = []
    for one_more in ONE_MORE:
        there = one_more(plan.problem)
        if there is None:
            continue
        more = plan_the_day(
            plan.day,
            seconds=seconds,
            workers=workers,
            begin=_with(one_more),
            learned=plan.learned,
            begin_with=plans_at_hand(plan),
            explain=False,
        )
        if not isinstance(more, DayPlan) or not isinstance(more.answer, Answer):
            continue
        made = {batch.id for batch in more.batches}
        found.append(
            BroughtBack(
                what=there[0],
                batches=tuple(pair for pair in out if pair[0] in made),
                finish_min=more.answer.finish_min,
            )
        )
    return tuple(sorted(found, key=lambda b: (-b.jars, b.finish_min)))


def _with(
    one_more: Callable[[Problem], More | None],
) -> Callable[[Problem], Problem]:
    """Make of a day the same with one thing more."""

    def begin(problem: Problem) -> Problem:
        more = one_more(problem)
        return problem if more is None else more[1]

    return begin
