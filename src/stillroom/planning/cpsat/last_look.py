"""
One more look at all of a day, near its end: a minute sooner, or proven that none is.

Parts of a good plan bring nothing for seconds on end where it lacks a minute or two,
and a large step sooner is in vain. One thread is asked for a minute less with all of
the day free, and makes smaller what it finds; beside it another is asked for a proof
that nothing ends before the plan at hand. On days of three or four people either
answers in some seconds (docs/decisions/0114).
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.aimed import search_aimed
from stillroom.planning.cpsat.ruled_out import RuledOut
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.variables import DayModel, Expr

OTHER_SEEDS = 1000
"""Added to the seed, or what was asked before would be asked again."""


def last_look(
    day: DayModel,
    goal: Expr,
    known: cp_model.CpSolver,
    floor: int,
    search: Search,
    seconds: float,
    on_better: Callable[[cp_model.CpSolver], None],
) -> tuple[cp_model.CpSolver, int]:
    """
    Ask for a plan that is a minute better, and for a proof that none is.

    Parameters
    ----------
    day, goal, known, floor, search, seconds, on_better
        As in `search_aimed`.

    Returns
    -------
    tuple of CpSolver and int
        With the values of the best plan, and a minute before which none ends: the end
        of ``known`` where that is proven, else ``floor``. [min]
    """
    assert day.finish is not None
    other = replace(search, seed=search.seed + OTHER_SEEDS)
    finish = known.value(day.finish)
    if known.value(goal) > finish:  # it is late: a sooner end alone proves nothing
        found = search_aimed(day, goal, known, floor, other, seconds, on_better)
        return found, floor
    proof = RuledOut(day.problem, search.seed)
    latest = search.latest if search.deterministic else None
    alone = replace(other, workers=1)
    with ThreadPoolExecutor(1) as beside:
        none = beside.submit(proof.is_soonest, floor, finish, seconds, latest)
        try:
            found = search_aimed(
                day, goal, known, floor, alone, seconds, on_better, a_minute=True
            )
            proven = none.result()
        except BaseException:  # broken off: nobody waits for it
            proof.stop()
            raise
    search.cut.happened |= proof.cut
    return found, finish if proven else floor
