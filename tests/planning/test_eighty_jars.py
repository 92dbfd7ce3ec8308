"""The shipped day of eighty jars: plan, by-hand plan, goals, odds, why for all."""

from __future__ import annotations

import pytest

from stillroom.planning.day_file.dayfile import day_like_text, read_day
from stillroom.planning.day_odds.odds import odds_of
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.goal_order import Goal
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.goals import goals_of
from stillroom.planning.judge.check import violations
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.why import why
from stillroom.planning.whole_day import plan_the_day


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    found = plan_the_day(read_day(day_like_text("eighty-jars")), seconds=4.0)
    assert isinstance(found, DayPlan)
    return found


def test_all_eighty_jars_are_planned_and_the_plan_holds(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    assert sum(batch.jars for batch in plan.batches) == 80
    assert plan.left_out == ()
    assert plan.shopping == ()
    assert violations(plan.problem, plan.answer.timetable) == ()


def test_the_plan_by_hand_stands_beside_and_ends_later(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    assert plan.answer.by_hand is not None
    assert violations(plan.problem, plan.answer.by_hand) == ()
    assert plan.answer.finish_min < plan.answer.by_hand.finish_min
    assert by_hand(plan.problem, seconds=1e9) == by_hand(plan.problem, seconds=1e9)


def test_every_goal_is_said_with_its_figures(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    said = goals_of(plan.problem, plan.answer.timetable)
    assert [met.goal for met in said] == list(Goal)
    assert all(met.figures for met in said)
    assert said[0].sentence == "Nothing late."
    runs = next(met for met in said if met.goal is Goal.FEW_RUNS)
    assert runs.figures["runs"] == len(plan.answer.timetable.loads)
    # a pot for each of the twelve batches, and two of them go through the mill
    washes = runs.figures["pot_washes"] + runs.figures["mill_washes"]
    assert washes + runs.figures["rinses"] == 14
    # six products at most share two pots and a mill: none is done with fewer
    assert washes >= 6


def test_why_answers_for_each_step_and_each_load(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    table = plan.answer.timetable
    asked = [f"{s.batch}/{s.step}" for s in table.steps] + [x.id for x in table.loads]
    assert len(asked) > 120
    for name in asked:
        answer = why(plan.problem, table, name)
        assert answer.chain
        assert answer.chain[0].sentence


def test_its_odds_are_worked_out(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    odds = odds_of(plan.problem, plan.answer.timetable, days=500)
    chances = [by.chance for by in odds.done_by]
    assert chances == sorted(chances)
    assert chances[-1] > 0.9
