"""
Plan a day: check what came, plan by hand, search for better, and judge every plan.

The time limit holds for everything together; what it costs to say why nothing fits may
take as long again.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from math import inf

from stillroom.planning.answering import Shown, answer_of
from stillroom.planning.bounding.beside import BoundBeside
from stillroom.planning.bounding.bounds import Bound, lower_bounds
from stillroom.planning.bounding.too_many_jars import too_many_jars
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.cpsat.search import TOO_SLOW
from stillroom.planning.cpsat.solve import Found, Search, find_timetable
from stillroom.planning.cpsat.soonest import is_small
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import (
    score,
)
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.start import start_of
from stillroom.planning.timetable import BY_HAND, Answer, NoPlan, SoFar, Timetable
from stillroom.planning.ways.held_plan import as_far_as_it_holds
from stillroom.planning.ways.way_plans import with_end_open
from stillroom.planning.why_not.explain import no_plan
from stillroom.planning.why_not.plan_if import in_its_stead
from stillroom.planning.why_not.refuse import refuse_nonsense

SHUFFLE_SHARE = 0.12
"""Share of the time for shuffled orders where no simple one fits by hand."""

SHARE_AFTER, MOST_AFTER_S = 0.05, 0.5
"""Of the time, kept back for what comes after the search: who does what, the judge."""

LEAST_SEARCH_S = 0.05
"""Less is no time for a search: the model alone takes longer. [s]"""

SHARES_OF_OPEN_END = (0.45, 0.35)
"""Shares of the time for a day with its end left open, where nothing fits by hand: the
second where the first has come near to the day's hours."""
FAR = 1.05
"""A day that ends so much later, after half of the time, does not fit in the rest: the
time is better spent on which of it does."""


SHARE_COUNTED = 0.85
"""Of the time: counted work of each of two workers, who wait for one another, and for
the bound between them."""
SHARE_COUNTED_SMALL = 0.9
"""The same on a small day, whose bound and orders by hand take next to nothing."""


def plan_day(
    problem: Problem,
    *,
    seconds: float = 5.0,
    workers: int = 2,
    seed: int = 1,
    on_better: Callable[[Timetable, int], None] | None = None,
    deterministic: bool = True,
    explain: bool = True,
    missed: Sequence[str] = (),
    begin_with: Timetable | None = None,
) -> Answer | NoPlan:
    """
    The best timetable of a day that is found in a time, or why there is none.

    Parameters
    ----------
    problem : Problem
        The day.
    seconds : float
        For everything. [s]
    workers : int
        Search threads; as many as the machine has cores, at most.
    seed : int
        Of the search.
    on_better : callable, optional
        Called with each better timetable as it is found, and with the bound on finish
        plus points of lateness. It may be called from another thread.
    deterministic : bool
        Work is counted and not timed: the same plan on every run, in about as many
        seconds on a machine at rest. Without it the clock ends the search.
    explain : bool
        Whether a day without a plan is told why; it may take as long again.
    missed : sequence of str
        Ids of the batches, those that would be missed most first: which of them a way
        out leaves out.
    begin_with : Timetable, optional
        A plan of this day or one like it; the search begins with it where it holds.

    Returns
    -------
    Answer or NoPlan
        A timetable that `check.violations` passes; or what clashes.

    Raises
    ------
    Unreadable
        If the day does not make sense.
    BrokenPlan
        If a plan breaks a rule: a mistake of the planner.
    """
    began = time.monotonic()
    refuse_nonsense(problem)
    seconds, no_time = some_time(seconds)
    known = _known_bound(problem)
    least = known.minute
    shuffling = min(2.0, SHUFFLE_SHARE * seconds)
    work = shuffling if deterministic else None
    never = any(too_many_jars(problem))
    first = None
    if not never:
        first = by_hand(problem, shuffle_seconds=shuffling, work_s=work, seed=seed)
    shown = Shown(problem, on_better, began)
    if first is not None:
        shown(first, least)
    start, reached, as_by_hand = first, None, None
    held = None if begin_with is None else as_far_as_it_holds(problem, begin_with)
    if held is not None and (first is None or _is_better(problem, held, first)):
        start = held
        shown(start, least)
    elif no_time:
        as_by_hand = first
    elif not never:
        begun = start_of(
            problem, first, seconds=seconds, seed=seed, counted=deterministic
        )
        start = begun.plan
        as_by_hand = start if begun.by_hand else None
        if start is not None:
            shown(start, least)
    until = began + seconds - min(MOST_AFTER_S, SHARE_AFTER * seconds)
    search = Search(until, workers, seed, deterministic, seconds)
    over = began + seconds
    if deterministic:
        work = SHARE_COUNTED_SMALL if is_small(problem) else SHARE_COUNTED
        search = search.at_last(work * seconds)
        over = search.latest
    never = never or (least > problem.horizon_min and start is None)
    found = Found(impossible=never, bound=least)
    if no_time:
        found.timetable, found.no_search = start, True
        if held is None:  # else it is the plan of a day like it
            found.remarks.append(no_time)
    elif not found.impossible:
        beside = _beside(problem, known, start, search, began)
        shown.beside = beside
        try:
            if start is None and not is_small(problem):
                reached = _with_end_open(problem, search)
                if reached is not None and not violations(problem, reached):
                    start = reached
                    shown(start, least)
            if start is not None or not _is_far(problem, reached):
                found = find_timetable(
                    problem, start, search, on_better=shown, began=began, least=least
                )
        except BaseException:
            beside.stop()
            raise
        proven = _is_proven(problem, found)
        if proven and deterministic:  # how far it came by now is chance
            known = beside.stop_early()
        else:
            known = beside.stop(now=not deterministic)
            search.cut.happened |= beside.cut
        _with_bound(problem, found, known)
        found.trace[:] = beside.told_in(found.trace)
    if found.timetable is None:
        spent = time.monotonic() - began
        if not explain:
            so_far = SoFar(
                impossible=found.impossible,
                bound_min=known.minute,
                bound_why=known.why,
                reached=reached,
            )
            none = NoPlan(
                clashes=(),
                minimal=False,
                would_help=(),
                solve_s=spent,
                so_far=so_far,
            )
            return replace(none, plan_if=in_its_stead(problem, none, reached))
        none = no_plan(
            problem,
            impossible=found.impossible,
            seconds=seconds,
            search=_again(search, seconds),
            spent_s=spent,
            known=known,
            missed=missed,
            reached=reached,
        )
        if search.cut.happened:
            said = TOO_SLOW.format(seconds)
            none = replace(none, would_help=(*none.would_help, said))
        found.timetable = _fits_after_all(problem, none)
        if found.timetable is None:
            return replace(none, plan_if=in_its_stead(problem, none, reached))
        over = inf
        found.remarks.append("it was found while ways out of a full day were tried")
    slow = TOO_SLOW.format(seconds)
    if search.cut.happened:
        found.remarks.append(slow)

    def is_over() -> bool:
        over_now = time.monotonic() > over
        if over_now and deterministic and slow not in found.remarks:
            found.remarks.append(slow)
        return over_now

    return answer_of(problem, found, first, as_by_hand, shown, known, is_over)


