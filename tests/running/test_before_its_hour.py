"""A day begun before its hour and planned again: those minutes are used, too."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import HealthCheck, assume, given, settings
from planning.day_strategies_small import random_days

from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.as_known import Said, as_known
from stillroom.planning.begun.changes import Changes
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem, Want
from stillroom.planning.second_thoughts.before_its_hour import sooner
from stillroom.planning.spoken_of import Minute, says
from stillroom.planning.timetable import Answer, PlacedStep, Timetable
from stillroom.planning.why_not.refuse import refuse_nonsense
from stillroom.refusal import Refusal, Unreadable
from stillroom.running.again import Again, Told, nothing_left, plan_again
from stillroom.running.events import DayBegun, KeptPlan, PlanTaken, StepDone
from stillroom.running.fold import RunState, fold
from stillroom.running.so_far import said_of_the_day
from tests.planning.small_days import day, jelly, person

START = dt.datetime(2026, 9, 12, 8, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
TWO = day(
    jelly("a"),
    jelly("b"),
    people=(person("Ada"), person("Ben")),
    wants=(Want(product="jelly", by_min=60),),
    done_by_min=200,
)


def at(minute: int) -> dt.datetime:
    return START + dt.timedelta(minutes=minute)


def first_of(plan: Timetable) -> PlacedStep:
    """The washing or measuring that the day begins with, in whose hands it is."""
    cold = (s for s in plan.steps if s.quarters >= 3 and s.pot is None)
    return min(cold, key=lambda s: s.start_min)


@pytest.fixture(scope="module")
def kept() -> KeptPlan:
    answer = plan_day(TWO, seconds=1.5)
    assert isinstance(answer, Answer)
    return KeptPlan(of="x", problem=TWO, timetable=answer.timetable)


@pytest.fixture(scope="module")
def state(kept: KeptPlan) -> RunState:
    """She begins at half past seven, and has done one thing by twenty to eight."""
    first = first_of(kept.timetable)
    done = StepDone(batch=first.batch, step=first.step, occurred_at=at(-21))
    return fold([DayBegun(loads=(), plan=kept, occurred_at=at(-30)), done])


@pytest.fixture(scope="module")
def again(state: RunState) -> Again:
    found = plan_again(state, at(-20), Told(), seconds=3.0)
    assert isinstance(found, Again)
    return found


def test_what_has_not_begun_is_put_into_the_minutes_before(
    again: Again, kept: KeptPlan
) -> None:
    found = again.found
    begun = found.happened.begun
    open_ = [s for s in found.new.steps if (s.batch, s.step) not in begun]
    assert found.happened.now_min == -20
    assert -20 <= min(s.start_min for s in open_) < 0
    assert found.new.finish_min < kept.timetable.finish_min
    assert "Nothing is put before" not in found.sentence
    assert "earlier" in found.sentence


def test_only_who_is_there_works_then(again: Again) -> None:
    """The other one said that they come at eight."""
    before = [s for s in again.found.new.steps if s.start_min < 0]
    assert {s.person for s in before} - {None} == {first_of(again.found.old).person}


def test_the_day_is_told_in_its_own_minutes(again: Again, kept: KeptPlan) -> None:
    found = again.found
    assert found.problem == kept.problem
    assert found.old == kept.timetable
    now = {(s.batch, s.step): s.start_min for s in found.new.steps}
    was = {(s.batch, s.step): s.start_min for s in kept.timetable.steps}
    for move in found.moves:
        if "/" in move.what and tuple(move.what.split("/")) in now:
            key = tuple(move.what.split("/"))
            assert (move.was_min, move.is_min) == (was[key], now[key])  # type: ignore[index]
    (promise,) = found.promises
    assert promise.want.by_min == 60


def test_taken_over_it_goes_on_from_there(
    again: Again, state: RunState, kept: KeptPlan
) -> None:
    """What was put before the hour went by the plan, where nobody said otherwise."""
    found = again.found
    plan = KeptPlan(of="x", problem=found.problem, timetable=found.new)
    taken = fold(
        [PlanTaken(plan=plan, loads=(), sentence="x", occurred_at=at(-20))], state
    )
    early = [s for s in plan.timetable.steps if -20 <= s.start_min < -5]
    assert early
    now, said = said_of_the_day(taken, plan, at(-5))
    assert now == -5
    begun = as_known(plan.problem, plan.timetable, now, said).happened.begun
    gone = [s for s in early if (s.batch, s.step) not in said.not_begun]
    assert gone
    for s in gone:
        assert begun[s.batch, s.step].start_min == s.start_min
    later = plan_again(taken, at(-5), Told(), seconds=1.0)
    assert isinstance(later, Again)
    assert later.found.new.finish_min <= kept.timetable.finish_min
    # half an hour without a word
    assert isinstance(plan_again(taken, at(10), Told(), seconds=1.0), Again)


def test_nobody_has_begun_anything_and_nothing_is_put_sooner(kept: KeptPlan) -> None:
    begun = fold([DayBegun(loads=(), plan=kept, occurred_at=at(-30))])
    found = plan_again(begun, at(-20), Told(), seconds=1.0)
    assert isinstance(found, Again)
    assert all(s.start_min >= 0 for s in found.found.new.steps)
    assert "Nothing is put before 8:00" in found.found.sentence


@settings(max_examples=25, deadline=None, suppress_health_check=tuple(HealthCheck))
@given(random_days())
def test_any_day_begun_before_its_hour_can_be_planned_again(problem: Problem) -> None:
    try:
        refuse_nonsense(problem)
    except Unreadable:
        assume(False)
    plan = by_hand(problem, shuffles=1)
    assume(plan is not None and plan.steps)
    assert plan is not None
    first = min(plan.steps, key=lambda s: s.start_min)
    kept = KeptPlan(of="x", problem=problem, timetable=plan)
    state = fold(
        [
            DayBegun(loads=(), plan=kept, occurred_at=at(-40)),
            StepDone(batch=first.batch, step=first.step, occurred_at=at(-20)),
        ]
    )
    assume(nothing_left(state) is None)  # a day of one step is done with it
    found = plan_again(state, at(-15), Told(), seconds=0.4, offers_s=0.3)
    if isinstance(found, Refusal):
        raise AssertionError(found.reason)
    begun = found.found.happened.begun
    for s in found.found.new.steps:
        assert s.start_min >= -15 or (s.batch, s.step) in begun


def test_the_minutes_go_there_and_back(kept: KeptPlan) -> None:
    step = first_of(kept.timetable)
    said = Said(ended_min={(step.batch, step.step): -25})
    early = sooner(as_known(TWO, kept.timetable, -20, said))
    assert early.by == 20
    assert early.there == {step.person}
    there = early.day(TWO)
    assert there.starts_at == "07:40"
    assert sorted(p.arrives_min for p in there.people) == [0, 20]
    assert there.wants[0].by_min == 80
    assert there.done_by_min == 220


def test_the_hours_that_are_said_count_from_there_too(kept: KeptPlan) -> None:
    step = first_of(kept.timetable)
    said = Said(ended_min={(step.batch, step.step): -25})
    early = sooner(as_known(TWO, kept.timetable, -20, said))
    told = Changes(
        leaves_min={"Ada": 90}, back_min={"Ben": 30}, moved_min={("Ada", 100): 120}
    )
    assert early.changes(told) == Changes(
        leaves_min={"Ada": 110}, back_min={"Ben": 50}, moved_min={("Ada", 120): 140}
    )


def test_what_cannot_be_put_together_is_told_by_the_clock(state, monkeypatch):
    """The search counts from twenty to eight: its minute 18 is no clock's."""

    def broken(*_given, **_more):
        raise BrokenPlan(says("Ada gives 6 quarters at ", Minute(18)))

    monkeypatch.setattr("stillroom.running.again.until_it_fits", broken)
    no = plan_again(state, at(-20), Told())
    assert isinstance(no, Refusal)
    assert no.reason.endswith("for the planner: Ada gives 6 quarters at 7:58")
