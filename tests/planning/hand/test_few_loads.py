"""By hand a batch goes into as few loads as hold it."""

from __future__ import annotations

from dataclasses import replace

from planning.small_days import canner, day, jelly

from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations


def test_the_canner_that_takes_all_goes_before_one_that_is_hot_sooner() -> None:
    """It put seven of nine into the small one, and had no plan for the other two."""
    small = canner("small", places={"half_pint": 7}, first_heat_min=5)
    large = canner("large", places={"half_pint": 9}, first_heat_min=30)
    fire = replace(day().burners[0], id="fire of the large")
    problem = day(jelly(jars=9), canners=(small, replace(large, burners=(fire.id,))))
    problem = replace(problem, burners=(*problem.burners, fire))
    plan = by_hand(problem)
    assert plan is not None
    assert violations(problem, plan) == ()
    assert [(load.canner, load.count) for load in plan.loads] == [("large", 9)]
