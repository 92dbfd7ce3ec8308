"""Whom a batch serves since the day has gone otherwise, as its page says it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.day import Purpose, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Problem
from stillroom.planning.which_batches.served_since import served_as_in
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import day, juice, stores

ELEVEN, THREE = dt.time(11), dt.time(15)


def wanted(jars: int, by: dt.time | None = None, **more: object) -> Want:
    plain = Want(product="plum jelly", jars=jars, jar="half-pint", by=by)
    return replace(plain, **more)


def planned(*wants: Want) -> tuple[DayPlan, Problem]:
    today = day(*wants, shelf=(juice(bags=6), *stores()))
    plan = plan_the_day(today, seconds=0.0, explain=False)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    return plan, plan.problem


def serving(problem: Problem, name: str, *labels: str) -> Problem:
    """The day since a batch serves others: their labels."""
    return replace(
        problem,
        batches=tuple(
            replace(b, product=labels[0], also_for=labels[1:]) if b.id == name else b
            for b in problem.batches
        ),
    )


def test_a_batch_that_takes_over_the_stands_promise_is_for_the_stand():
    """Of two promises by one hour the one that matters more is named first."""
    plan, problem = planned(
        wanted(3, ELEVEN, matters=2),
        wanted(5, ELEVEN, matters=5, purpose=Purpose.STAND),
        wanted(8),
    )
    first, second = plan.batches
    assert (first.purpose, second.purpose) == (Purpose.STAND, Purpose.PANTRY)
    # as they stand in the day file, not as they are served
    first = replace(first, serves=tuple(sorted(first.serves, key=lambda w: w.jars)))
    now = serving(problem, second.id, "plum jelly by 11:00")
    (left,) = served_as_in(now, [second], [first, second])
    assert [(w.by, w.jars) for w in left.serves] == [
        (ELEVEN, 5),
        (ELEVEN, 3),
        (None, 8),
    ]
    assert left.purpose is Purpose.STAND


def test_the_earlier_promise_stands_first_whichever_matters_more():
    plan, problem = planned(
        wanted(7, ELEVEN, matters=1), wanted(7, THREE, matters=5), wanted(7)
    )
    *_, last = plan.batches
    now = serving(problem, last.id, "plum jelly by 11:00", "plum jelly by 15:00")
    (left,) = served_as_in(now, [last], plan.batches[::-1])
    assert [w.by for w in left.serves] == [ELEVEN, THREE, None]


def test_jars_of_another_size_are_not_promised_with_these():
    """Two sizes of one product have one label by the hour."""
    plan, problem = planned(wanted(8), wanted(4, ELEVEN, jar="pint"), wanted(8, ELEVEN))
    mine = [batch for batch in plan.batches if batch.jar == "half-pint"]
    assert len(plan.batches) == 3
    promised, other = sorted(mine, key=lambda batch: batch.serves[0].by is None)
    now = serving(problem, other.id, "plum jelly by 11:00")
    (left,) = served_as_in(now, [other], [*plan.batches])
    assert [(w.jar, w.by) for w in left.serves] == [
        ("half-pint", ELEVEN),
        ("half-pint", None),
    ]
    assert left.serves[0] in promised.serves


def test_a_batch_that_is_in_no_problem_serves_whom_it_served():
    plan, problem = planned(wanted(8, ELEVEN), wanted(8))
    first, second = plan.batches
    fewer = replace(
        problem, batches=tuple(b for b in problem.batches if b.id == first.id)
    )
    assert served_as_in(fewer, plan.batches, plan.batches) == (first, second)


@pytest.mark.parametrize("hours", [(ELEVEN,), (ELEVEN, THREE)])
def test_jars_that_nobody_waits_for_any_more_are_said_for_the_last_that_did(hours):
    each = 8 // len(hours)
    plan, problem = planned(*(wanted(each, by) for by in hours))
    (batch,) = plan.batches
    (left,) = served_as_in(
        serving(problem, batch.id, "plum jelly"), [batch], plan.batches
    )
    assert [want.by for want in left.serves] == [hours[-1]]
