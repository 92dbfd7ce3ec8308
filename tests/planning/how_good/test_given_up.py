"""What was given up for a dearer goal: minutes of the end, and lateness as lateness."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from planning.small_days import day, jelly

from stillroom.planning.answering import Shown, answer_of
from stillroom.planning.bounding.bounds import Bound
from stillroom.planning.cpsat.search import SearchResult
from stillroom.planning.how_good.given_up import given_up
from stillroom.planning.how_good.lateness import score
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem, Want
from stillroom.planning.timetable import Answer, Timetable


def promised(by_min: int) -> Problem:
    return day(jelly(), wants=(Want(product="jelly", by_min=by_min, weight=3),))


@pytest.fixture(scope="module")
def early() -> Timetable:
    answer = plan_day(promised(600), seconds=1.0)
    assert isinstance(answer, Answer)
    return answer.timetable


def out(plan: Timetable) -> int:
    return max(load.out_min for load in plan.loads)


def test_lateness_is_no_minute_of_the_end(early: Timetable) -> None:
    """Thirty minutes later, of weight 3: in one figure they would be 210."""
    problem, late = promised(out(early)), early.moved(30)
    assert score(problem, late) - score(problem, early) == 30 + 2 * 3 * 30
    assert given_up(problem, late, early) == (
        "it could end 30 min sooner and jelly could be there in time; that is given up "
        "for what comes before ending early"
    )
    problem = promised(out(early) - 10)
    assert given_up(problem, late, early).startswith(
        "it could end 30 min sooner and jelly could be 30 min less late;"
    )


def washed_long(plan: Timetable, until: int) -> Timetable:
    """The same with a wash that ends the day later, and no jar."""
    wash = max(plan.steps, key=lambda s: s.end_min)
    drawn_out = replace(wash, end_min=until)
    return replace(plan, steps=tuple(drawn_out if s is wash else s for s in plan.steps))


def test_what_is_less_late_may_end_the_day_later(early: Timetable) -> None:
    problem, late = promised(out(early)), early.moved(30)
    assert given_up(problem, late, washed_long(early, late.finish_min + 12)) == (
        "jelly could be there in time, and the day would end 12 min later; that is "
        "given up for what comes before being in time"
    )


def test_what_ends_sooner_and_is_later_says_so(early: Timetable) -> None:
    problem, long = promised(out(early)), washed_long(early, early.finish_min + 20)
    said = "it could end 11 min sooner, with jelly 9 min later"
    assert given_up(problem, long, early.moved(9)) == said
    assert given_up(problem, early, early) == ""


def test_the_answer_says_no_end_before_what_no_plan_can_beat(early: Timetable) -> None:
    problem, late = promised(out(early)), early.moved(30)
    shown = Shown(problem, None, time.monotonic())
    shown(early, 0)
    best = score(problem, early)
    found = SearchResult(timetable=late, bound=0, trace=[(0.1, best, 0)])
    known = Bound(early.finish_min, "it is so")
    answer = answer_of(problem, found, None, None, shown, known, lambda: True)
    assert answer.remarks[0].startswith("it could end 30 min sooner and jelly ")
    assert answer.finish_min - 30 >= answer.lower_bound_min


def test_a_bound_of_the_search_is_one_of_plans_no_later(early: Timetable) -> None:
    """What is promised too soon is late in every plan: the search weighs it."""
    problem = promised(out(early) - 20)
    found = SearchResult(timetable=early, bound=score(problem, early))
    for known, is_so in ((0, True), (early.finish_min, False)):
        shown = Shown(problem, None, time.monotonic())
        least = Bound(known, "hands")
        said = answer_of(problem, found, None, None, shown, least, lambda: True)
        assert said.proven
        assert said.bound_unless_later is is_so
