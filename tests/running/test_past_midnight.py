"""A run that goes on behind midnight: the minutes of its plan go on, too."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from zoneinfo import ZoneInfo

import pytest

from stillroom.planning.begun.happened_file import clock_minute
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer
from stillroom.running.again import Again, Told, plan_again
from stillroom.running.events import DayBegun, KeptPlan, StepDone
from stillroom.running.fold import fold
from stillroom.running.so_far import minute_0, minute_of, said_of_the_day
from tests.planning.small_days import day, jelly

ZONE = dt.timezone(dt.timedelta(hours=2))
PROBLEM = replace(day(jelly("a"), jelly("b")), starts_at="21:00", horizon_min=175)
START = dt.datetime(2026, 9, 12, 21, 0, tzinfo=ZONE)


def later(minutes: float) -> dt.datetime:
    return START + dt.timedelta(minutes=minutes)


@pytest.fixture(scope="module")
def kept() -> KeptPlan:
    answer = plan_day(PROBLEM, seconds=1)
    assert isinstance(answer, Answer)
    return KeptPlan(of="x", problem=PROBLEM, timetable=answer.timetable)


@pytest.mark.parametrize("begun", [0, 5, -30, 190])
def test_the_minutes_go_on_behind_midnight(begun: int) -> None:
    """Begun at nine, a little off, or only behind midnight."""
    assert minute_0(later(begun), PROBLEM) == START
    assert minute_of(later(200.5), later(begun), PROBLEM) == 201


def test_a_day_that_is_begun_late_is_still_of_its_own_date() -> None:
    morning = replace(PROBLEM, starts_at="08:00")
    assert minute_of(later(0), later(0), morning) == 13 * 60


def test_the_night_in_which_the_clocks_are_set_has_its_own_hours() -> None:
    """31 October 2026 in Ohio: from nine in the evening to two are six hours."""
    ohio = ZoneInfo("America/New_York")
    begun = dt.datetime(2026, 10, 31, 21, 0, tzinfo=ohio)
    ends = dt.datetime(2026, 11, 1, 2, 0, tzinfo=ohio)
    assert minute_of(ends, begun, PROBLEM) == 6 * 60
    spring = dt.datetime(2026, 3, 7, 21, 0, tzinfo=ohio)
    ends = dt.datetime(2026, 3, 8, 3, 0, tzinfo=ohio)
    assert minute_of(ends, spring, PROBLEM) == 5 * 60


def test_what_was_tapped_before_midnight_stays_where_it_was(kept: KeptPlan) -> None:
    first = min(kept.timetable.steps, key=lambda s: s.start_min)
    done = StepDone(
        batch=first.batch, step=first.step, occurred_at=later(first.end_min + 3)
    )
    state = fold([DayBegun(loads=(), plan=kept, occurred_at=START), done])
    for at in (later(60), later(185)):
        now, said = said_of_the_day(state, kept, at)
        assert now == (at - START) // dt.timedelta(minutes=1)
        assert said.ended_min == {(first.batch, first.step): first.end_min + 3}


def test_the_rest_is_planned_again_behind_midnight(kept: KeptPlan) -> None:
    """All stood still from nine on: at ten past twelve it goes on from there."""
    first = min(kept.timetable.steps, key=lambda s: s.start_min)
    said = [
        StepDone(batch=first.batch, step=first.step, occurred_at=later(180)),
    ]
    state = fold([DayBegun(loads=(), plan=kept, occurred_at=START), *said])
    steps = {(s.batch, s.step) for s in kept.timetable.steps}
    not_begun = frozenset(steps - {(first.batch, first.step)})
    found = plan_again(state, later(190), Told(not_begun=not_begun), seconds=1.0)
    assert isinstance(found, Again)
    assert found.found.happened.now_min == 190
    assert "(next day)" in found.found.sentence
    assert "Nothing is put before" not in found.found.sentence
    begins = [
        s.start_min for s in found.found.new.steps if (s.batch, s.step) in not_begun
    ]
    assert min(begins) >= 190


@pytest.mark.parametrize(
    ("said", "starts", "minute"),
    [
        ("0:20", "21:00", 200),
        ("0:20", "08:00", 16 * 60 + 20),
        ("2:10 (next day)", "08:00", 18 * 60 + 10),
        ("7:40", "08:00", -20),
        ("23:50", "08:00", 15 * 60 + 50),
    ],
)
def test_a_clock_time_of_the_night_is_behind_the_day(
    said: str, starts: str, minute: int
) -> None:
    assert clock_minute(said, starts, "--now") == minute
