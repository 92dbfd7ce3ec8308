"""What nobody has in hand, and what would not begin if nobody were told."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.batches import batches_of
from stillroom.running.events import (
    AnyEvent,
    DayBegun,
    FullBoilReached,
    LoadLifted,
    StepDone,
)
from stillroom.running.fold import fold
from stillroom.running.loads import loads_of
from stillroom.running.set_going import SOON_MIN, to_set_going

LIGHT, AGAIN = "Light the canner, warm the water", "Light the canner again"


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    """The small day: one person, one canner, two batches of jelly."""
    planned = plan_the_day(read_day(new_day_text()), seconds=0.5)
    assert isinstance(planned, DayPlan)
    assert isinstance(planned.answer, Answer)
    assert len(planned.answer.timetable.loads) == 2
    return planned


def minute(plan: DayPlan, number: int) -> dt.datetime:
    starts = dt.datetime.combine(plan.day.date, plan.day.starts, tzinfo=dt.UTC)
    return starts + dt.timedelta(minutes=number)


def begun(plan: DayPlan) -> AnyEvent:
    return DayBegun(
        loads=loads_of(plan), batches=batches_of(plan), occurred_at=minute(plan, 0)
    )


def verbs(plan: DayPlan, number: int, *events: AnyEvent) -> list[str]:
    shown = to_set_going(plan, fold([begun(plan), *events]), minute(plan, number))
    return [todo.verb for todo in shown]


def first_load(plan: DayPlan):
    assert isinstance(plan.answer, Answer)
    return min(plan.answer.timetable.loads, key=lambda load: load.lower_min)


def done(plan: DayPlan, batch: str, step: str, number: int) -> StepDone:
    return StepDone(batch=batch, step=step, occurred_at=minute(plan, number))


def test_the_canner_is_to_be_lit_before_anything_can_go_into_it(plan: DayPlan):
    load = first_load(plan)
    shown = to_set_going(plan, fold([begun(plan)]), minute(plan, load.heat_min))
    (lit,) = (todo for todo in shown if todo.verb == LIGHT)
    assert lit.start_min == load.heat_min
    assert load.canner in lit.detail
    assert "180 °F" in lit.until


def test_it_is_said_some_minutes_before_and_not_all_morning(plan: DayPlan):
    load = first_load(plan)
    assert LIGHT in verbs(plan, load.heat_min - SOON_MIN)
    assert LIGHT not in verbs(plan, load.heat_min - SOON_MIN - 1)


def test_a_late_day_still_says_it_until_jars_are_filled(plan: DayPlan):
    load = first_load(plan)
    assert LIGHT in verbs(plan, load.lower_min + 30)
    batch = next(b for b in batches_of(plan) if b.id == load.jars[0][0])
    filled = done(plan, batch.id, batch.closes, load.lower_min + 30)
    assert LIGHT not in verbs(plan, load.lower_min + 31, filled)


def test_a_lit_canner_is_not_lit_while_it_boils(plan: DayPlan):
    load = first_load(plan)
    boils = FullBoilReached(load=load.id, occurred_at=minute(plan, load.boil_min))
    later = verbs(plan, load.boil_min + 200, boils)
    assert LIGHT not in later
    assert AGAIN not in later


def test_a_canner_is_lit_for_its_next_load_alone(plan: DayPlan):
    load, other = sorted(plan.answer.timetable.loads, key=lambda x: x.lower_min)
    assert load.canner == other.canner
    cold = replace(other, hot=False, heat_min=other.lower_min - 20)
    table = replace(plan.answer.timetable, loads=(load, cold))
    plan = replace(plan, answer=replace(plan.answer, timetable=table))
    late = other.lower_min + 60
    assert [v for v in verbs(plan, late) if v in (LIGHT, AGAIN)] == [LIGHT]
    batch = next(b for b in batches_of(plan) if b.id == load.jars[0][0])
    filled = done(plan, batch.id, batch.closes, late)
    assert [v for v in verbs(plan, late, filled) if v in (LIGHT, AGAIN)] == []
    out = LoadLifted(load=load.id, occurred_at=minute(plan, late))
    boils = FullBoilReached(load=load.id, occurred_at=minute(plan, load.boil_min))
    last = verbs(plan, late, filled, boils, out)
    assert [v for v in last if v in (LIGHT, AGAIN)] == [AGAIN]


def test_jars_in_hot_water_are_said_and_go_when_they_are_done(plan: DayPlan):
    placed = next(s for s in plan.answer.timetable.steps if s.person is None)
    at = placed.start_min
    found = to_set_going(plan, fold([begun(plan)]), minute(plan, at))
    assert (placed.batch, placed.step) in {(todo.batch, todo.step) for todo in found}
    said = done(plan, placed.batch, placed.step, at + 1)
    state = fold([begun(plan), said])
    found = to_set_going(plan, state, minute(plan, at + 1))
    assert (placed.batch, placed.step) not in {(x.batch, x.step) for x in found}


def test_a_step_is_over_when_what_follows_it_was_tapped(plan: DayPlan):
    steps = plan.answer.timetable.steps
    placed = next(s for s in steps if s.person is None)
    behind = next(
        s for s in steps if s.batch == placed.batch and s.start_min >= placed.end_min
    )
    first = next(s for s in steps if s.batch == placed.batch and s.person)
    late = placed.end_min + 15
    told = done(plan, first.batch, first.step, placed.start_min)
    assert any("hot water" in verb for verb in verbs(plan, late, told))
    fill = done(plan, behind.batch, behind.step, late)
    mine = to_set_going(plan, fold([begun(plan), told, fill]), minute(plan, late))
    assert placed.batch not in {todo.batch for todo in mine}


def test_who_taps_no_step_has_them_go_by_the_plan(plan: DayPlan):
    finish = plan.answer.timetable.finish_min
    state = fold([begun(plan)])
    assert not [x for x in to_set_going(plan, state, minute(plan, finish)) if x.step]


def test_a_day_not_begun_and_a_day_without_a_plan_set_nothing_going(plan: DayPlan):
    at = minute(plan, 30)
    assert to_set_going(plan, fold([]), at) == ()
    assert to_set_going(replace(plan, answer=None), fold([begun(plan)]), at) == ()
