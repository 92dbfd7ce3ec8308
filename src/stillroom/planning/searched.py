"""A day searched, the bound reckoned beside it; its end left open where need be."""

from __future__ import annotations

import time
from dataclasses import replace

from stillroom.planning.answering import Shown
from stillroom.planning.bounding.beside import BoundBeside
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.cpsat.from_nothing import any_plan
from stillroom.planning.cpsat.ruled_out import RuledOut
from stillroom.planning.cpsat.solve import (
    Search,
    SearchResult,
    find_timetable,
    is_small,
)
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.ways.way_plans import with_end_open

SHARE_AFTER, MOST_AFTER_S = 0.05, 0.5
"""Of the time, kept back for what comes after the search: who does what, the judge."""
SHARE_COUNTED = 0.74
"""Of the time: counted work of each of two workers, who wait for one another, and for
the bound between them. A second of it is about one of a core: see 0108."""
SHARE_COUNTED_SMALL = 0.9
"""The same on a small day, whose bound and orders by hand take next to nothing."""
SHARE_FROM_NOTHING = 0.3
"""Of the time, at most, for any plan at all of a large day that has none by hand."""
SHARE_AGAIN = 0.6
"""Of what is left then, where even with its end open none is made by hand."""
SHARES_OF_OPEN_END = (0.45, 0.35)
"""Shares of the time for a day with its end left open, where nothing fits by hand: the
second where the first has come near to the day's hours."""
FAR = 1.05
"""A day that ends so much later, after half of the time, does not fit in the rest: the
time is better spent on which of it does."""


def search_for(
    problem: Problem,
    began: float,
    seconds: float,
    workers: int,
    seed: int,
    deterministic: bool,
) -> tuple[Search, float]:
    """Return the search with its time, and when nobody's hands are changed any more."""
    until = began + seconds - min(MOST_AFTER_S, SHARE_AFTER * seconds)
    search = Search(until, workers, seed, deterministic, seconds)
    if not deterministic:
        return search, began + seconds
    work = SHARE_COUNTED_SMALL if is_small(problem) else SHARE_COUNTED
    search = search.at_last(work * seconds)
    return search, search.latest


def searched(
    problem: Problem,
    start: Timetable | None,
    known: Bound,
    shown: Shown,
    search: Search,
) -> tuple[SearchResult, Bound, Timetable | None]:
    """
    Return what the search finds, the best bound, and a plan that ends too late if any.

    Parameters
    ----------
    problem : Problem
        The day.
    start : Timetable or None
        What the search begins with. Without one, a large day is searched with its end
        left open first.
    known : Bound
        What is proven before.
    shown : Shown
        Hears of each better plan, and of the bound beside.
    search : Search
        The time there is; what the clock cut of it is noted there.
    """
    least, reached = known.minute, None
    found = SearchResult(impossible=False, bound=least)
    beside = _beside(problem, known, start, search, shown.began)
    shown.beside = beside
    try:
        if start is None and not is_small(problem):
            start, reached = _begun_otherwise(problem, least, search)
            if start is not None:
                shown(start, least)
        if start is not None or not _is_far(problem, reached):
            found = find_timetable(
                problem,
                start,
                search,
                on_better=shown,
                began=shown.began,
                least=least,
                proven=lambda: _proven_by_then(beside, search),
            )
    except BaseException:
        beside.stop()
        raise
    if _is_proven(problem, found) and search.deterministic:
        known = beside.stop_early()  # how far it came by now is chance
    else:
        known = beside.stop(now=not search.deterministic)
        known = _proven_at_last(problem, found, known, search, beside)
        search.cut.happened |= beside.cut
    _with_bound(problem, found, known)
    found.trace[:] = beside.told_in(found.trace)
    return found, known, reached


def _begun_otherwise(
    problem: Problem, least: int, search: Search
) -> tuple[Timetable | None, Timetable | None]:
    """
    A plan to begin with where none is made by hand or by turns.

    And the one that ends soonest of a longer day, where that was asked for.
    """
    start = _from_nothing(problem, least, search, SHARE_FROM_NOTHING, search.seed)
    if start is not None:
        return start, None
    reached = _with_end_open(problem, search)
    if reached is None:
        seed = search.seed + 1  # else it would do the same again
        return _from_nothing(problem, least, search, SHARE_AGAIN, seed), None
    return (None if violations(problem, reached) else reached), reached


def _from_nothing(
    problem: Problem, least: int, search: Search, share: float, seed: int
) -> Timetable | None:
    """Any plan at all, of all rules of the day."""
    seconds = share * search.left()
    until = time.monotonic() + seconds
    part = replace(search, seconds=seconds, until=until, seed=seed)
    plan, spent_s = any_plan(problem, least, part)
    if search.deterministic:
        search.seconds -= spent_s
    return plan


def _with_end_open(problem: Problem, search: Search) -> Timetable | None:
    """The plan that ends soonest with the day's end left open; longer where near."""
    reached: Timetable | None = None
    seconds, spent = search.seconds, 0.0
    for share in SHARES_OF_OPEN_END:
        part = replace(search, seconds=share * seconds)
        part.until = min(time.monotonic() + share * seconds, search.until)
        reached = with_end_open(problem, part, reached)
        if (
            reached is None
        ):  # no plan by hand, however long the day: nothing was searched
            break
        spent += share
        if _is_far(problem, reached) or not violations(problem, reached):
            break
    if search.deterministic:
        search.seconds -= spent * seconds
    return reached


def _is_far(problem: Problem, reached: Timetable | None) -> bool:
    """Whether a day whose end was left open is over long after its hours."""
    return reached is not None and reached.finish_min > FAR * problem.horizon_min


def _proven_by_then(beside: BoundBeside, search: Search) -> int:
    """What the bound comes to; where work is counted, when all of it is done. [min]"""
    if search.deterministic:
        return beside.stop(now=False).minute
    return beside.best.minute


def _is_proven(problem: Problem, found: SearchResult) -> bool:
    """Whether the search itself proved that nothing is better."""
    plan = found.timetable
    return plan is not None and found.bound >= score(problem, plan)


def _beside(
    problem: Problem,
    known: Bound,
    start: Timetable | None,
    search: Search,
    began: float,
) -> BoundBeside:
    """The bound, at work beside the search."""
    at_most = None if start is None else start.finish_min
    further = None if is_small(problem) else RuledOut(problem, search.seed)
    beside = BoundBeside(problem, known, at_most, began, further)
    if search.deterministic:
        beside.start_counted(search.seconds / SHARE_COUNTED, search.latest)
    else:
        beside.start(search.left())
    return beside


def _proven_at_last(
    problem: Problem,
    found: SearchResult,
    known: Bound,
    search: Search,
    beside: BoundBeside,
) -> Bound:
    """What is proven in the seconds that the search for a plan left over."""
    plan, seconds = found.timetable, found.unused_s
    if not search.deterministic:
        seconds = min(seconds, search.left())
    if plan is None or seconds <= 0 or known.minute >= plan.finish_min:
        return known
    latest = search.latest if search.deterministic else None
    return beside.go_on(
        RuledOut(problem, search.seed), plan.finish_min, seconds, latest
    )


def _with_bound(problem: Problem, found: SearchResult, known: Bound) -> None:
    """Say with what was found how good it is known to be by now."""
    found.bound = max(found.bound, known.minute)
    if found.timetable is None and known.minute > problem.horizon_min:
        found.impossible = True
