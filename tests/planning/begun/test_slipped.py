"""The day so far where a step ended late: what waited for it was begun since."""

import json
import random

import pytest

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.begun.slipped import as_it_slipped
from stillroom.planning.daytime import clock_time
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.replan import SOLVED, replan
from stillroom.planning.timetable import Answer
from stillroom.refusal import Unreadable
from tests.planning.small_days import Break, butter, day, jelly, person

REST = Break(duration_min=20, earliest_min=60, latest_start_min=120)


@pytest.fixture(scope="module")
def two_people():
    problem = day(
        jelly("jelly-1"), jelly("jelly-2"), jelly("jelly-3"), butter(),
        people=(person("Ada", breaks=(REST,)), person("Ben")),
    )  # fmt: skip
    answer = plan_day(problem, seconds=2)
    assert isinstance(answer, Answer)
    return problem, answer


def test_what_waited_for_a_step_that_ended_long_ago_has_begun():
    """One batch, one chain: 5 min late at the boil, an hour ago, are 5 min since."""
    problem = day(jelly())
    plan = plan_day(problem, seconds=2).timetable
    boil = next(s for s in plan.steps if s.step == "boil")
    fill = next(s for s in plan.steps if s.step == "fill")
    late = {("jelly-1", "boil"): 5}
    now = plan.finish_min
    happened = as_it_slipped(problem, plan, now, late)
    assert happened.begun["jelly-1", "boil"].end_min == boil.end_min + 5
    assert happened.begun["jelly-1", "fill"].start_min == fill.start_min + 5
    assert happened.loads[0].boil_min == plan.loads[0].boil_min + 5
    again = replan(problem, plan, happened, seconds=1)
    assert again.new.finish_min == plan.finish_min + 5
    assert again.broken == ()


def test_a_step_that_still_runs_holds_up_what_waits_for_it():
    problem = day(jelly())
    plan = plan_day(problem, seconds=2).timetable
    boil = next(s for s in plan.steps if s.step == "boil")
    late = {("jelly-1", "boil"): 25}
    now = boil.end_min + 10
    happened = as_it_slipped(problem, plan, now, late)
    assert happened == as_planned(problem, plan, now, late_min=late)
    assert ("jelly-1", "fill") not in happened.begun


def test_the_later_of_two_late_steps_is_pushed_by_the_first():
    problem = day(jelly())
    plan = plan_day(problem, seconds=2).timetable
    boil = next(s for s in plan.steps if s.step == "boil")
    fill = next(s for s in plan.steps if s.step == "fill")
    late = {("jelly-1", "boil"): 12, ("jelly-1", "fill"): 4}
    begun = as_it_slipped(problem, plan, plan.finish_min, late).begun
    assert begun["jelly-1", "boil"].end_min == boil.end_min + 12
    assert begun["jelly-1", "fill"].start_min == fill.start_min + 12
    assert begun["jelly-1", "fill"].end_min == fill.end_min + 12


@pytest.mark.parametrize("seed", [3, 7, 12, 21, 40, 47])
def test_any_step_late_in_the_past_is_planned_again(two_people, seed):
    """Nothing past is told otherwise; later than the slip only to keep a limit."""
    problem, answer = two_people
    drawn = random.Random(seed)
    plan = answer.timetable if seed % 2 else answer.by_hand
    now = drawn.randrange(30, plan.finish_min)
    late = drawn.choice([s for s in plan.steps if s.end_min + 8 < now])
    minutes = drawn.choice([4, 7])
    slips = {(late.batch, late.step): minutes}
    happened = as_it_slipped(problem, plan, now, slips)
    again = replan(problem, plan, happened, seconds=1)  # refuses what is told otherwise
    assert again.made_by == SOLVED
    assert again.later_min <= minutes or again.old_order.gives_way


def test_a_late_step_has_to_be_in_the_plan(two_people):
    problem, answer = two_people
    with pytest.raises(Unreadable, match="no step"):
        as_it_slipped(problem, answer.timetable, 40, {("jelly-1", "stir"): 5})


def told(file, problem, plan, now, **load):
    rows = [
        {
            "load": "load 1",
            **{k: clock_time(problem.starts_at, m) for k, m in load.items()},
        }
    ]
    file.write_text(json.dumps({"loads": rows}), encoding="utf-8")
    return read_happened(file, problem, plan, now)


@pytest.fixture(scope="module")
def two_loads():
    """One canner, twice: the second load waits for the first to be out."""
    problem = day(jelly("jelly-1"), jelly("jelly-2"), people=(person("Ada"),))
    plan = plan_day(problem, seconds=2).timetable
    first, second = sorted(plan.loads, key=lambda load: load.lower_min)
    assert first.canner == second.canner
    return problem, plan, first, second


def test_no_load_is_lowered_onto_one_whose_boil_was_said_to_be_late(
    two_loads, tmp_path
):
    """It boiled at the minute when the next was to be lowered: that one waits."""
    problem, plan, first, second = two_loads
    late = second.lower_min + 1
    now = late + 2
    file = tmp_path / "happened.json"
    happened = told(file, problem, plan, now, lowered=first.lower_min, boil=late)
    assert [(load.id, load.boil_min) for load in happened.loads] == [(first.id, late)]
    again = replan(problem, plan, happened, seconds=1)
    assert again.made_by == SOLVED
    one, other = sorted(again.new.loads, key=lambda load: load.lower_min)
    assert (one.id, other.id) == (first.id, second.id)
    assert other.lower_min >= one.out_min


def test_no_load_is_in_before_the_one_that_was_said_to_be_lowered_late(
    two_loads, tmp_path
):
    problem, plan, first, second = two_loads
    late = second.lower_min + 3
    happened = told(tmp_path / "happened.json", problem, plan, late + 10, lowered=late)
    assert [load.id for load in happened.loads] == [first.id]


def test_a_load_that_was_late_and_is_out_by_now_put_off_the_next(two_loads, tmp_path):
    """What waited for it went as soon as it was out, as after a late step."""
    problem, plan, first, second = two_loads
    by = 6
    happened = told(
        tmp_path / "happened.json", problem, plan, plan.finish_min + by,
        lowered=first.lower_min, boil=first.boil_min + by, out=second.lower_min + by,
    )  # fmt: skip
    loads = {load.id: load for load in happened.loads}
    assert loads[second.id].lower_min == second.lower_min + by


def test_a_load_that_boiled_in_time_and_was_lifted_late_put_off_the_next(
    two_loads, tmp_path
):
    problem, plan, first, second = two_loads
    by = 6
    happened = told(
        tmp_path / "happened.json", problem, plan, plan.finish_min + by,
        lowered=first.lower_min, boil=first.boil_min, out=second.lower_min + by,
    )  # fmt: skip
    loads = {load.id: load for load in happened.loads}
    assert loads[second.id].lower_min == second.lower_min + by
