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
from stillroom.planning.bounding.bounds import Bound, lower_bounds
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.cpsat.search import TOO_SLOW
from stillroom.planning.cpsat.solve import Found, Search
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.searched import once_more, search_for, searched
from stillroom.planning.start import begin
from stillroom.planning.timetable import BY_HAND, Answer, NoPlan, SoFar, Timetable
from stillroom.planning.why_not.explain import no_plan
from stillroom.planning.why_not.plan_if import in_its_stead
from stillroom.planning.why_not.refuse import refuse_nonsense

LEAST_SEARCH_S = 0.05
"""Less is no time for a search: the model alone takes longer. [s]"""


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
    shown = Shown(problem, on_better, began)
    begun = begin(
        problem, begin_with, shown, known, seconds, seed=seed, counted=deterministic
    )
    search, over = search_for(problem, began, seconds, workers, seed, deterministic)
    reached: Timetable | None = None
    found = Found(impossible=begun.is_never, bound=known.minute)
    if no_time:
        found.timetable, found.no_search = begun.start, True
        if not begun.is_held:  # else it is the plan of a day like it
            found.remarks.append(no_time)
    elif not begun.is_never:
        found, known, reached = searched(problem, begun.start, known, shown, search)
    if found.timetable is None:
        none = _no_plan(
            problem, found, known, reached, missed, seconds, search, shown, explain
        )
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

    first, by_hand = begun.first, begun.as_by_hand
    return answer_of(problem, found, first, by_hand, shown, known, is_over)


def _no_plan(
    problem: Problem,
    found: Found,
    known: Bound,
    reached: Timetable | None,
    missed: Sequence[str],
    seconds: float,
    search: Search,
    shown: Shown,
    explain: bool,
) -> NoPlan:
    """Why there is none, and the ways out; or only how far the search has come."""
    spent = time.monotonic() - shown.began
    if not explain:
        so_far = SoFar(
            impossible=found.impossible,
            bound_min=known.minute,
            bound_why=known.why,
            reached=reached,
        )
        return NoPlan(
            clashes=(), minimal=False, would_help=(), solve_s=spent, so_far=so_far
        )
    none = no_plan(
        problem,
        impossible=found.impossible,
        seconds=seconds,
        search=once_more(search, seconds),
        spent_s=spent,
        known=known,
        missed=missed,
        reached=reached,
    )
    if search.cut.happened:
        said = TOO_SLOW.format(seconds)
        none = replace(none, would_help=(*none.would_help, said))
    return none


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
