"""Food that would stand too long is told first, and what becomes of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.daytime import clock_time
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.standing_food import standing
from stillroom.planning.timetable import Answer
from stillroom.planning.words.sheet import day_sheet
from tests.planning.small_days import day, jelly


def in_jars(problem):
    """The same with filling named as what it is."""
    batches = tuple(
        replace(
            b,
            steps=tuple(
                replace(s, put_up=True) if s.id == "fill" else s for s in b.steps
            ),
        )
        for b in problem.batches
    )
    return replace(problem, batches=batches)


@pytest.fixture(scope="module")
def one():
    problem = in_jars(day(jelly("jelly-1")))
    answer = plan_day(problem, seconds=1, deterministic=True)
    assert isinstance(answer, Answer)
    return problem, answer.timetable


def later(plan, step, by):
    """The plan with a step, and what comes after it, later."""
    since = next(s.start_min for s in plan.steps if s.step == step)
    steps = tuple(
        replace(s, start_min=s.start_min + by, end_min=s.end_min + by)
        if s.start_min >= since and s.step != "wash_pot"
        else s
        for s in plan.steps
    )
    return replace(plan, steps=steps, loads=tuple(lowered(x, by) for x in plan.loads))


def lowered(load, by):
    return replace(load, lower_min=load.lower_min + by)


def test_a_plan_that_keeps_all_lets_nothing_stand(one):
    problem, plan = one
    assert standing(problem, as_planned(problem, plan, 0), plan) == ()


@pytest.mark.parametrize("by", [25, 119, 121, 300])
def test_closed_jars_are_told_with_how_long_they_stand(one, by):
    problem, plan = one
    lid = next(s for s in plan.steps if s.step == "lid")
    waits = plan.loads[0].lower_min - lid.end_min
    late = replace(plan, loads=(lowered(plan.loads[0], by - waits),))
    (found,) = standing(problem, as_planned(problem, plan, lid.end_min), late)
    assert (found.is_closed, found.stands_min) == (True, by)
    assert found.since_min == lid.end_min
    assert found.is_too_long == (by > 120)
    told = found.told(problem.starts_at)
    assert ("do not can them so" in told) == (by > 120)
    assert "refrigerator or freezer" in told


def test_cooked_food_that_waits_for_its_jars_is_told(one):
    problem, plan = one
    skim = next(s for s in plan.steps if s.step == "skim")
    late = later(plan, "fill", 180)
    (found, *_) = standing(problem, as_planned(problem, plan, skim.end_min), late)
    assert (found.is_closed, found.since_min) == (False, skim.end_min)
    assert found.told(problem.starts_at).startswith(
        "cooked food of jelly-1 would stand 3 h"
    )


def test_jars_in_hot_water_and_hours_of_rest_are_no_food(one):
    problem, plan = one
    boil = next(s for s in plan.steps if s.step == "boil")
    late = later(plan, "boil", 200)
    found = standing(problem, as_planned(problem, plan, boil.start_min), late)
    assert found == ()


def test_what_has_stood_for_two_hours_by_now_is_not_put_into_the_cold_any_more(one):
    """Its two hours are over: a row of its own in the book."""
    problem, plan = one
    lid = next(s for s in plan.steps if s.step == "lid")
    waits = plan.loads[0].lower_min - lid.end_min
    late = replace(plan, loads=(lowered(plan.loads[0], 200 - waits),))
    for now, over in ((lid.end_min + 119, False), (lid.end_min + 120, True)):
        happened = replace(as_planned(problem, plan, lid.end_min), now_min=now)
        (found,) = standing(problem, happened, late)
        told = found.told(problem.starts_at)
        assert ("their 2 h were over" in told) is over
        assert ("Discard low-acid and doubtful food untasted" in told) is over
        assert ("go into the refrigerator" in told) is not over


@pytest.mark.parametrize("by", [120, 121, 300])
def test_the_line_of_their_load_says_that_they_are_not_canned_so(one, by):
    """Screen and paper had the load as any other."""
    problem, plan = one
    lid = next(s for s in plan.steps if s.step == "lid")
    load = replace(plan.loads[0], lower_min=lid.end_min + by)
    sheet = day_sheet(problem, replace(plan, loads=(load,)))
    (lower,) = (e for e in sheet.entries if e.what.startswith("Lower"))
    assert lower.caution.startswith("Do not can the jars of jelly-1 so") is (by > 120)
    hour = clock_time(problem.starts_at, lid.end_min + 120)
    assert (f"By {hour}, within 2 h" in lower.caution) is (by > 120)
    (block,) = (
        b
        for lane in sheet.lanes
        for b in lane.blocks
        if b.title.startswith("Lower") and b.caution == lower.caution
    )
    assert block.load == load.id
