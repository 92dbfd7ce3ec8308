"""What no plan can beat when everything is asked for together."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import event, given, settings
from planning.day_strategies_small import random_days
from planning.test_any_day import SLOW, assume_sense

from stillroom.planning.bounding.together import bound_together_min
from stillroom.planning.bounds import lower_bound_min
from stillroom.planning.by_hand import by_hand
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer


@settings(max_examples=300, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_no_plan_by_hand_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    plan = by_hand(problem, shuffles=2)
    if plan is not None:
        least = bound_together_min(problem, 0)
        event("better" if least > lower_bound_min(problem) else "no better")
        assert least <= plan.finish_min


@settings(max_examples=60, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_no_proven_plan_ends_before_the_bound(problem: Problem) -> None:
    assume_sense(problem)
    # wants are left out, so that what is proven is the earliest finish of all
    problem = replace(problem, wants=())
    answer = plan_day(problem, seconds=1.5)
    if isinstance(answer, Answer):
        event("proven" if answer.proven else "not proven")
        assert bound_together_min(problem, 0) <= answer.finish_min
