"""Plan a day: check what came, plan by hand, search for better, judge every plan."""

from __future__ import annotations

import time
from collections.abc import Callable

from stillroom.planning.answering import Shown, answer_of
from stillroom.planning.bounding.bounds import Bound, lower_bounds
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.cpsat.search import TOO_SLOW
from stillroom.planning.cpsat.solve import SearchResult
from stillroom.planning.problem import Problem
from stillroom.planning.searched import search_for, searched
from stillroom.planning.start import begin
from stillroom.planning.timetable import BY_HAND, Answer, NoneFound, Timetable
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
    begin_with: Timetable | None = None,
) -> Answer | NoneFound:
    """
    The best timetable of a day that is found in a time, or how far the search came.

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
    begin_with : Timetable, optional
        A plan of this day or one like it; the search begins with it where it holds.

    Returns
    -------
    Answer or NoneFound
        A timetable that `check.violations` passes; or what is known where none was
        found, from which `why_not.explain.no_plan` says why.

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
    found = SearchResult(impossible=begun.is_never, bound=known.minute)
    if no_time:
        found.timetable, found.no_search = begun.start, True
        if not begun.is_held:  # else it is the plan of a day like it
            found.remarks.append(no_time)
    elif not begun.is_never:
        found, known, reached = searched(problem, begun.start, known, shown, search)
    cut = (TOO_SLOW,) if search.cut.happened else ()
    if found.timetable is None:
        return NoneFound(
            impossible=found.impossible,
            bound_min=known.minute,
            bound_why=known.why,
            reached=reached,
            remarks=cut,
        )
    found.remarks += cut

    def is_over() -> bool:
        over_now = time.monotonic() > over
        if over_now and deterministic and TOO_SLOW not in found.remarks:
            found.remarks.append(TOO_SLOW)
        return over_now

    first, by_hand = begun.first, begun.as_by_hand
    return answer_of(problem, found, first, by_hand, shown, known, is_over)


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


def _known_bound(problem: Problem) -> Bound:
    """What is known without any search, and at once."""
    plain = lower_bounds(problem)[0]
    minute = window_bound_min(problem, plain.minute)
    if minute == plain.minute:
        return plain
    why = "in some stretch of the day there is more to do than hands, fires and pots"
    return Bound(minute, why)
