"""What one more helper, burner or canner would bring: each day planned anew."""

from __future__ import annotations

import time
from dataclasses import dataclass

from stillroom.planning.cpsat.solve import Search, find_timetable
from stillroom.planning.day_odds.odds import finishes_of, minute_by
from stillroom.planning.hand.by_hand import better_start
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.one_thing_more import one_more_grown_up, with_one_more
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

SECONDS_EACH = 3.0
DAYS_EACH = 2_000
SHARE_OF_ORDERS = 0.5
"""Of the time, for other orders of the batches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OneMore:
    """One thing more, and the day that it would make."""

    what: str
    """In words: "one more helper, all day, for cold work and the knife"."""
    finish_min: int
    """Finish of the best plan found with it. [min]"""
    earlier_min: int
    """Against the plan as it is, searched on for as long. [min]"""
    likely_min: int
    """Four in five simulated days are over by then. [min]"""
    timetable: Timetable

    @property
    def against_min(self) -> int:
        """Finish of the day as it is, searched on for as long. [min]"""
        return self.finish_min + self.earlier_min


def worth_of_one_more(
    problem: Problem,
    plan: Timetable,
    *,
    seconds: float = SECONDS_EACH,
    workers: int = 2,
    seed: int = 1,
) -> tuple[OneMore, ...]:
    """
    Return what each would bring, the greatest gain first.

    Each day is searched from the plan that there is, so that no answer is later than
    it; the plan as it is gets the same time, so that a gain is not mere searching.

    Parameters
    ----------
    problem : Problem
        The day.
    plan : Timetable
        A plan that breaks no rule of it.
    seconds : float
        For each of the five searches. [s]
    workers : int
        Search threads.
    seed : int
        Of the searches and the simulated days.
    """
    as_it_is = _searched(problem, plan, seconds, workers, seed)
    found = []
    for what, more in (*with_one_more(problem), one_more_grown_up(problem)):
        better = _searched(more, as_it_is, seconds, workers, seed)
        finishes = finishes_of(more, better, days=DAYS_EACH, seed=seed)
        found.append(
            OneMore(
                what=what,
                finish_min=better.finish_min,
                earlier_min=as_it_is.finish_min - better.finish_min,
                likely_min=minute_by(finishes, 0.8),
                timetable=better,
            )
        )
    return tuple(sorted(found, key=lambda m: -m.earlier_min))


def _searched(
    problem: Problem, start: Timetable, seconds: float, workers: int, seed: int
) -> Timetable:
    """
    The best plan found from a start; the start where nothing better holds.

    With one thing more the same batches go better in another order: other orders by
    the rule of the plan by hand come first, since a search only mends the old one.
    """
    until = time.monotonic() + seconds
    others = SHARE_OF_ORDERS * seconds
    ordered = better_start(problem, start, seconds=others, work_s=others, seed=seed)
    left = (1 - SHARE_OF_ORDERS) * seconds
    search = Search(until, workers, seed, deterministic=True).at_last(left)
    found = find_timetable(problem, ordered, search).timetable
    if found is None or violations(problem, found):
        found = ordered
    return min((found, start), key=lambda t: score(problem, t))
