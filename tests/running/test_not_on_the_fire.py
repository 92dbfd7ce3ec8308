"""What only warms on a fire has not begun until somebody says so."""

from __future__ import annotations

import datetime as dt

import pytest

from stillroom.planning.begun.as_known import as_known
from stillroom.planning.begun.warming import not_on_the_fire_said
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Answer
from stillroom.running.again import Again, Told, plan_again
from stillroom.running.behind import behind
from stillroom.running.events import DayBegun, KeptPlan, StepBegun, StepDone
from stillroom.running.fold import fold
from stillroom.running.so_far import said_of_the_day
from stillroom.web.again_form import under_way
from tests.planning.small_days import day, jelly

STARTS = dt.datetime(2026, 9, 12, 8, 0, tzinfo=dt.UTC)
LATE_MIN = 12


def minute(number: int) -> dt.datetime:
    return STARTS + dt.timedelta(minutes=number)


@pytest.fixture(scope="module")
def kept() -> KeptPlan:
    problem = day(jelly("jelly-1"))
    answer = plan_day(problem, seconds=1, deterministic=True)
    assert isinstance(answer, Answer)
    return KeptPlan(of="x", problem=problem, timetable=answer.timetable)


def boil_of(kept: KeptPlan):
    return next(s for s in kept.timetable.steps if s.step == "boil")


def state_of(kept: KeptPlan, *more):
    """Each step of hers before the pot was said done when it was to be."""
    boil = boil_of(kept)
    before = [
        s for s in kept.timetable.steps if s.person and s.start_min < boil.start_min
    ]
    assert before
    done = [
        StepDone(batch=s.batch, step=s.step, occurred_at=minute(s.end_min))
        for s in before
    ]
    begun = DayBegun(loads=(), batches=(), plan=kept, occurred_at=STARTS)
    return fold([begun, *done, *more])


def known_at(kept: KeptPlan, now: int, *more, **given):
    state = state_of(kept, *more)
    _, said = said_of_the_day(state, kept, minute(now), **given)
    return as_known(kept.problem, kept.timetable, now, said)


def test_a_pot_that_nobody_put_on_is_put_on_now(kept: KeptPlan) -> None:
    boil = boil_of(kept)
    now = boil.start_min + LATE_MIN
    assert now < boil.end_min + 1
    known = known_at(kept, now)
    key = (boil.batch, boil.step)
    assert known.not_said == {key}
    assert key not in known.happened.begun
    found = replan(kept.problem, kept.timetable, known.happened, seconds=1.0)
    (new,) = (s for s in found.new.steps if s.step == "boil")
    assert new.start_min >= now
    said = not_on_the_fire_said(kept.problem, known.not_said)
    assert said.startswith('Nobody has said that "boil" of jelly-1 is on the fire')


def test_what_was_said_begun_or_needs_minutes_is_on_it(kept: KeptPlan) -> None:
    boil = boil_of(kept)
    now, key = boil.start_min + LATE_MIN, (boil.batch, boil.step)
    begun = StepBegun(
        batch=boil.batch, step=boil.step, occurred_at=minute(boil.start_min + 1)
    )
    for known in (known_at(kept, now, begun), known_at(kept, now, more_min={key: 3})):
        assert known.not_said == frozenset()
        assert key in known.happened.begun


def test_who_taps_nothing_has_it_on_by_the_plan(kept: KeptPlan) -> None:
    boil = boil_of(kept)
    now = boil.start_min + LATE_MIN
    state = fold([DayBegun(loads=(), batches=(), plan=kept, occurred_at=STARTS)])
    _, said = said_of_the_day(state, kept, minute(now))
    known = as_known(kept.problem, kept.timetable, now, said)
    assert known.not_said == frozenset()
    assert (boil.batch, boil.step) in known.happened.begun


def test_board_form_and_new_plan_say_the_same_minutes(kept: KeptPlan) -> None:
    boil = boil_of(kept)
    now = boil.start_min + LATE_MIN
    state = state_of(kept)
    assert behind(None, state, minute(now)) == (boil.person, LATE_MIN)
    known = known_at(kept, now)
    first = under_way(kept.problem, kept.timetable, known)[0]
    assert first.key == f"{boil.batch}|{boil.step}"
    assert first.unsaid
    again = plan_again(state, minute(now), Told(), seconds=1.0)
    assert isinstance(again, Again)
    (new,) = (s for s in again.found.new.steps if s.step == "boil")
    assert new.start_min - boil.start_min == LATE_MIN
