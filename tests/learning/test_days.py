"""Which taps tell a duration, and which do not."""

import datetime as dt

import pytest

from stillroom.learning.days import TOLD_AFTERWARDS_S, steps_took
from stillroom.running.events import (
    ClockSet,
    DayBegun,
    RunStep,
    StepBegun,
    StepDone,
    StepTakenBack,
)

NOON = dt.datetime(2026, 8, 22, 12, 0, tzinfo=dt.UTC)
STEPS = (
    RunStep(batch="b1", step="to_boil", product="Plum Jellies", book_min=9),
    RunStep(
        batch="b1", step="sugar_in", product="plum jelly", book_min=7, follows="to_boil"
    ),
    RunStep(batch="b1", step="fill", product="plum jelly", book_min=5),
)


def at(minutes: float) -> dt.datetime:
    return NOON + dt.timedelta(minutes=minutes)


def day(*events, kitchen=""):
    return [DayBegun(loads=(), steps=STEPS, kitchen=kitchen, occurred_at=NOON), *events]


def begun(step, minute):
    return StepBegun(batch="b1", step=step, occurred_at=at(minute))


def done(step, minute):
    return StepDone(batch="b1", step=step, occurred_at=at(minute))


def took(*events):
    return {t.step: t.minutes for t in steps_took([day(*events)])}


def test_from_begun_to_done():
    (one,) = steps_took([day(begun("fill", 3), done("fill", 9.5))])
    assert (one.product, one.step, one.minutes, one.book_min) == (
        "plum jelly",
        "fill",
        6.5,
        5,
    )


def test_from_done_to_done_where_the_plan_has_no_pause():
    assert took(done("to_boil", 10), done("sugar_in", 18)) == {"sugar_in": 8.0}


def test_a_clock_that_was_set_meanwhile_makes_no_step_longer():
    """Set on by an hour in its midst: from 12:03 to 13:09:30 are six and a half."""
    hour = ClockSet(
        by_ms=3_600_000, switched_on=at(0) - dt.timedelta(hours=2), occurred_at=at(65)
    )
    by_the_clock = took(begun("fill", 3), hour, done("fill", 69.5))
    assert by_the_clock == {"fill": 6.5}


def test_begun_is_truer_than_the_end_of_the_step_before():
    events = done("to_boil", 10), begun("sugar_in", 12), done("sugar_in", 18)
    assert took(*events) == {"sugar_in": 6.0}


def test_done_alone_tells_nothing_where_there_may_be_a_pause():
    assert took(done("sugar_in", 18), done("fill", 30)) == {}


def test_what_was_said_by_mistake_and_taken_back_tells_nothing():
    back = StepTakenBack(batch="b1", step="fill", was="done", occurred_at=at(5))
    assert took(begun("fill", 3), done("fill", 4), back) == {}
    assert took(begun("fill", 3), done("fill", 4), back, done("fill", 9)) == {"fill": 6}
    too_soon = StepTakenBack(batch="b1", step="fill", was="begun", occurred_at=at(5))
    assert took(begun("fill", 3), too_soon, done("fill", 9)) == {}


def test_begun_alone_tells_nothing():
    assert took(begun("fill", 3)) == {}


def test_taps_in_one_go_were_given_afterwards():
    seconds = TOLD_AFTERWARDS_S - 1
    assert took(begun("fill", 9), done("fill", 9 + seconds / 60)) == {}


def test_a_step_that_the_run_did_not_take_over_is_not_learned():
    events = (
        StepBegun(batch="b1", step="hard_boil", occurred_at=at(1)),
        StepDone(batch="b1", step="hard_boil", occurred_at=at(3)),
    )
    assert took(*events) == {}


@pytest.mark.parametrize(
    ("kitchen", "runs"), [("", 2), ("Hollow Larch", 2), ("another", 1)]
)
def test_days_in_another_kitchen_are_left_out(kitchen, runs):
    work = begun("fill", 3), done("fill", 9)
    days = [day(*work, kitchen="Hollow Larch"), day(*work)]  # of the second none knows
    assert len(steps_took(days, kitchen=kitchen)) == runs


def test_half_of_a_step_is_learned_as_the_step_it_is_of():
    halves = tuple(
        RunStep(batch="b1", step=step, product="pear butter", book_min=6)
        for step in ("cut", "cut_other_half")
    )
    events = [DayBegun(loads=(), steps=halves, occurred_at=NOON)]
    for step in ("cut", "cut_other_half"):
        events += [begun(step, 3), done(step, 10)]
    assert [(t.step, t.minutes) for t in steps_took([events])] == [("cut", 7.0)] * 2
