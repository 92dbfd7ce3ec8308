"""What never ran and is booked so leaves the run, and the plan that it goes by."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

from planning.small_days import day
from planning.written_out import LID, closed
from planning.written_out import load as placed

from stillroom.planning.timetable import Timetable
from stillroom.running.events import (
    BoilLost,
    DayBegun,
    FullBoilReached,
    KeptPlan,
    StepDone,
)
from stillroom.running.fold import fold
from stillroom.running.given_up import may_be_given_up, without_given_up
from stillroom.running.hands import hands
from tests.running.a_run import START, batch, load

RUN = "run/2026-09-12"
LATER = START + dt.timedelta(hours=9)


def begun(*more):
    """One load of jam, closed and never lowered, as its plan had it; and what then."""
    jam = replace(batch(1, 5), id="a", product="gooseberry jam", food="jam")
    one = load(1, ("a", 5))
    plan = Timetable(steps=(LID,), loads=(placed(30, id=one.id),), breaks=())
    kept = KeptPlan(of="x", problem=day(closed("a")), timetable=plan)
    return fold(
        [
            DayBegun(loads=(one,), batches=(jam,), plan=kept, occurred_at=START),
            StepDone(batch="a", step=jam.closes, occurred_at=START),
            *more,
        ]
    )


def stock(code: str | None) -> SimpleNamespace:
    return SimpleNamespace(from_run=lambda run, batch, load: code)


def verbs(state) -> list[str]:
    return [todo.verb for one in hands(None, state) if (todo := one.now or one.then)]


def test_jars_that_are_booked_are_lowered_no_more() -> None:
    state = begun()
    assert may_be_given_up(state, LATER)
    waits = without_given_up(state, RUN, stock(None), LATER)
    assert waits == state
    assert any("Lower 5 jars" in verb for verb in verbs(waits))
    gone = without_given_up(state, RUN, stock("26M1201"), LATER)
    assert gone.loads == ()
    assert not any("Lower" in verb for verb in verbs(gone))


BOILS = FullBoilReached(load=load(1, ("a", 5)).id, occurred_at=START)
LOST = BoilLost(load=load(1, ("a", 5)).id, occurred_at=START)


def test_a_load_that_lost_its_boil_is_given_up_as_soon_as_its_jars_are_booked():
    """Its two hours are not over: the board went on to have its boil brought back."""
    state = begun(BOILS, LOST)
    assert without_given_up(state, RUN, stock(None), START) == state
    assert without_given_up(state, RUN, stock("26M1201"), START).loads == ()


def test_a_load_with_a_clock_stays_whatever_is_booked():
    """Somebody has started it since, on a page that still had it."""
    state = begun(BOILS, LOST, BOILS)
    assert not may_be_given_up(state, LATER)
    assert without_given_up(state, RUN, stock("26M1201"), LATER) == state


def test_the_stock_is_not_asked_of_jars_that_cannot_be_there_yet():
    jam = replace(batch(1, 5), id="a")
    one = load(1, ("a", 5))
    plan = Timetable(steps=(LID,), loads=(placed(30, id=one.id),), breaks=())
    kept = KeptPlan(of="x", problem=day(closed("a")), timetable=plan)
    state = fold([DayBegun(loads=(one,), batches=(jam,), plan=kept, occurred_at=START)])
    assert not may_be_given_up(state, START)
