"""
The plan that the search begins with: by turns, or by hand in other orders.

Plans made by turns share loads and begin long batches early, which a plan by hand does
not; where a batch must be split over several loads only a plan by hand has it. The plan
by hand that is shown beside the answer is not made here.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.hand.by_hand import better_start
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.sequence.search import by_turns
from stillroom.planning.timetable import Timetable

START_SHARE, MOST_START_S = 0.2, 3.0
"""Share of the time for the start, and the most of it. [s]"""
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
