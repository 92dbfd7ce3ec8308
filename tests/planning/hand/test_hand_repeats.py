"""Tries by hand that would only repeat are passed over: fewer tries, the same plans."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

import pytest
from hypothesis import given, settings
from planning.day_strategies_small import random_days
from planning.small_days import day, jelly, step, work
from planning.test_any_day import SLOW, assume_sense

from stillroom.methods.step import Link
from stillroom.planning.hand import hand_batch
from stillroom.planning.hand.by_hand import plan_in_order
from stillroom.planning.hand.free_time import empty_kitchen
from stillroom.planning.hand.hand_batch import Placing
from stillroom.planning.hand.hand_repeats import changes_in
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Batch, Problem, Window
from stillroom.planning.way_changes import ending_later


@contextmanager
def with_every_try() -> Iterator[None]:
    """Nothing is passed over."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(hand_batch, "latest_round", lambda tries: None)
        yield


def tries_of(problem: Problem) -> int:
    """How often something is tried for the batches of a day, in their order."""
    tried = 0
    attempt = Placing._attempt

    def counted(self, trial):
        nonlocal tried
        tried += 1
        return attempt(self, trial)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(Placing, "_attempt", counted)
        plan_in_order(problem, list(problem.batches), canner_keeps_burner=True)
    return tried


def two_loads() -> Batch:
    """Jars for two loads, 35 min apart; her washing up comes 6 min before the first."""
    return jelly(jars=20, closed_wait_at_most_min=36)


@settings(max_examples=150, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_the_plan_is_the_one_of_every_try(problem: Problem) -> None:
    assume_sense(problem)
    problem = ending_later(problem, 300)
    for order in (list(problem.batches), list(problem.batches)[::-1]):
        for keeps in (True, False):
            plan = plan_in_order(problem, order, canner_keeps_burner=keeps)
            with with_every_try():
                same = plan_in_order(problem, order, canner_keeps_burner=keeps)
            assert plan == same


def test_a_batch_in_its_own_way_is_not_put_off_minute_by_minute_all_day():
    problem = day(two_loads())
    assert plan_in_order(problem, [*problem.batches], canner_keeps_burner=True) is None
    with with_every_try():
        every = tries_of(problem)
    assert 4 * tries_of(problem) < every
    longer = replace(problem, horizon_min=900)
    assert tries_of(longer) <= tries_of(problem)


def test_what_else_begins_or_ends_is_stopped_at():
    """Somebody who comes at 400 lowers the jars while the keeper washes up."""
    helper = replace(day(two_loads()).people[0], id="late", arrives_min=400)
    problem = day(two_loads(), horizon_min=900)
    problem = replace(problem, people=(*problem.people, helper))
    plan = plan_in_order(problem, [*problem.batches], canner_keeps_burner=True)
    assert plan is not None
    assert violations(problem, plan) == ()
    first = min(load.lower_min for load in plan.loads)
    assert 400 <= first < 400 + 36
    with with_every_try():
        every = tries_of(problem)
        assert plan == plan_in_order(
            problem, [*problem.batches], canner_keeps_burner=True
        )
    assert 2 * tries_of(problem) < every


def test_what_comes_before_a_late_step_is_put_off_at_once():
    """The second may not begin before 450, and the first ends 5 min before at most."""
    batch = work(
        "juice",
        step("steam", 20, 3),
        step("press", 10, 3),
        links=(Link(before="steam", after="press", at_most_min=5),),
        windows=(Window(step="press", earliest_min=450),),
    )
    problem = day(batch)
    plan = plan_in_order(problem, [batch], canner_keeps_burner=True)
    assert plan is not None
    assert violations(problem, plan) == ()
    assert [s.start_min for s in plan.steps] == [425, 450]
    assert tries_of(problem) == 2


def test_a_burner_that_is_taken_is_stopped_at_from_and_until():
    """Also under a canner that keeps its burners: nothing else is ever on them."""
    burners = tuple(
        replace(b, taken=((100, 130),)) if b.id == "strong-1" else b
        for b in day().burners
    )
    for problem, stops in ((day(), 0), (day(burners=burners), 2)):
        kitchen = empty_kitchen(problem, canner_keeps_burner=True)
        assert kitchen is not None
        changes = changes_in(problem, kitchen)
        assert (changes >> 100 & 1) + (changes >> 130 & 1) == stops
