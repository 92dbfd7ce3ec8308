"""The plain model that ours is measured against has the same rules, and no more."""

from __future__ import annotations

import pytest
from planning.brute_days import canner_day, tiny_day
from planning.small_days import day, jelly

from benchmarks.plain_model import plain_plan
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer


def test_one_person_one_batch_takes_76_minutes() -> None:
    # as in test_smallest_days: 5 + 4 + 23 + 5 + 4 + 35
    found = plain_plan(day(jelly()), seconds=10.0)
    assert found.proven
    assert (found.finish_min, found.lateness, found.bound_min) == (76, 0, 76)


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("drawn", [tiny_day, canner_day])
def test_both_models_prove_the_same_finish(drawn, seed: int) -> None:  # type: ignore[no-untyped-def]
    problem = drawn(seed)
    ours = plan_day(problem, seconds=6.0)
    plain = plain_plan(problem, seconds=6.0)
    assert isinstance(ours, Answer)
    assert ours.proven
    assert plain.proven
    assert plain.finish_min == ours.finish_min


def test_a_day_without_a_plan_has_none_here_either() -> None:
    assert plain_plan(day(jelly(), horizon_min=60), seconds=5.0).finish_min is None
