"""From a day file to the whole answer: one straight line through the house."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace

from stillroom.book.procedures import Procedure
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.methods.today import air_in
from stillroom.planning.asked import Asked
from stillroom.planning.day import Day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.gathered import whole
from stillroom.planning.however_divided import holds_however_divided
from stillroom.planning.problem import Problem
from stillroom.planning.stated import Stated, state
from stillroom.planning.timetable import Answer, NoneFound
from stillroom.planning.too_small import as_much_as_fits
from stillroom.planning.ways.held_plan import KnownPlan
from stillroom.planning.which_batches.choices import Place
from stillroom.refusal import Refusal


def plan_the_day(
    day: Day,
    *,
    seconds: float = 5.0,
    workers: int = 2,
    deterministic: bool = True,
    own: tuple[Procedure, ...] = (),
    begin: Callable[[Problem], Problem] | None = None,
    learned: Learned = AS_PUBLISHED,
    answer_of: Callable[[Problem], Answer | NoneFound] | None = None,
    begin_with: Sequence[KnownPlan] = (),
    explain: bool = True,
) -> DayPlan | Refusal:
    """
    Return batches, loads, timetable, and what is missing.

    Where not all batches fit, those that would be missed least are left out and named.

    Parameters
    ----------
    day : Day
        What the keeper gives.
    seconds : float
        For the search; a day that does not fit may take as long once more: which of its
        batches fit, why not all do, the ways out. [s]
    workers : int
        Search threads.
    deterministic : bool
        Work is counted and not timed, so that one day always has one plan; without it
        the clock ends the search.
    own : tuple of Procedure
        Recipes of the keeper's, wanted by their titles.
    begin : callable, optional
        Adds to the problem what the day before has left.
    learned : Learned
        What her past days taught; not looked at where the day is planned as published.
    answer_of : callable, optional
        Places the steps in the solver's stead.
    begin_with : sequence of KnownPlan
        Plans of days like it. What holds of the best of them is where the search
        begins, and is never given up.
    explain : bool
        Whether a day that does not fit is told why, with the ways out.

    Returns
    -------
    DayPlan or Refusal
        A refusal only where nothing at all can be said, such as for want of an
        elevation.

    Raises
    ------
    Unreadable
        Where the kitchen or the people make no sense: a rest that fits nowhere, say.
    """
    air = air_in(day.kitchen)
    if isinstance(air, Refusal):
        return air
    if day.as_published:
        learned = AS_PUBLISHED
    asked = Asked(
        day=day,
        place=Place(kitchen=day.kitchen, air=air, own=own, learned=learned),
        begin=begin,
        seconds=seconds,
        workers=workers,
        deterministic=deterministic,
        explain=explain,
        began=time.monotonic(),
    )
    stated = state(asked, begin_with, may_size=answer_of is None)
    if not isinstance(stated, Stated):
        return stated
    problem, order = stated.problem, stated.order
    if answer_of is not None:
        answer = answer_of(problem)
    else:
        answer = asked.planned(problem, order, stated.known, stated.left_s)
    remarks = tuple(dict.fromkeys((*answer.remarks, *stated.remarks)))
    answer = replace(answer, remarks=remarks)
    if isinstance(answer, NoneFound):
        return _with_its_bound(asked, stated, as_much_as_fits(asked, stated, answer))
    stated.found.answer = answer
    return _with_its_bound(asked, stated, whole(stated.found))


def _with_its_bound(asked: Asked, stated: Stated, plan: DayPlan) -> DayPlan:
    """Say of the bound whether it is one of these batches alone."""
    if not isinstance(plan.answer, Answer) or plan.left_out:
        return plan
    all_ = holds_however_divided(asked, stated, plan.answer)
    return replace(plan, however_divided=all_)
