"""The plan that a run goes by, shown again as the kitchen knows it."""

import datetime as dt
from dataclasses import replace

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import minutes_between
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.load_names import LoadNames
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.events import DayBegun
from stillroom.running.fold import fold
from stillroom.running.kept_plan import OwnFile, kept, own_file, plan_now
from stillroom.running.loads import loads_of
from tests.kitchens import day

BEGINS = dt.datetime(2026, 9, 5, 7, 0, tzinfo=dt.UTC)


def test_a_load_has_one_name_on_the_board_and_in_the_reasons():
    """The board has called them otherwise than by their boil: a load was late."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    other = replace(plan, answer=replace(plan.answer, timetable=plan.answer.by_hand))
    loads = loads_of(other)
    assert len(loads) >= 2
    second, first, *rest = loads
    board = (replace(first, name="load 1"), replace(second, name="load 2"), *rest)
    begun = DayBegun(loads=board, plan=kept(other, "x"), occurred_at=BEGINS)
    shown = plan_now(plan, fold([begun]), "x")
    assert isinstance(shown.answer, Answer)
    assert shown.problem is not None
    names = LoadNames(shown.problem, shown.answer.timetable)
    assert {load: f"load {n}" for load, n in names.number.items()} == {
        run.id: run.name for run in board
    }
    # and on the cards of the Day, and on paper
    assert {load.id: load.name for load in loads_of(shown)} == {
        run.id: run.name for run in board
    }


def test_a_day_file_planned_to_other_batches_says_nothing_to_the_run():
    """Its fruit is in the run's pots, however it would be divided by now."""
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    other = replace(plan, answer=replace(plan.answer, timetable=plan.answer.by_hand))
    begun = DayBegun(loads=loads_of(other), plan=kept(other, "x"), occurred_at=BEGINS)
    state = fold([begun])
    assert own_file(plan, state, "x").day == plan.day
    assert {b.id for b in plan.batches} <= {*own_file(plan, state, "x").keeps}
    first, *rest = plan.batches
    for batches in (tuple(rest), (replace(first, jars=first.jars - 1), *rest)):
        divided = replace(plan, batches=batches)
        assert own_file(divided, state, "x") == OwnFile()
        assert plan_now(divided, state, "x") is divided
    for another in (None, plan, "being planned"):
        assert own_file(another, state, "y") == OwnFile()


def test_cautions_of_the_hours_are_those_of_the_plan_that_is_gone_by():
    """The morning's stood on Day all day: how late it ends, when nobody is near."""
    early = replace(day(), done_by=dt.time(8, 0))
    plan = plan_the_day(early, seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    assert plan.answer.by_hand is not None
    texts = [caution.text for caution in plan.cautions]
    (late,) = (text for text in texts if "the hour you named" in text)
    other = replace(plan, answer=replace(plan.answer, timetable=plan.answer.by_hand))
    assert plan.answer.by_hand.finish_min > plan.answer.finish_min
    begun = DayBegun(loads=loads_of(other), plan=kept(other, "x"), occurred_at=BEGINS)
    shown = plan_now(plan, fold([begun]), "x")
    now = [caution.text for caution in shown.cautions]
    (later,) = (text for text in now if "the hour you named" in text)
    start = plan.problem.starts_at if plan.problem else ""
    due = minutes_between(start, "08:00")
    assert later == f"the plan ends {shown.answer.finish_min - due} min after 8:00" + (
        ", the hour you named"
    )
    assert later != late
    assert sorted({*texts} - {late}) == sorted({*now} - {later})
