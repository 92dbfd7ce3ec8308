"""What nobody has in hand, and what would not begin if nobody were told."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.begun.as_known import LOWER
from stillroom.planning.begun.warming import HEAT
from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.batches import batches_of
from stillroom.running.events import (
    AnyEvent,
    DayBegun,
    FullBoilReached,
    KeptPlan,
    LoadLifted,
    PlanTaken,
    StepBegun,
    StepDone,
)
from stillroom.running.fold import fold
from stillroom.running.hands import has_step
from stillroom.running.loads import loads_of
from stillroom.running.said_by_mistake import may_be_taken_back
from stillroom.running.set_going import SOON_MIN, to_set_going
from stillroom.running.so_far import said_of_the_day

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


def colder(plan: DayPlan) -> DayPlan:
    """The same with a second load for which its canner is lit again."""
    load, other = sorted(plan.answer.timetable.loads, key=lambda x: x.lower_min)
    cold = replace(other, hot=False, heat_min=other.lower_min - 20)
    table = replace(plan.answer.timetable, loads=(load, cold))
    return replace(plan, answer=replace(plan.answer, timetable=table))


def test_the_canner_is_to_be_lit_before_anything_can_go_into_it(plan: DayPlan):
    load = first_load(plan)
    shown = to_set_going(plan, fold([begun(plan)]), minute(plan, load.heat_min))
    (lit,) = (todo for todo in shown if todo.verb == LIGHT)
    assert lit.start_min == load.heat_min
    assert load.canner in lit.detail
    assert "180 °F" in lit.until


def test_a_canner_is_said_lit_with_a_tap_and_that_may_be_taken_back(plan: DayPlan):
    """Nobody could say it: planned again, its water was as hot as by the plan."""
    load = first_load(plan)
    at = load.heat_min + 4
    state = fold([begun(plan)])
    (card,) = (
        x for x in to_set_going(plan, state, minute(plan, at)) if x.verb == LIGHT
    )
    assert (card.batch, card.step, card.begun) == (load.id, HEAT, False)
    assert has_step(plan, card.batch, card.step, state)
    assert not has_step(plan, "no load", HEAT, state)
    lit = StepBegun(batch=load.id, step=HEAT, occurred_at=minute(plan, at))
    state = fold([begun(plan), lit])
    (card,) = (
        x for x in to_set_going(plan, state, minute(plan, at)) if x.verb == LIGHT
    )
    assert card.begun
    (said,) = may_be_taken_back(plan, state, minute(plan, at + 1))
    assert (said.batch, said.step, said.was) == (load.id, HEAT, "begun")
    assert "Light the canner" in said.verb
    mine = KeptPlan(of="x", problem=plan.problem, timetable=plan.answer.timetable)
    _, known = said_of_the_day(state, mine, minute(plan, at + 1))
    assert known.began_min == {(load.id, HEAT): at}


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
    plan = colder(plan)
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
    going = to_set_going(plan, state, minute(plan, finish))
    assert {todo.step for todo in going} == {HEAT}  # a canner is asked for all the same


def test_what_was_never_begun_stays_for_who_taps_what_else_she_does(plan: DayPlan):
    """Water for the beans was off the board in the minute in which it was to boil."""
    steps = plan.answer.timetable.steps
    placed = next(s for s in steps if s.person is None)
    other = next(s for s in steps if s.batch != placed.batch and s.person)
    late = placed.end_min + 40
    told = done(plan, other.batch, other.step, late - 5)

    def shown(number: int) -> bool:
        state = fold([begun(plan), told])
        found = to_set_going(plan, state, minute(plan, number))
        return (placed.batch, placed.step) in {(x.batch, x.step) for x in found}

    assert shown(late)
    # an hour without a tap lights no fire: both hands may be in a long filling
    assert shown(late + 60)
    assert shown(late + 240)


def test_what_is_only_said_begun_is_a_tap_as_well(plan: DayPlan):
    steps = plan.answer.timetable.steps
    placed = next(s for s in steps if s.person is None)
    other = next(s for s in steps if s.batch != placed.batch and s.person)
    late = placed.end_min + 90
    told = StepBegun(batch=other.batch, step=other.step, occurred_at=minute(plan, 1))
    found = to_set_going(plan, fold([begun(plan), told]), minute(plan, late))
    assert (placed.batch, placed.step) in {(x.batch, x.step) for x in found}


def test_a_day_not_begun_and_a_day_without_a_plan_set_nothing_going(plan: DayPlan):
    at = minute(plan, 30)
    assert to_set_going(plan, fold([]), at) == ()
    assert to_set_going(replace(plan, answer=None), fold([begun(plan)]), at) == ()


def test_a_canner_that_holds_jars_is_not_lit_for_the_next_load(plan: DayPlan):
    """Its fire is on: the next load is for when they are out."""
    plan = colder(plan)
    load, other = sorted(plan.answer.timetable.loads, key=lambda x: x.lower_min)
    late = other.lower_min + 60
    boils = FullBoilReached(load=load.id, occurred_at=minute(plan, load.boil_min))
    assert [v for v in verbs(plan, late, boils) if v in (LIGHT, AGAIN)] == []
    out = LoadLifted(load=load.id, occurred_at=minute(plan, late))
    last = verbs(plan, late, boils, out)
    assert [v for v in last if v in (LIGHT, AGAIN)] == [AGAIN]


def test_jars_of_one_batch_are_enough_to_know_that_a_shared_canner_is_lit(
    plan: DayPlan,
):
    load = first_load(plan)
    both = [(batch.id, 3) for batch in batches_of(plan)[:2]]
    loads = [
        replace(one, jars=tuple(both)) if one.id == load.id else one
        for one in loads_of(plan)
    ]
    day = replace(begun(plan), loads=tuple(loads))
    first = next(b for b in batches_of(plan) if b.id == both[0][0])
    filled = done(plan, first.id, first.closes, load.lower_min)
    shown = to_set_going(plan, fold([day, filled]), minute(plan, load.lower_min))
    assert LIGHT not in [todo.verb for todo in shown]
    shown = to_set_going(plan, fold([day]), minute(plan, load.lower_min))
    assert LIGHT in [todo.verb for todo in shown]


def test_what_is_lit_is_named_by_load_canner_and_hour(plan: DayPlan):
    load = first_load(plan)
    shown = to_set_going(plan, fold([begun(plan)]), minute(plan, load.heat_min))
    (lit,) = (todo for todo in shown if todo.verb == LIGHT)
    assert lit.detail.startswith(f"load 1, {load.canner} · ")
    lit_at = minute(plan, load.heat_min)
    assert lit.at == f"{lit_at:%-H:%M}"


def test_a_canner_whose_jars_a_new_plan_has_in_it_is_lit_no_more(plan: DayPlan):
    """The plan that was taken over last says it; one before it may know less."""
    load = first_load(plan)
    kept = KeptPlan(of="x", problem=plan.problem, timetable=plan.answer.timetable)

    def lit(*over: tuple[tuple[str, str], ...]) -> bool:
        events = [
            PlanTaken(
                plan=kept,
                loads=loads_of(plan),
                sentence="",
                over=each,
                occurred_at=minute(plan, 0),
            )
            for each in over
        ]
        return LIGHT in verbs(plan, load.lower_min, *events)

    lowered = ((load.id, LOWER),)
    assert lit()
    assert not lit(lowered)
    assert not lit((), lowered)
    assert lit(lowered, ())


def test_a_step_nobody_stands_by_is_said_ten_minutes_before(plan: DayPlan):
    placed = max(
        (s for s in plan.answer.timetable.steps if s.person is None),
        key=lambda s: s.start_min,
    )
    assert placed.start_min > SOON_MIN

    def shown(number: int) -> bool:
        found = to_set_going(plan, fold([begun(plan)]), minute(plan, number))
        return (placed.batch, placed.step) in {(x.batch, x.step) for x in found}

    assert SOON_MIN == 10
    assert shown(placed.start_min - SOON_MIN)
    assert not shown(placed.start_min - SOON_MIN - 1)


def test_minutes_are_those_of_the_kitchens_clock(plan: DayPlan):
    """The ledger gives back in UTC when the day was begun."""
    load = first_load(plan)
    here = dt.timezone(dt.timedelta(hours=-7))
    starts = dt.datetime.combine(plan.day.date, plan.day.starts, tzinfo=here)
    day = replace(begun(plan), occurred_at=starts.astimezone(dt.UTC))
    for early, said in ((SOON_MIN, True), (SOON_MIN + 1, False)):
        at = starts + dt.timedelta(minutes=load.heat_min - early)
        shown = to_set_going(plan, fold([day]), at)
        assert (LIGHT in [todo.verb for todo in shown]) is said


def test_what_comes_first_is_shown_first(plan: DayPlan):
    placed = next(s for s in plan.answer.timetable.steps if s.person is None)
    other = replace(first_load(plan), heat_min=placed.start_min + 1)
    rest = [one for one in plan.answer.timetable.loads if one.id != other.id]
    table = replace(plan.answer.timetable, loads=(other, *rest))
    after = replace(plan, answer=replace(plan.answer, timetable=table))
    at = minute(plan, placed.start_min + 1)
    found = to_set_going(after, fold([begun(plan)]), at)
    hours = [todo.start_min for todo in found]
    assert len({*hours}) > 1
    assert hours == sorted(hours)


def test_jars_wait_in_hot_water_whatever_else_was_begun_meanwhile(plan: DayPlan):
    """Behind them is what begins once they are hot, said begun or done."""
    steps = plan.answer.timetable.steps
    placed = next(s for s in steps if s.person is None)
    mine = [s for s in steps if s.batch == placed.batch and s.person]
    meanwhile = next(
        replace(s, start_min=placed.start_min + 1, end_min=placed.end_min)
        for s in mine
        if s.start_min < placed.end_min
    )
    behind = next(s for s in mine if s.start_min >= placed.end_min)
    key = (meanwhile.batch, meanwhile.step)
    moved = [meanwhile if (s.batch, s.step) == key else s for s in steps]
    table = replace(plan.answer.timetable, steps=tuple(moved))
    other = replace(plan, answer=replace(plan.answer, timetable=table))
    at = placed.end_min + 3

    def waits(said: StepBegun | StepDone) -> bool:
        found = to_set_going(other, fold([begun(plan), said]), minute(plan, at))
        return (placed.batch, placed.step) in {(x.batch, x.step) for x in found}

    when = minute(plan, at)
    for kind in (StepBegun, StepDone):
        beside = kind(batch=meanwhile.batch, step=meanwhile.step, occurred_at=when)
        assert waits(beside)
        after = kind(batch=behind.batch, step=behind.step, occurred_at=when)
        assert not waits(after)
