"""
A search that goes on from the plan that is shown, for whoever wants a better one.

It takes a minute by the clock, in a process of its own, while the plan that is there
is shown and worked by. What it finds is kept with the day file, so that nobody has to
find it again; see docs/decisions/0097.
"""

from __future__ import annotations

import datetime as dt
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace

from stillroom.in_a_list import all_of
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.how_good.what_is_better import what_is_better
from stillroom.planning.other_days.what_if import plans_at_hand
from stillroom.planning.timetable import Answer
from stillroom.planning.words.how_long import longest_s
from stillroom.web.planner import Planned, PlanningProcess

SEARCHED_ON = "Searched on: "
"""What the reason of a day begins with whose plan was found so."""
LONGER_S = 60.0
"""What such a search takes, by the clock. [s]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Searched:
    """A search that goes on, or went on, from the plan of a day file."""

    text: str
    """The day file."""
    until: dt.datetime
    """When it is over; when it was."""
    goes_on: bool = True
    better: str = ""
    """What is better in the plan that was found; empty where none is."""
    too_late: bool = False
    """One was found, and the day had been begun or changed meanwhile."""
    failed: bool = False


class SearchOn:
    """
    One search at a time, and what became of the last one.

    Parameters
    ----------
    seconds : float
        For a search, by the clock. [s]
    planner_of : callable, optional
        Makes what plans, `PlanningProcess` by default; it is closed to break it off.
    """

    def __init__(
        self,
        seconds: float = LONGER_S,
        planner_of: Callable[[], PlanningProcess] = PlanningProcess,
    ) -> None:
        self.seconds = seconds
        self._planner_of = planner_of
        self._lock = threading.RLock()  # held while one search takes another's place
        self._last: Searched | None = None
        self._process: PlanningProcess | None = None

    def of(self, text: str) -> Searched | None:
        """Return the search for a better plan of a day file; `None` where none was."""
        with self._lock:
            last = self._last
        return last if last is not None and last.text == text else None

    def how_long(self, plan: DayPlan) -> dt.timedelta:
        """Return how long it takes at most: a day that does not fit takes longer."""
        fits = isinstance(plan.answer, Answer) and not plan.left_out
        seconds = self.seconds if fits else longest_s(self.seconds)
        return dt.timedelta(seconds=seconds)

    def begin(
        self, text: str, plan: DayPlan, take: Callable[[DayPlan, str], bool]
    ) -> None:
        """
        Search on from a plan; a search for the same day that goes on already is let be.

        Parameters
        ----------
        text : str
            The day file.
        plan : DayPlan
            Its plan as it is shown.
        take : callable
            Gets a plan and what is better in it, which is nothing where only more was
            proven of it; says whether it was taken, which it is not where the day was
            begun or changed meanwhile.
        """
        with self._lock:
            if self._process is not None and self._last and self._last.text == text:
                return
            self.stop()
            process = self._process = self._planner_of()
            until = dt.datetime.now(dt.UTC) + self.how_long(plan)
            self._last = begun = Searched(text=text, until=until)
        threading.Thread(
            target=self._search, args=(process, begun, plan, take), daemon=True
        ).start()

    def stop(self) -> None:
        """Break off a search that goes on: nobody wants what it would find."""
        with self._lock:
            process, self._process = self._process, None
            if process is not None:
                self._last = None
        if process is not None:
            process.close()

    def _search(
        self,
        process: PlanningProcess,
        begun: Searched,
        plan: DayPlan,
        take: Callable[[DayPlan, str], bool],
    ) -> None:
        ended = replace(begun, goes_on=False)
        try:
            found = process(
                begun.text,
                seconds=self.seconds,
                learned=plan.learned,
                begin_with=plans_at_hand(plan),
                deterministic=False,
            )
            better = better_in(plan, found)
            if isinstance(found, DayPlan):
                best = with_later_bound(*((found, plan) if better else (plan, found)))
                if best is not plan and not take(best, better):
                    ended = replace(ended, too_late=bool(better))
                    better = ""
            ended = replace(ended, better=better)
        except Exception:  # noqa: BLE001  # the plan that is shown holds all the same
            ended = replace(ended, failed=True)
        finally:
            process.close()
        with self._lock:
            if self._process is process:  # else it was broken off
                self._process = None
                self._last = replace(ended, until=dt.datetime.now(dt.UTC))


def better_in(plan: DayPlan, found: Planned) -> str:
    """Say what is better in a plan of the same day that was searched for longer."""
    if not isinstance(found, DayPlan) or not isinstance(found.answer, Answer):
        return ""
    if not isinstance(plan.answer, Answer):
        return "a plan that fits was found"
    made, before = ({b.id for b in p.batches} for p in (found, plan))
    if made > before and found.jars_by_kind != plan.jars_by_kind:
        return f"{all_of(sorted(made - before))} can be made too"
    if made != before and found.jars_by_kind != plan.jars_by_kind:
        return ""  # else the same jars, divided otherwise into pots
    if plan.problem is None or found.problem is None:
        return ""
    return what_is_better(
        plan.problem, plan.answer.timetable, found.problem, found.answer.timetable
    )


def with_later_bound(plan: DayPlan, other: DayPlan) -> DayPlan:
    """Return a plan with what the other has proven of its day, where that is more."""
    mine, theirs = plan.answer, other.answer
    if not isinstance(mine, Answer) or not isinstance(theirs, Answer):
        return plan
    if plan.problem != other.problem or mine.lateness != theirs.lateness:
        return plan
    if theirs.lower_bound_min <= mine.lower_bound_min:
        return plan
    answer = replace(
        mine,
        lower_bound_min=theirs.lower_bound_min,
        lower_bound_why=theirs.lower_bound_why,
        bound_unless_later=theirs.bound_unless_later,
        proven=mine.finish_min <= theirs.lower_bound_min,
    )
    return replace(plan, answer=answer, however_divided=other.however_divided)
