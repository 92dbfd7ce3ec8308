"""
The plan by hand, and the one that the search begins with.

That one is what holds of a plan at hand, or is made by turns, or by hand in other
orders than the plan that is shown. Plans made by turns share loads and begin long
batches early, which a plan by hand does not; where a batch must be split over several
loads only a plan by hand has it.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.answering import Shown
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.bounding.one_fire import one_fire_for_both
from stillroom.planning.bounding.too_many_jars import too_many_jars
from stillroom.planning.hand.by_hand import better_start, by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.sequence.search import by_turns
from stillroom.planning.timetable import Timetable
from stillroom.planning.ways.held_plan import as_far_as_it_holds

START_SHARE, MOST_START_S = 0.2, 3.0
"""Share of the time for the start, and the most of it. [s]"""
SHUFFLE_SHARE = 0.12
"""Share of the time for shuffled orders where no simple one fits by hand."""
PLANS_A_SECOND, MOST_PLANS = 40, 400
"""How many plans are made by turns, for each second asked for."""


@dataclass(frozen=True, slots=True)
class Start:
    """A plan to begin with, and whether a person would have made it so."""

    plan: Timetable | None
    by_hand: bool


def start_of(
    problem: Problem,
    first: Timetable | None,
    *,
    seconds: float,
    seed: int,
    counted: bool,
) -> Start:
    """
    Return the plan that a search begins with.

    Parameters
    ----------
    problem : Problem
        The day.
    first : Timetable or None
        The plan by hand.
    seconds : float
        Asked for in all; a share of them is spent here. [s]
    seed : int
        Of the moves.
    counted : bool
        Only plans are counted and not seconds.

    Returns
    -------
    Start
        A plan that breaks no rule; without one where none was found.
    """
    share = min(MOST_START_S, START_SHARE * seconds)
    spend, work = (1e9, share) if counted else (share, None)
    plans = min(MOST_PLANS, max(1, round(PLANS_A_SECOND * seconds)))
    made = by_turns(problem, plans=plans, seconds=spend, seed=seed, like=first)
    if made is not None and not violations(problem, made):
        if first is None or score(problem, made) < score(problem, first):
            return Start(made, by_hand=False)
        return Start(first, by_hand=True)
    if first is None:
        return Start(None, by_hand=False)
    better = better_start(problem, first, seconds=spend, work_s=work, seed=seed)
    return Start(better, by_hand=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeSearch:
    """What there is before the search."""

    first: Timetable | None
    """The plan by hand, which is shown beside."""
    start: Timetable | None
    as_by_hand: Timetable | None
    """The start, where a person would have made it so."""
    is_held: bool
    """Whether something holds of the plan that was given to begin with."""
    is_never: bool
    """Whether no plan can be: proven."""


def begin(
    problem: Problem,
    begin_with: Timetable | None,
    shown: Shown,
    known: Bound,
    seconds: float,
    *,
    seed: int,
    counted: bool,
) -> BeforeSearch:
    """
    Return the plan by hand, and the best that the search can begin with.

    Parameters
    ----------
    problem : Problem
        The day.
    begin_with : Timetable or None
        A plan of a day like it; what holds of it is taken, where it is better.
    shown : Shown
        Both are shown as they are found.
    known : Bound
        What no plan can beat.
    seconds : float
        Asked for in all; 0 where there is no time for a search. [s]
    seed, counted
        As in `start_of`.
    """
    never = any(too_many_jars(problem)) or any(one_fire_for_both(problem))
    first = None
    if not never:
        spend = min(2.0, SHUFFLE_SHARE * seconds)
        work = spend if counted else None
        first = by_hand(problem, shuffle_seconds=spend, work_s=work, seed=seed)
    if first is not None:
        shown(first, known.minute)
    start, as_by_hand = first, None
    held = None if begin_with is None else as_far_as_it_holds(problem, begin_with)
    if held is not None and (first is None or _is_better(problem, held, first)):
        start = held
    elif seconds == 0.0:
        as_by_hand = first
    elif not never:
        made = start_of(problem, first, seconds=seconds, seed=seed, counted=counted)
        start = made.plan
        as_by_hand = start if made.by_hand else None
    if start is not None:
        shown(start, known.minute)
    return BeforeSearch(
        first=first,
        start=start,
        as_by_hand=as_by_hand,
        is_held=held is not None,
        is_never=never or (known.minute > problem.horizon_min and start is None),
    )


def _is_better(problem: Problem, plan: Timetable, other: Timetable) -> bool:
    return score(problem, plan) < score(problem, other)
