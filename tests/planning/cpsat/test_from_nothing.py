"""A day without any plan at hand that has room: asked of all its rules at once."""

import time
from dataclasses import replace
from pathlib import Path

import pytest

from stillroom.planning.bounding.bounds import lower_bound_min
from stillroom.planning.cpsat import from_nothing
from stillroom.planning.cpsat.from_nothing import any_plan
from stillroom.planning.cpsat.search import Search
from stillroom.planning.cpsat.solve import is_small
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.start import start_of
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted

LONG_BUTTER = Path(__file__).parent / "long_butter.toml"


@pytest.fixture(scope="module")
def problem() -> Problem:
    taken: list[Problem] = []

    def noted(problem: Problem) -> Problem:
        taken.append(problem)
        return problem

    plan_the_day(read_day(LONG_BUTTER), seconds=0.0, begin=noted, explain=False)
    return taken[0]


def search(seconds: float) -> Search:
    return Search(time.monotonic() + seconds, 2, 1, deterministic=True, seconds=seconds)


def test_there_is_no_plan_by_hand_and_none_by_turns_of_this_day(problem: Problem):
    assert not is_small(problem)
    assert by_hand(problem, shuffle_seconds=0.6, work_s=0.6, seed=1) is None
    assert start_of(problem, None, seconds=5, seed=1, counted=True).plan is None


def test_a_plan_is_found_from_nothing_and_the_judge_takes_it(problem: Problem):
    plan, spent_s = any_plan(problem, lower_bound_min(problem), search(2.5))
    assert plan is not None
    assert not violations(problem, plan)
    assert 0 < spent_s <= 2.5 + 0.25
    again, spent_again_s = any_plan(problem, lower_bound_min(problem), search(2.5))
    assert (again, spent_again_s) == (plan, spent_s)


def test_where_no_plan_can_be_none_is_made_up(problem: Problem):
    too_short = replace(problem, horizon_min=420)  # the butter alone takes longer
    plan, spent_s = any_plan(too_short, 0, search(1.0))
    assert plan is None
    assert spent_s <= 1.0 + 0.25


def test_by_the_clock_one_is_found_too(problem: Problem):
    by_clock = Search(time.monotonic() + 30, 2, 1, deterministic=False, seconds=30)
    plan, spent_s = any_plan(problem, lower_bound_min(problem), by_clock)
    assert plan is not None
    assert not violations(problem, plan)
    assert spent_s > 0


def test_ctrl_c_ends_both_workers(problem: Problem, monkeypatch: pytest.MonkeyPatch):
    stopped: list[bool] = []

    class Stopped(from_nothing.cp_model.CpSolver):
        def stop_search(self) -> None:
            stopped.append(True)
            super().stop_search()

    def interrupted(*_: object) -> tuple[int, float]:
        raise KeyboardInterrupt

    monkeypatch.setattr(from_nothing, "whole_day_solver", lambda _seed: Stopped())
    monkeypatch.setattr(from_nothing, "_asked", interrupted)
    with pytest.raises(KeyboardInterrupt):
        any_plan(problem, lower_bound_min(problem), search(1.0))
    assert stopped == [True, True]


def test_the_whole_day_is_planned_and_nothing_is_left_out():
    plan = granted(plan_the_day(read_day(LONG_BUTTER), seconds=5.0))
    assert plan.left_out == ()
    assert plan.answer.finish_min <= 14 * 60