def some_time(seconds: float) -> tuple[float, str]:
    """
    Return the seconds there are for a search, and why there is none where so.

    >>> some_time(5.0)
    (5.0, '')
    >>> some_time(-1.0)
    (0.0, '-1 s is no time for a search: this is the plan by hand')
    """
    if seconds >= LEAST_SEARCH_S:  # false for nan
        return seconds, ""
    why = f"{seconds:g} s is no time for a search: {BY_HAND}"
    return 0.0, why


def _with_end_open(problem: Problem, search: Search) -> Timetable | None:
    """The plan that ends soonest with the day's end left open; longer where near."""
    reached: Timetable | None = None
    seconds, spent = search.seconds, 0.0
    for share in SHARES_OF_OPEN_END:
        part = replace(search, seconds=share * seconds)
        part.until = min(time.monotonic() + share * seconds, search.until)
        reached = with_end_open(problem, part, reached)
        spent += share
        if reached is None:
            continue
        if _is_far(problem, reached) or not violations(problem, reached):
            break
    if search.deterministic:
        search.seconds -= spent * seconds
    return reached


def _is_far(problem: Problem, reached: Timetable | None) -> bool:
    """Whether a day whose end was left open is over long after its hours."""
    return reached is not None and reached.finish_min > FAR * problem.horizon_min


def _is_better(problem: Problem, plan: Timetable, other: Timetable) -> bool:
    return score(problem, plan) < score(problem, other)


def _is_proven(problem: Problem, found: Found) -> bool:
    """Whether the search itself proved that nothing is better."""
    plan = found.timetable
    return plan is not None and found.bound >= score(problem, plan)


def _again(search: Search, seconds: float) -> Search:
    """As much time, or as much work, once more."""
    now = time.monotonic()
    if not search.deterministic:
        return replace(search, until=now + seconds)
    return search.at_last(SHARE_COUNTED * seconds)


def _fits_after_all(problem: Problem, none: NoPlan) -> Timetable | None:
    """
    Return the plan of a way out that needs no way out.

    A longer day is easier to search, and what is found in it may end in time.
    """
    for way in none.ways_out:
        if not violations(problem, way.timetable):
            return way.timetable
    return None


def _known_bound(problem: Problem) -> Bound:
    """What is known without any search, and at once."""
    plain = lower_bounds(problem)[0]
    minute = window_bound_min(problem, plain.minute)
    if minute == plain.minute:
        return plain
    why = "in some stretch of the day there is more to do than hands, fires and pots"
    return Bound(minute, why)


def _beside(
    problem: Problem,
    known: Bound,
    start: Timetable | None,
    search: Search,
    began: float,
) -> BoundBeside:
    """The bound, at work beside the search."""
    at_most = None if start is None else start.finish_min
    beside = BoundBeside(problem, known, at_most, began)
    if search.deterministic:
        beside.start_counted(search.seconds / SHARE_COUNTED, search.latest)
    else:
        beside.start(search.left())
    return beside


def _with_bound(problem: Problem, found: Found, known: Bound) -> None:
    """Say with what was found how good it is known to be by now."""
    found.bound = max(found.bound, known.minute)
    if found.timetable is None and known.minute > problem.horizon_min:
        found.impossible = True
