"""What a search found, made into an answer: judged, with how good it is known to be."""

from __future__ import annotations

import time
from collections.abc import Callable

from stillroom.planning.bounding.beside import BoundBeside
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.cpsat.search import SearchResult
from stillroom.planning.how_good.calm import heated_late
from stillroom.planning.how_good.given_up import given_up
from stillroom.planning.how_good.lateness import (
    POINTS_A_LATE_MINUTE,
    score,
    weighted_lateness,
)
from stillroom.planning.how_good.other_hands import in_calmer_hands
from stillroom.planning.how_good.rests_apart import with_rests_apart
from stillroom.planning.how_good.stands_less import standing_less
from stillroom.planning.judge.check import breaches, misstatements
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import rinsed_where_enough
from stillroom.planning.spoken_of import Sentence, says
from stillroom.planning.timetable import Answer, Timetable

NOTHING_BETTER = "the search found nothing better than a plan by hand"


class BrokenPlan(AssertionError):
    """
    A plan of our own making breaks a rule: a mistake in the planner.

    Attributes
    ----------
    said : tuple of Sentence
        What it breaks.
    """

    def __init__(self, *said: Sentence) -> None:
        super().__init__(*said)
        self.said = said

    def __str__(self) -> str:
        return "; ".join(map(str, self.said))


def judge(problem: Problem, timetable: Timetable) -> Timetable:
    """
    Pass a timetable that breaks no rule.

    Raises
    ------
    BrokenPlan
        With what it breaks.
    """
    broken = breaches(problem, timetable)
    if broken:
        raise BrokenPlan(*(one.said for one in broken))
    return timetable


class Shown:
    """Passes on plans that are better than those before, each of them judged first."""

    def __init__(
        self,
        problem: Problem,
        on_better: Callable[[Timetable, int], None] | None,
        began: float,
    ) -> None:
        self.problem, self.on_better, self.began = problem, on_better, began
        self.best: int | None = None
        self.best_plan: Timetable | None = None
        self.first_s: float | None = None
        self.beside: BoundBeside | None = None

    def __call__(self, timetable: Timetable, bound: int) -> None:
        """Pass on a plan, where it is better than all before."""
        worth = score(self.problem, timetable)
        if self.best is not None and worth >= self.best:
            return
        judge(self.problem, timetable)
        self.best, self.best_plan = worth, timetable
        if self.first_s is None:
            self.first_s = time.monotonic() - self.began
        if self.on_better is not None:
            proven = (
                bound if self.beside is None else max(bound, self.beside.best.minute)
            )
            self.on_better(timetable, proven)


def answer_of(
    problem: Problem,
    found: SearchResult,
    first: Timetable | None,
    start: Timetable | None,
    shown: Shown,
    known: Bound,
    is_over: Callable[[], bool],
) -> Answer:
    """
    Return the answer of a search: its best plan, judged, and how good it is.

    Parameters
    ----------
    problem : Problem
        The day.
    found : SearchResult
        What the search came to; with a timetable.
    first : Timetable or None
        The plan by hand, which is shown beside.
    start : Timetable or None
        What the search began with, where a person would have made it so.
    shown : Shown
        What was shown so far.
    known : Bound
        What is proven without the search.
    is_over : callable
        Whether nobody's hands are to be changed any more; it may add to the remarks
        of ``found``.

    Raises
    ------
    BrokenPlan
        If the plan breaks a rule: a mistake of the planner.
    """
    assert found.timetable is not None
    timetable, made_by = heated_late(problem, found.timetable), "solver"
    if found.timetable is not start:
        timetable = in_calmer_hands(
            problem,
            rinsed_where_enough(problem, timetable),
            is_over=is_over,
        )
        timetable = with_rests_apart(problem, timetable)
        timetable = standing_less(problem, timetable, is_over=is_over)
    ended = score(problem, timetable)
    # what the first search reached; goals that she puts in front may end later
    reached = min((worth for _, worth, _ in found.trace), default=ended)
    sooner = []
    if first is not None and score(problem, first) < reached:
        timetable = first
    elif ended > reached:
        soonest = _as_shown(problem, shown.best_plan, is_over)
        if soonest is not None and (said := given_up(problem, timetable, soonest)):
            sooner = [said]
    remarks = [*found.remarks, *sooner]
    if found.timetable is start or timetable is first:
        made_by = "by hand"
        if not found.no_search:
            remarks.append(NOTHING_BETTER)
    judge(problem, timetable)
    late = weighted_lateness(problem, timetable)
    # a plan that is no later on the wants cannot end before this
    searched = found.bound - POINTS_A_LATE_MINUTE * late
    unless_later = late > 0 and searched > known.minute
    if searched > known.minute:
        known = Bound(searched, "every order of the work was tried, or ruled out")
    spent = time.monotonic() - shown.began
    answer = Answer(
        timetable=timetable,
        by_hand=first,
        made_by=made_by,
        finish_min=timetable.finish_min,
        lateness=late,
        lower_bound_min=known.minute,
        lower_bound_why=known.why,
        bound_unless_later=unless_later,
        proven=found.bound >= score(problem, timetable),
        solve_s=spent,
        first_plan_s=spent if shown.first_s is None else shown.first_s,
        trace=tuple(found.trace),
        remarks=tuple(remarks),
    )
    wrong = misstatements(problem, answer)
    if wrong:
        raise BrokenPlan(*map(says, wrong))
    return answer


def _as_shown(
    problem: Problem, plan: Timetable | None, is_over: Callable[[], bool]
) -> Timetable | None:
    """A plan on the way, rinsed and in calmer hands like the one that is given."""
    if plan is None:
        return None
    return in_calmer_hands(problem, rinsed_where_enough(problem, plan), is_over=is_over)
