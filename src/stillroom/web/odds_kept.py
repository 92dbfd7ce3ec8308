"""The odds of the latest plans, reckoned when a page first asks and then kept."""

from __future__ import annotations

import threading
from collections import OrderedDict

from stillroom.methods.learned import Share
from stillroom.planning.odds import Odds, odds_of
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

KEPT = 4


class OddsKept:
    """Odds by plan; the same plan is simulated once, whoever asks first."""

    def __init__(self) -> None:
        self._kept: OrderedDict[int, tuple[Timetable, Odds]] = OrderedDict()
        self._lock = threading.Lock()

    def of(self, problem: Problem, plan: Timetable, seals: Share | None = None) -> Odds:
        """Return the odds of a plan of a problem."""
        with self._lock:  # two pages at once wait for one pass, not for two
            found = self._kept.get(id(plan))
            if found is not None and found[0] is plan:
                return found[1]
            odds = odds_of(problem, plan, seals=seals)
            self._kept[id(plan)] = (plan, odds)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
            return odds


ODDS = OddsKept()
"""One for the process: plans are told apart by themselves."""
