"""What no plan can beat, window by window, on sums that can be followed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from planning.day_strategies_small import random_days
from planning.small_days import day, jelly
from planning.test_any_day import SLOW, assume_sense

from stillroom.planning.bounds import lower_bound_min
from stillroom.planning.by_hand import by_hand
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer
from stillroom.planning.windows import pieces_of, window_bound_min


@settings(max_examples=150, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_no_plan_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    least = window_bound_min(problem, lower_bound_min(problem))
    if plan is not None:
        assert least <= plan.finish_min


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_no_proven_plan_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    answer = plan_day(problem, seconds=1.0)
    if isinstance(answer, Answer):
        assert window_bound_min(problem, 0) <= answer.finish_min


def test_one_fire_that_is_strong_enough() -> None:
    # heat 15 + boil 12 + 7 + 1 ...: with hands and pots for all, three batches share
    # the one burner that boils them, one after another
    problem = day(*(jelly(n) for n in "abc"), people=6, big_pots=3)
    boils = [s for s in problem.batches[0].steps if s.burner_w and s.in_pot]
    strongest = max(s.burner_w for s in boils)
    one = next(b for b in problem.burners if b.power_w >= strongest)
    others = tuple(
        replace(b, power_w=strongest - 1) for b in problem.burners if b.id != one.id
    )
    narrow = replace(problem, burners=(one, *others))
    on_fire = sum(s.duration_min for s in boils if s.burner_w == strongest)
    least = window_bound_min(narrow, lower_bound_min(narrow))
    assert least >= 3 * on_fire
    answer = plan_day(narrow, seconds=4.0)
    assert isinstance(answer, Answer)
    assert least <= answer.finish_min


def test_a_known_bound_is_never_lowered() -> None:
    problem = day(jelly("a"))
    assert window_bound_min(problem, 70) >= 70


@pytest.mark.parametrize(("jars", "loads"), [(1, 1), (8, 1)])
def test_each_load_is_lowered_and_lifted_once(jars: int, loads: int) -> None:
    problem = day(replace(jelly("a"), jars=jars))
    steps = sum(1 for s in problem.batches[0].steps if s.attention_quarters)
    assert len(pieces_of(problem)) == steps + 2 * loads


def test_more_work_than_the_day_holds_is_one_past_its_end() -> None:
    problem = day(*(jelly(f"j{n}") for n in range(6)), horizon_min=120)
    assert window_bound_min(problem, 0) == 121
