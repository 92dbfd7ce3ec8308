"""
The odds of the latest plans, reckoned when a page first asks and then kept.

What one more helper, burner or canner would bring is kept as well; it is planned beside
the pages, and only when somebody asks.

What is kept is found by what was asked, not by the objects: the plan of a day that goes
by its own is put together anew at each look.
"""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Executor, Future
from typing import Any, TypeVar

import msgspec

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
"""For each search of one more: the day as it is, and with one more of each; and for
each with which the whole of an overfull day is planned. [s]"""


def _mark(problem: Problem, plan: Timetable, *more: object) -> str:
    """Mark that is the same for the same question, whichever objects ask it."""
    told = msgspec.json.encode((problem, plan), order="deterministic")
    return hashlib.sha256(told + repr(more).encode()).hexdigest()


class OddsKept:
    """Odds by what was asked; the same is simulated once, whoever asks first."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, Odds] = OrderedDict()
        self._lock = threading.Lock()

    def of(
        self,
        problem: Problem,
        plan: Timetable,
        learned: Learned = AS_PUBLISHED,
        since_min: int | None = None,
    ) -> Odds:
        """Return the odds of a plan of a problem; of the rest of it since a minute."""
        key = _mark(problem, plan, learned, since_min)
        with self._lock:  # two pages at once wait for one pass, not for two
            odds = self._kept.get(key)
            if odds is not None:
                self._kept.move_to_end(key)
                return odds
            odds = odds_learned(problem, plan, learned, since_min=since_min)
            self._kept[key] = odds
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
            return odds


class OneMoreKept:
    """What one more would bring; the same is searched once, whoever asks."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, Future[Any]] = OrderedDict()
        self._lock = threading.Lock()

    def of(
        self, problem: Problem, plan: Timetable, beside: Executor
    ) -> tuple[OneMore, ...]:
        """Return it, the greatest gain first; blocks while it is planned."""
        key = f"more {_mark(problem, plan)}"
        return self._searched(key, beside, worth_of_one_more, problem, plan)

    def back_of(self, whole: DayPlan, beside: Executor) -> tuple[BroughtBack, ...]:
        """Return what each brings back of what a day has left out; blocks as well."""
        problem, answer = whole.problem, whole.answer
        if not whole.left_out or problem is None or not isinstance(answer, Answer):
            return ()
        more = (whole.day, whole.learned, whole.left_out)
        key = f"back {_mark(problem, answer.timetable, *more)}"
        return self._searched(key, beside, brought_back, whole)

    def _searched(
        self,
        key: str,
        beside: Executor,
        search: Callable[..., tuple[Found, ...]],
        *asked: object,
    ) -> tuple[Found, ...]:
        with self._lock:
            found = self._kept.get(key)
            if found is None or found.cancelled():
                found = beside.submit(search, *asked, seconds=ONE_MORE_S)
                self._kept[key] = found
            self._kept.move_to_end(key)
            while len(self._kept) > 2 * KEPT:
                self._kept.popitem(last=False)
        try:
            answer: tuple[Found, ...] = found.result()
        except Exception:
            with self._lock:  # whoever asks next has it tried again
                self._kept.pop(key, None)
            raise
        return answer


ODDS = OddsKept()
"""One for the process: plans are told apart by what is in them."""

ONE_MORE = OneMoreKept()
