"""Which of two plans is the better one, by the goal that decides it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.how_good.test_goal_order import answer_of, two_loads_end_sooner
from planning.how_good.test_goals import load, placed, table
from planning.small_days import day, jelly, person

from stillroom.planning.daytime import said_minutes
from stillroom.planning.goal_order import Goal
from stillroom.planning.how_good.what_is_better import what_is_better
from stillroom.planning.problem import Problem, Want
from stillroom.planning.timetable import Timetable

FAR = 470
"""An hour by which either plan is long done. [min]"""


@pytest.fixture(scope="module")
def early() -> Timetable:
    """Of two loads."""
    return answer_of(two_loads_end_sooner()).timetable


@pytest.fixture(scope="module")
def few() -> Timetable:
    """Of one load, which ends later, within half an hour."""
    return answer_of(two_loads_end_sooner(done_by_min=FAR)).timetable


def better(problem: Problem, plan: Timetable, other: Timetable) -> str:
    """Say what is better in the other, which must not be so both ways."""
    back = what_is_better(problem, other, problem, plan)
    said = what_is_better(problem, plan, problem, other)
    assert not (said and back)
    return said


def test_nothing_is_better_in_the_same_plan(early: Timetable) -> None:
    assert better(two_loads_end_sooner(), early, early) == ""


def test_sooner_is_better_where_no_hour_is_named(early, few) -> None:
    by = said_minutes(few.finish_min - early.finish_min)
    problem = two_loads_end_sooner()
    assert better(problem, few, early).endswith(f", {by} sooner")
    assert better(problem, early, few) == ""


def test_with_the_hour_far_off_a_run_fewer_is_worth_half_an_hour(early, few) -> None:
    problem = two_loads_end_sooner(done_by_min=FAR)
    assert better(problem, early, few).startswith("1 canner run fewer, done at ")
    half_an_hour = few.moved(early.finish_min + 30 - few.finish_min)
    assert better(problem, early, half_an_hour).startswith("1 canner run fewer")
    too_late = few.moved(early.finish_min + 31 - few.finish_min)
    assert better(problem, early, too_late) == ""
    assert better(problem, too_late, early).endswith(", 31 min sooner")


def test_no_minute_past_her_hour_is_worth_a_run(early, few) -> None:
    problem = two_loads_end_sooner(done_by_min=few.finish_min - 1)
    by = said_minutes(few.finish_min - early.finish_min)
    assert better(problem, few, early).endswith(f", {by} sooner")


def test_near_her_hour_only_what_is_left_of_it_is_given(early, few) -> None:
    problem = two_loads_end_sooner(done_by_min=few.finish_min)
    assert better(problem, early, few).startswith("1 canner run fewer")


def test_in_her_own_order(early, few) -> None:
    asked = two_loads_end_sooner(done_by_min=FAR)
    assert better(replace(asked, first=(Goal.EARLY,)), few, early)
    late_few = few.moved(200)
    assert better(replace(asked, first=(Goal.FEW_RUNS,)), early, late_few)
    second = replace(asked, first=(Goal.ON_TIME, Goal.FEW_RUNS))
    assert better(second, early, late_few).startswith("1 canner run fewer")


def test_a_promise_comes_before_all(early, few) -> None:
    problem = day(
        *two_loads_end_sooner().batches,
        people=2,
        canners=two_loads_end_sooner().canners,
        wants=(Want(product="jelly", by_min=few.finish_min - 30),),
    )
    late, end = few.moved(60), few.finish_min + 200
    wash = placed("jelly-1", "wash_pot", end - 5, end, "p1")
    on_time = replace(few.moved(-60), steps=(*few.moved(-60).steps, wash))
    assert on_time.finish_min > late.finish_min
    said = better(problem, late, on_time)
    assert said.startswith("what was promised is less late, done at ")


def test_two_hurried_moments_in_one_persons_hands_are_worse_than_in_two() -> None:
    problem = day(jelly(jars=8), people=(person("p1"), person("p2")))
    steps = (
        placed("jelly-1", "boil", 100, 110, "p1"),
        placed("jelly-1", "fill", 110, 120, "p1"),
    )
    his = table(*steps, loads=(load("canner/1", 104),))
    hers = table(*steps, loads=(load("canner/1", 104, "p2"),))
    assert better(problem, his, hers) == "1 hurried moment fewer, done at 10:00"


def test_a_wash_fewer_is_better_where_no_run_is() -> None:
    problem = day(jelly("jelly-1"), jelly("jelly-2"))
    washed = table(
        replace(placed("jelly-1", "boil", 0, 20, "p1"), pot="pot"),
        replace(placed("jelly-2", "boil", 40, 60, "p1"), pot="pot"),
    )
    rinsed = table(
        replace(placed("jelly-1", "boil", 0, 20, "p1"), pot="pot", rinsed=True),
        replace(placed("jelly-2", "boil", 40, 60, "p1"), pot="pot"),
    )
    assert better(problem, washed, rinsed) == "1 wash fewer, done at 9:00"
    milled = replace(rinsed.steps[1], pot=None, mill=1)
    beside = replace(rinsed, steps=(rinsed.steps[0], rinsed.steps[1], milled))
    assert better(problem, beside, rinsed) == "1 wash fewer, done at 9:00"


def test_free_time_in_one_piece_comes_last() -> None:
    problem = day(jelly(), people=(person("p1"), person("p2")))
    last = placed("jelly-1", "wash_pot", 140, 150, "p1")
    between = table(placed("jelly-1", "lid", 70, 80, "p2"), last)
    at_once = table(placed("jelly-1", "lid", 0, 10, "p2"), last)
    said = better(problem, between, at_once)
    assert said == "1 h 10 min more free in one piece, done at 10:30"
    sooner = at_once.moved(-1)
    assert better(problem, between, sooner).endswith(", 1 min sooner")
