"""
The large search made of small ones: a part of the best plan set free, over and over.

A worker frees a part of a plan, asks the solver for one that is better by some minutes,
and goes on from what it finds. On a day of a dozen batches this gets further in some
seconds than one search over everything. Workers go in `rounds`.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.rounds import AT_REST, Rounds
from stillroom.planning.cpsat.search import Cut, Search
from stillroom.planning.cpsat.variables import DayModel, Expr

Told = Callable[[cp_model.CpSolver], None]


@dataclass(slots=True)
class Effort:
    """How long, and with how many hands, parts are searched."""

    until: float
    """`time.monotonic` at which all must be over. [s]"""
    workers: int
    seed: int
    work_s: float | None = None
    """So much work of each worker, whatever the clock says: the same plan each time."""
    cut: Cut = field(default_factory=Cut)
    """Noted where the clock ended such work all the same."""
    left_s: float = 0.0
    """What was left of it when nothing more was gained: said by who makes it. [s]"""


LEAST_STAGE_S = 0.05


def effort_of(search: Search, seconds: float) -> Effort:
    """So many seconds of a search: of counted work, or by the clock."""
    if search.deterministic:
        at_last = search.latest
        return Effort(at_last, search.workers, search.seed, seconds, search.cut)
    until = time.monotonic() + max(LEAST_STAGE_S, seconds)
    return Effort(until, search.workers, search.seed)


def improve(
    day: DayModel,
    goal: Expr,
    known: cp_model.CpSolver,
    effort: Effort,
    *,
    unit: int | None = None,
    floor: int | None = None,
    on_better: Told | None = None,
    at_rest: int = AT_REST,
) -> cp_model.CpSolver:
    """
    Make a goal smaller, part by part.

    Parameters
    ----------
    day : DayModel
        The model; its objective is ``goal``, and it is not changed.
    goal : Expr
        What is made small.
    known : CpSolver
        With values for every variable of the model.
    effort : Effort
        Time and workers.
    unit : int, optional
        What a minute weighs in the goal; `None` where it counts no minutes. Smaller
        gains than a minute are asked for now and then.
    floor : int, optional
        No plan has a smaller goal: stop there.
    on_better : callable, optional
        Called with each better solution, from the thread that waits for the answer.
    at_rest : int
        So many parts on end of each worker in vain, and it ends.

    Returns
    -------
    CpSolver
        With the values of the best plan; ``known`` where none is better.
    """
    rounds = Rounds(day, goal, effort.seed, unit, floor, on_better, at_rest=at_rest)
    best, cut = rounds.run(known, effort.work_s, effort.workers, effort.until)
    effort.cut.happened |= cut
    effort.left_s = rounds.left_s
    return best
