"""Plans made by turns: each holds, a seed says what is found, small days are solved."""

from __future__ import annotations

import importlib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import event, given, settings
from planning.brute_days import canner_day, raw_day, tiny_day
from planning.day_strategies_small import random_days
from planning.small_days import butter, day, jelly, step, work
from planning.test_any_day import SLOW, assume_sense

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.hand.by_hand import better_start, by_hand
from stillroom.planning.how_good.lateness import score
from stillroom.planning.judge.check import violations
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Link, Problem
from stillroom.planning.sequence.search import by_turns
from stillroom.planning.timetable import Answer, Timetable

LONG_S = 1e6
"""The clock ends nothing here: plans are counted."""


def made(problem: Problem, plans: int = 30, seed: int = 1) -> Timetable | None:
    return by_turns(problem, plans=plans, seconds=LONG_S, seed=seed)


@settings(max_examples=150, deadline=None, suppress_health_check=SLOW)
@given(random_days())
def test_every_plan_on_the_way_breaks_no_rule(problem: Problem) -> None:
    assume_sense(problem)
    shown: list[Timetable] = []
    best = by_turns(problem, plans=25, seconds=LONG_S, seed=2, on_better=shown.append)
    event("fits" if best else "does not fit")
    for plan in [*shown, *([best] if best else [])]:
        assert violations(problem, plan) == ()
        assert lower_bound_min(problem) <= plan.finish_min
    assert sorted((score(problem, p) for p in shown), reverse=True) == [
        score(problem, p) for p in shown
    ]


def test_a_seed_says_what_is_found() -> None:
    problem = day(
        batches=(jelly("jelly-1"), jelly("jelly-2"), butter("butter-1")),
        horizon_min=900,
    )
    first, again = made(problem, 60, 3), made(problem, 60, 3)
    assert first is not None
    assert first == again
    assert made(problem, 60, 4) is not None


def test_two_jellies_share_a_load_where_they_may_wait_for_each_other() -> None:
    problem = day(batches=(jelly("jelly-1"), jelly("jelly-2")), horizon_min=900)
    apart, together = (
        [replace(b, closed_wait_at_most_min=0) for b in problem.batches],
        [replace(b, closed_wait_at_most_min=60) for b in problem.batches],
    )
    loads = []
    for batches in (apart, together):
        plan = made(replace(problem, batches=tuple(batches)), 100)
        assert plan is not None
        loads.append(len(plan.loads))
    assert loads == [2, 1]


@pytest.mark.parametrize("tiny", [tiny_day, canner_day, raw_day])
def test_most_tiny_days_are_solved_and_none_is_beaten(tiny: object) -> None:
    assert callable(tiny)
    solved = asked = 0
    for seed in range(1, 31):
        problem = tiny(seed)
        answer = plan_day(problem, seconds=2.0, workers=1)
        if not isinstance(answer, Answer) or not answer.proven:
            continue
        plan = made(problem, 80)
        asked += 1
        if plan is None:
            continue
        assert violations(problem, plan) == ()
        assert score(problem, plan) >= answer.finish_min
        solved += plan.finish_min == answer.finish_min
    assert asked >= 10
    assert solved >= 0.8 * asked


@pytest.mark.parametrize(("second", "fits"), [(2, True), (3, False)])
def test_two_things_at_once_in_the_same_hands_add_up(second: int, fits: bool) -> None:
    both_at_once = work(
        "jars",
        step("set_out", 2, 0),
        step("watch", 5, 2, same_hands="keeper"),
        step("fill", 5, second, same_hands="keeper"),
        links=tuple(
            Link(before="set_out", after=name, at_least_min=0, at_most_min=0)
            for name in ("watch", "fill")
        ),
    )
    problem = day(both_at_once)
    plan = made(problem)
    assert (plan is not None) == fits  # five quarters, and a person has four
    assert (by_hand(problem) is not None) == fits
    assert isinstance(plan_day(problem, seconds=0.5), Answer) == fits
    assert plan is None or violations(problem, plan) == ()


def test_a_batch_that_must_be_split_is_left_to_others() -> None:
    problem = day(batches=(jelly("jelly-1", jars=40),), horizon_min=900)
    assert made(problem) is None


@pytest.mark.parametrize("name", ["d3", "d4", "demo", "j120p3c2-5"])
def test_a_large_day_begins_better_than_by_hand(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.syspath_prepend(str(Path(__file__).parents[3] / "benchmarks"))
    problem = importlib.import_module("named_days").problem_named(name)
    first = by_hand(problem, seconds=0.0)
    assert first is not None
    ordered = better_start(problem, first, seconds=LONG_S, tries=15)
    plan = made(problem, 100)
    assert plan is not None
    assert violations(problem, plan) == ()
    assert score(problem, plan) < score(problem, ordered)
