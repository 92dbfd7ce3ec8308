"""
The odds of the latest plans, reckoned when a page first asks and then kept.

What one more helper, burner or canner would bring is kept as well; it is planned beside
the pages, and only when somebody asks.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from concurrent.futures import Executor, Future

from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.odds import Odds, odds_learned
from stillroom.planning.one_more import OneMore, worth_of_one_more
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

KEPT = 4
ONE_MORE_S = 3.0
"""For each of the four searches: the day as it is, and with one more of each. [s]"""


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
        self._kept: OrderedDict[int, tuple[Timetable, Future[tuple[OneMore, ...]]]] = (
            OrderedDict()
        )
        self._lock = threading.Lock()

    def of(
        self, problem: Problem, plan: Timetable, beside: Executor
    ) -> tuple[OneMore, ...]:
        """Return it, the greatest gain first; blocks while it is planned."""
        with self._lock:
            found = self._kept.get(id(plan))
            if found is None or found[0] is not plan or found[1].cancelled():
                searched = beside.submit(
                    worth_of_one_more, problem, plan, seconds=ONE_MORE_S
                )
                found = self._kept[id(plan)] = (plan, searched)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        try:
            return found[1].result()
        except Exception:
            with self._lock:  # whoever asks next has it tried again
                self._kept.pop(id(plan), None)
            raise


ODDS = OddsKept()
"""One for the process: plans are told apart by themselves."""

ONE_MORE = OneMoreKept()
