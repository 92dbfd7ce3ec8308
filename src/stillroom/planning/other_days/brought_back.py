"""What one more helper, burner or canner would bring back of what was left out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.one_thing_more import with_one_more
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
    for number, (what, _) in enumerate(with_one_more(plan.problem)):
        more = plan_the_day(
            plan.day,
            seconds=seconds,
            workers=workers,
            begin=_one_more(number),
            learned=plan.learned,
            begin_with=plans_at_hand(plan),
            explain=False,
        )
        if not isinstance(more, DayPlan) or not isinstance(more.answer, Answer):
            continue
        made = {batch.id for batch in more.batches}
        found.append(
            BroughtBack(
                what=what,
                batches=tuple(pair for pair in out if pair[0] in made),
                finish_min=more.answer.finish_min,
            )
        )
    return tuple(sorted(found, key=lambda b: (-b.jars, b.finish_min)))


def _one_more(number: int) -> Callable[[Problem], Problem]:
    """The day with the thing of that number more."""

    def begin(problem: Problem) -> Problem:
        return with_one_more(problem)[number][1]

    return begin
