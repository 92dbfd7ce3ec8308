"""
The odds of the latest plans, reckoned when a page first asks and then kept.

What one more helper, burner or canner would bring is kept as well; it is planned beside
the pages, and only when somebody asks.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Executor, Future
from typing import Any, TypeVar

from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.day_odds.odds import Odds, odds_learned
from stillroom.planning.day_odds.one_more import OneMore, worth_of_one_more
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.other_days.brought_back import BroughtBack, brought_back
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, Timetable

Found = TypeVar("Found")

KEPT = 4
ONE_MORE_S = 3.0
"""For each of the four searches: the day as it is, and with one more of each; and for
each of the three with which the whole of an overfull day is planned. [s]"""


class OddsKept:
    """Odds by plan; the same plan is simulated once, whoever asks first."""

    def __init__(self) -> None:
        self._kept: OrderedDict[int, tuple[Timetable, Odds]] = OrderedDict()
        self._lock = threading.Lock()

    def of(
        self,
        problem: Problem,
        plan: Timetable,
        learned: Learned = AS_PUBLISHED,
        since_min: int | None = None,
    ) -> Odds:
        """Return the odds of a plan of a problem; of the rest of it since a minute."""
        with self._lock:  # two pages at once wait for one pass, not for two
            found = self._kept.get(id(plan))
            if found is not None and found[0] is plan:
                return found[1]
            odds = odds_learned(problem, plan, learned, since_min=since_min)
            self._kept[id(plan)] = (plan, odds)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
            return odds


class OneMoreKept:
    """What one more would bring, by plan; a plan is searched once, whoever asks."""

    def __init__(self) -> None:
        self._kept: OrderedDict[int, tuple[Timetable, Future[Any]]] = OrderedDict()
        self._lock = threading.Lock()

    def of(
        self, problem: Problem, plan: Timetable, beside: Executor
    ) -> tuple[OneMore, ...]:
        """Return it, the greatest gain first; blocks while it is planned."""
        return self._searched(plan, beside, worth_of_one_more, problem, plan)

    def back_of(self, whole: DayPlan, beside: Executor) -> tuple[BroughtBack, ...]:
        """Return what each brings back of what a day has left out; blocks as well."""
        if not whole.left_out or not isinstance(whole.answer, Answer):
            return ()
        plan = whole.answer.timetable
        return self._searched(plan, beside, brought_back, whole)

    def _searched(
        self,
        plan: Timetable,
        beside: Executor,
        search: Callable[..., tuple[Found, ...]],
        *asked: object,
    ) -> tuple[Found, ...]:
        key = hash((id(plan), search))
        with self._lock:
            found = self._kept.get(key)
            if found is None or found[0] is not plan or found[1].cancelled():
                searched = beside.submit(search, *asked, seconds=ONE_MORE_S)
                found = self._kept[key] = (plan, searched)
            while len(self._kept) > 2 * KEPT:
                self._kept.popitem(last=False)
        try:
            answer: tuple[Found, ...] = found[1].result()
        except Exception:
            with self._lock:  # whoever asks next has it tried again
                self._kept.pop(key, None)
            raise
        return answer


ODDS = OddsKept()
"""One for the process: plans are told apart by themselves."""

ONE_MORE = OneMoreKept()
