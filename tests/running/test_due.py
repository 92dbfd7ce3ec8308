"""When jars can be there: by the plan, by what was said, else always."""

import datetime as dt

import pytest

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.batches import batches_of
from stillroom.running.due import is_due
from stillroom.running.events import DayBegun, KeptPlan, PlanTaken
from stillroom.running.fold import RunState, fold
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of
from tests.kitchens import day

NIGHT = dt.datetime(2026, 9, 5, 2, 0, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    plan = plan_the_day(day(), seconds=1.0, deterministic=True)
    assert isinstance(plan, DayPlan)
    return plan


def begun(plan: DayPlan, at: dt.datetime, *, again: bool = False) -> RunState:
    whole, loads = kept(plan, "x"), loads_of(plan)
    day_begun = DayBegun(
        loads=loads, batches=batches_of(plan), plan=whole, occurred_at=at
    )
    taken = PlanTaken(plan=whole, loads=loads, sentence="", occurred_at=at)
    return fold([day_begun, taken] if again else [day_begun])


def starts(plan: DayPlan, on: dt.datetime) -> dt.datetime:
    hours, minutes = kept_plan(plan).problem.starts_at.split(":")
    return on.replace(hour=int(hours), minute=int(minutes))


def kept_plan(plan: DayPlan) -> KeptPlan:
    found = kept(plan, "x")
    assert found is not None
    return found


MINUTE = dt.timedelta(minutes=1)


def test_what_goes_into_no_canner_is_asked_for_once_it_should_be_closed(plan):
    state = begun(plan, NIGHT)
    batch = next(b for b in state.batches if b.closes)
    ends = next(
        step.end_min
        for step in kept_plan(plan).timetable.steps
        if (step.batch, step.step) == (batch.id, batch.closes)
    )
    over = starts(plan, NIGHT) + ends * MINUTE
    assert not is_due(state, batch.id, "", over - MINUTE)
    assert is_due(state, batch.id, "", over)


def test_what_the_plan_does_not_tell_is_asked_for(plan):
    state = begun(plan, NIGHT)
    assert is_due(state, "no batch", "no load", NIGHT)
    assert is_due(state, "no batch", "", NIGHT)
    bare = fold([DayBegun(loads=loads_of(plan), occurred_at=NIGHT)])
    load = bare.loads[0].load
    assert is_due(bare, load.jars[0][0], load.id, NIGHT)


def test_a_plan_made_again_goes_by_the_clock_as_it_is(plan):
    noon = starts(plan, NIGHT) + dt.timedelta(hours=5)
    load = kept_plan(plan).timetable.loads[0]
    batch = load.jars[0][0]
    just_then = starts(plan, NIGHT) + load.boil_min * MINUTE
    assert just_then < noon
    assert not is_due(begun(plan, noon), batch, load.id, noon)
    assert is_due(begun(plan, noon, again=True), batch, load.id, noon)
