"""A full boil and *Lifted out* by a wrong tap: taken back by an entry of its own."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.hand.by_hand import by_hand
from stillroom.refusal import Refusal
from stillroom.running.commands import LiftLoad, MarkFullBoil, TakeLoadBack
from stillroom.running.decide import decide
from stillroom.running.events import (
    AnyEvent,
    BoilLost,
    DayBegun,
    FullBoilReached,
    KeptPlan,
    LoadTakenBack,
    PlanTaken,
    VentingBegun,
)
from stillroom.running.fold import RunState, fold
from stillroom.running.load_run import Phase
from stillroom.running.load_said_by_mistake import loads_taken_back
from tests.planning.small_days import day, jelly
from tests.running.test_decide import ASIDE, NEXT, TEN, at, boil, lifted, lost

DAY = DayBegun(loads=(TEN, NEXT, ASIDE), occurred_at=at(0))
BOIL_BACK = LoadTakenBack(load="load 1", was="full-boil", occurred_at=at(12))
LIFT_BACK = LoadTakenBack(load="load 1", was="lifted", occurred_at=at(32))


def state(*events: AnyEvent) -> RunState:
    return fold([DAY, *events])


def back(was: str, minute: int, **more) -> TakeLoadBack:
    return TakeLoadBack(load="load 1", was=was, at=at(minute), **more)


def test_a_full_boil_that_is_taken_back_leaves_no_clock_and_no_lost_boil():
    told = state(boil(10))
    assert decide(told, back("full-boil", 12, said_at=at(10))) == (BOIL_BACK,)
    now = fold([BOIL_BACK], told).load("load 1")
    assert now is not None
    assert (now.boiling_since, now.deadline, now.times_lost) == (None, None, 0)
    assert now.phase(at(40)) is Phase.WAITING
    early = decide(
        fold([BOIL_BACK], told), LiftLoad(load="load 1", at=at(40), seen=None)
    )
    assert isinstance(early, Refusal)


def test_the_clock_begins_at_the_full_boil_that_stands_and_never_before():
    """Neither the wrong tap nor a boil that was lost before it comes again."""
    for before in ((), (boil(2), lost(5))):
        run = state(*before, boil(10), BOIL_BACK).load("load 1")
        assert run is not None
        assert run.boiling_since is None
        assert run.times_lost == len(before) // 2
        run = state(*before, boil(10), BOIL_BACK, boil(20)).load("load 1")
        assert run is not None
        assert run.deadline == at(30)


def test_a_load_taken_back_into_its_canner_has_the_clock_that_it_had():
    told = state(boil(10), lifted(30))
    assert decide(told, back("lifted", 32, said_at=at(30))) == (LIFT_BACK,)
    now = fold([LIFT_BACK], told).load("load 1")
    assert now is not None
    assert (now.lifted_at, now.deadline) == (None, at(20))
    assert now.phase(at(32)) is Phase.READY
    again = LiftLoad(load="load 1", at=at(35))
    assert not isinstance(decide(fold([LIFT_BACK], told), again), Refusal)


def test_a_second_tap_on_the_same_key_is_harmless():
    told = state(boil(10), lifted(30), LIFT_BACK)
    assert decide(told, back("lifted", 33, said_at=at(30))) == ()
    assert decide(state(boil(10), BOIL_BACK), back("full-boil", 13)) == ()


def test_a_tap_of_an_old_screen_starts_no_clock_after_a_taking_back():
    told = state(boil(10), BOIL_BACK)
    tap = MarkFullBoil(load="load 1", at=at(13), seen=1)
    no = decide(told, tap)
    assert isinstance(no, Refusal)
    assert "has changed since this screen was drawn" in no.reason
    late = replace(tap, at=at(11), late=True)
    assert isinstance(decide(told, late), Refusal)


@pytest.mark.parametrize(
    ("events", "asked", "said"),
    [
        ((boil(10), lifted(30)), back("full-boil", 31), "out of its canner since"),
        ((boil(10),), back("full-boil", 12, said_at=at(9)), "said anew of load 1"),
        (
            (boil(10), lifted(30), boil(32, "load 2")),
            back("lifted", 33),
            "canner 1 holds load 2 since",
        ),
        (
            (
                boil(10),
                lifted(30),
                VentingBegun(load="load 2", occurred_at=at(31)),
            ),
            back("lifted", 33),
            "canner 1 holds load 2 since",
        ),
    ],
)
def test_what_was_built_on_it_since_holds_it(events, asked, said):
    no = decide(state(*events), asked)
    assert isinstance(no, Refusal)
    assert said in no.reason


def test_another_canner_does_not_hold_it():
    told = state(boil(10), lifted(30), boil(32, "load 3"))
    assert decide(told, back("lifted", 33)) == (replace(LIFT_BACK, occurred_at=at(33)),)


@pytest.mark.parametrize(
    ("events", "was", "then"),
    [
        ((boil(10),), "full-boil", "tap that it lost its boil"),
        ((boil(10), lifted(30)), "lifted", "book its lots as they are"),
    ],
)
def test_a_plan_that_was_made_with_it_holds_it(plan_taken, events, was, then):
    no = decide(state(*events, plan_taken), back(was, 41))
    assert isinstance(no, Refusal)
    assert "planned again" in no.reason
    assert then in no.instead


@pytest.fixture
def plan_taken() -> PlanTaken:
    problem = day(jelly())
    timetable = by_hand(problem)
    assert timetable is not None
    plan = KeptPlan(of="x", problem=problem, timetable=timetable)
    loads = (TEN, NEXT, ASIDE)
    return PlanTaken(plan=plan, loads=loads, sentence="later", occurred_at=at(40))


def test_the_board_has_its_key_for_a_quarter_of_an_hour():
    told = state(boil(10), boil(11, "load 3"), lifted(30))
    keys = [(one.load, one.was) for one in loads_taken_back(told, at(25))]
    assert keys == [("load 1", "lifted"), ("load 3", "full-boil")]
    assert [one.load for one in loads_taken_back(told, at(44))] == ["load 1"]
    assert loads_taken_back(told, at(45)) == ()
    next_in = fold([boil(32, "load 2")], told)
    assert [one.load for one in loads_taken_back(next_in, at(33))] == ["load 2"]


def test_what_is_known_of_venting_stays_and_how_it_was_vented_goes():
    told = state(
        VentingBegun(load="load 1", boot="a", occurred_at=at(1)),
        FullBoilReached(load="load 1", boot="b", vented="clock", occurred_at=at(11)),
        BOIL_BACK,
    )
    run = told.load("load 1")
    assert run is not None
    assert (run.vented, run.boot, run.venting_since) == ("", "", at(1))
    assert run.phase(at(12)) is Phase.VENTED
    assert dt.timedelta() == run.vented_at - at(11)


def test_a_boil_that_was_lost_has_nothing_to_take_back():
    told = state(boil(10), BoilLost(load="load 1", occurred_at=at(11)))
    assert loads_taken_back(told, at(12)) == ()
    assert decide(told, back("full-boil", 12)) == ()
