"""Loads that follow too slowly for a batch, however long the day is."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from planning.day_strategies_small import random_days
from planning.small_days import canner, day, jelly
from planning.test_any_day import SLOW, assume_sense

from stillroom.planning.bounding.too_many_jars import none_in_time
from stillroom.planning.cpsat.solve import Search
from stillroom.planning.hand import by_hand
from stillroom.planning.hand.hand_batch import Placing
from stillroom.planning.problem import Problem
from stillroom.planning.way_changes import ending_later
from stillroom.planning.ways import way_plans
from stillroom.planning.ways.way_plans import Time, how_soon


@pytest.mark.parametrize(
    ("jars", "wait", "none"),
    [(16, 0, False), (17, 34, True), (17, 35, False), (33, 69, True), (33, 70, False)],
)
def test_loads_that_follow_too_slowly_are_known_beforehand(jars, wait, none):
    """16 jars at a time, every 35 min at the soonest."""
    problem = day(jelly(jars=jars, closed_wait_at_most_min=wait))
    assert none_in_time(problem) is none
    with pytest.MonkeyPatch.context() as patched:
        placed = []
        patched.setattr(Placing, "place", lambda self: placed.append(self) or True)
        by_hand.by_hand(problem)
    assert bool(placed) is not none


def test_each_canner_counts_for_what_it_takes_in_time():
    slow = canner("slow", burners=("middle-1",), come_up_min=60)
    batch = jelly(jars=48, closed_wait_at_most_min=40)
    first = day(batch).canners[0]
    assert not none_in_time(day(batch, canners=(first, slow)))
    assert none_in_time(day(replace(batch, jars=49), canners=(first, slow)))
    at_once = replace(first, load_min=0, come_up_min=0, rest_min=0, unload_min=0)
    no_minutes = tuple(replace(p, minutes=0) for p in day(batch).processes)
    assert not none_in_time(day(batch, canners=(at_once,), processes=no_minutes))


@settings(max_examples=100, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_what_is_known_beforehand_is_never_planned(problem: Problem) -> None:
    assume_sense(problem)
    problem = ending_later(problem, 300)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(by_hand, "none_in_time", lambda problem: False)
        plan = by_hand.by_hand(problem, shuffles=2)
    assert plan is None or not none_in_time(problem)


def test_no_solver_is_asked_about_loads_that_follow_too_slowly(monkeypatch):
    def asked(*args: object) -> None:
        raise AssertionError("asked")

    problem = day(jelly(jars=17, closed_wait_at_most_min=34))
    monkeypatch.setattr(way_plans, "soonest", asked)
    answer = how_soon(problem, None, 0, Time(Search(1.0, 1, 1, True, 1.0)))
    assert answer.plan is None
    assert answer.bound > problem.horizon_min
