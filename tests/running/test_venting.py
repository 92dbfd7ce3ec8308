"""The vent clock: 10 min of steady steam before any clock under pressure; invented."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.methods.canner_water import VENT_MIN
from stillroom.planning.hand.by_hand import by_hand
from stillroom.refusal import Refusal
from stillroom.running.asked_first import asked_first
from stillroom.running.board import board
from stillroom.running.commands import (
    MarkBoilLost,
    MarkFullBoil,
    MarkVenting,
    MarkVentingStopped,
)
from stillroom.running.decide import decide
from stillroom.running.events import (
    BoilLost,
    ClockSet,
    DayBegun,
    FullBoilReached,
    KeptPlan,
    PlanTaken,
    RunBatch,
    RunLoad,
    StepDone,
    VentingBegun,
    VentingStopped,
)
from stillroom.running.fold import RunState, fold
from stillroom.running.handle import state_of
from stillroom.running.load_run import Phase
from stillroom.running.power_gone import may_have_been_off
from tests.planning.small_days import day as small_day
from tests.planning.small_days import jelly
from tests.running.a_run import RUN, Kitchen

START = dt.datetime(2026, 9, 12, 9, 0, tzinfo=dt.timezone(dt.timedelta(hours=-7)))
BEANS = RunLoad(
    id="canner/1",
    name="load 1",
    canner="dial canner",
    process_min=20,
    source="an invented table",
    jar="pint",
    jars=(("green beans 1", 9),),
    method="dial-gauge",
    pressure_psi=11.0,
    rest_min=40,
)
MORE = replace(BEANS, id="canner/2", name="load 2", jars=(("green beans 2", 9),))
JELLY = replace(BEANS, id="pot/1", method="boiling-water", pressure_psi=None)


def at(minutes: float) -> dt.datetime:
    return START + dt.timedelta(minutes=minutes)


def batch(load: RunLoad) -> RunBatch:
    ((name, jars),) = load.jars
    return RunBatch(
        id=name,
        product="green beans",
        food="vegetable",
        recipe="beans",
        source="an invented leaflet",
        multiple=1,
        jar="pint",
        jars=jars,
        place="pantry",
        needs=(),
        canned=True,
        closes="lids_on",
    )


def day(*events, loads=(BEANS, MORE)) -> RunState:
    """A day whose jars of the first load were said to be closed."""
    begun = DayBegun(loads=loads, batches=(batch(BEANS),), occurred_at=START)
    closed = StepDone(batch="green beans 1", step="lids_on", occurred_at=START)
    return fold([begun, closed, *events])


def steam(minutes: float, load: RunLoad = BEANS) -> VentingBegun:
    return VentingBegun(load=load.id, occurred_at=at(minutes))


def reached(minutes: float, *, sure: bool = False) -> MarkFullBoil:
    return MarkFullBoil(load=BEANS.id, at=at(minutes), sure=sure)


def the_first(state: RunState):
    return state.loads[0]


def test_without_a_vent_clock_it_is_asked_whether_steam_has_streamed():
    """Lids on and at pressure within a minute: no clock starts unasked."""
    state = day()
    asked = asked_first(state, the_first(state), at(1))
    assert asked is not None
    assert asked.asks == "Has steam streamed from dial canner for 10 min?"
    assert asked.why.startswith("no vent clock of load 1 has run")
    assert "01600949" in asked.why


@pytest.mark.parametrize(("minutes", "asks"), [(11.9, True), (12.0, False)])
def test_it_is_asked_until_the_vent_clock_has_run_out(minutes: float, asks: bool):
    state = day(steam(2))
    asked = asked_first(state, the_first(state), at(minutes))
    assert bool(asked) is asks
    if asked is not None:
        assert "vent clock of load 1 runs until 9:12:00" in asked.why


def test_of_boiling_water_nothing_is_asked():
    state = day(loads=(replace(JELLY, jars=BEANS.jars),))
    assert asked_first(state, the_first(state), at(1)) is None


def test_one_yes_answers_what_else_is_asked_too():
    begun = DayBegun(loads=(BEANS,), batches=(batch(BEANS),), occurred_at=START)
    state = fold([begun])
    asked = asked_first(state, the_first(state), at(1))
    assert asked is not None
    assert asked.asks == (
        "Is it load 1 that is at 11 psi? Has steam streamed from dial canner for "
        "10 min?"
    )
    assert "not said that any jar of load 1 is filled" in asked.why
    assert asked.yes == "Yes, start the clock of load 1: it was vented"


@pytest.mark.parametrize(
    ("events", "command", "vented"),
    [
        ([steam(2)], reached(12), "clock"),
        ([steam(2)], reached(12, sure=True), "clock"),
        ([steam(2)], reached(11, sure=True), "said"),
        ([], reached(11, sure=True), "said"),
        (
            [steam(2), VentingStopped(load=BEANS.id, occurred_at=at(8)), steam(9)],
            reached(13, sure=True),
            "said",
        ),
    ],
)
def test_how_it_is_known_stays_in_the_record(events, command, vented: str):
    (event,) = decide(day(*events), command)
    assert event == FullBoilReached(
        load=BEANS.id, vented=vented, occurred_at=command.at
    )
    assert the_first(day(*events, event)).vented == vented


def test_after_a_loss_it_is_asked_whether_pressure_was_left():
    boiled = FullBoilReached(load=BEANS.id, vented="clock", occurred_at=at(15))
    lost = BoilLost(load=BEANS.id, occurred_at=at(20))
    state = day(steam(2), boiled, lost)
    assert the_first(state).vented == ""
    asked = asked_first(state, the_first(state), at(22))
    assert asked is not None
    assert asked.asks.startswith("Was there pressure left in dial canner all the time")
    again = day(steam(2), boiled, lost, steam(21))
    assert the_first(again).phase(at(22)) is Phase.VENTING
    assert asked_first(again, the_first(again), at(31)) is None


def test_the_clock_is_there_after_a_restart(records):
    kitchen = Kitchen(records.ledger).begin(batch(BEANS), loads=(BEANS,))
    kitchen.later(5).do(MarkVenting(load=BEANS.id, at=kitchen.at))
    (run,) = state_of(RUN, ledger=records.ledger).loads
    assert run.vented_at == kitchen.at + dt.timedelta(minutes=VENT_MIN)
    card = board(state_of(RUN, ledger=records.ledger), kitchen.later(4).at).cards[0]
    assert (card.big, card.until) == ("6:00", run.vented_at)
    assert card.says.startswith("of 10 min of steady steam, from 9:05 until 9:15")


def test_the_keys_go_from_steam_to_pressure():
    def keys(state: RunState, minutes: float) -> list[tuple[str, bool]]:
        (card,) = board(state, at(minutes)).cards[:1]
        return [(key.asks, key.first) for key in card.keys]

    assert keys(day(), 1) == [("venting", True), ("full-boil", False)]
    vents = day(steam(2))
    assert keys(vents, 3) == [("venting-stopped", False), ("full-boil", False)]
    assert keys(vents, 12) == [("full-boil", True), ("venting-stopped", False)]
    shown = board(vents, at(12))
    assert shown.sentence == (
        "Load 1 in dial canner has vented for 10 min: close the vent, bring it to 11 "
        "psi."
    )
    assert shown.cards[0].big == "close"
    assert board(vents, at(3)).sentence.startswith("Load 1 vents until 9:12.")


def test_steam_that_stopped_counts_for_none():
    vents = day(steam(2))
    stop = MarkVentingStopped(load=BEANS.id, at=at(8))
    (event,) = decide(vents, stop)
    assert event == VentingStopped(load=BEANS.id, occurred_at=at(8))
    state = day(steam(2), event)
    assert the_first(state).phase(at(13)) is Phase.WAITING
    assert decide(state, stop) == ()  # a second tap


@pytest.mark.parametrize(
    ("state", "command", "reason", "instead"),
    [
        (
            day(loads=(JELLY,)),
            MarkVenting(load=JELLY.id, at=at(1)),
            "has no vent",
            "bring the canner to a full boil",
        ),
        (
            day(steam(2)),
            MarkVenting(load=BEANS.id, at=at(4)),
            "vent clock of load 1 runs since 09:02:00",
            "if the steam stopped, say so first",
        ),
        (
            day(FullBoilReached(load=BEANS.id, occurred_at=at(2))),
            MarkVenting(load=BEANS.id, at=at(4)),
            "its vent is closed",
            "if the pressure was lost, say so first",
        ),
        (
            day(FullBoilReached(load=BEANS.id, occurred_at=at(2))),
            MarkVenting(load=MORE.id, at=at(4)),
            "dial canner still holds load 1",
            "lift load 1 out first",
        ),
        (
            day(steam(2)),
            MarkVenting(load=MORE.id, at=at(4)),
            "the vent clock of load 1 runs at dial canner",
            "tap that the steam of load 1 stopped",
        ),
        (
            day(FullBoilReached(load=BEANS.id, occurred_at=at(2))),
            MarkVentingStopped(load=BEANS.id, at=at(4)),
            "runs since 09:02:00",
            "say that it lost the pressure",
        ),
    ],
)
def test_what_no_vent_clock_is_for(state: RunState, command, reason: str, instead: str):
    answer = decide(state, command)
    assert isinstance(answer, Refusal)
    assert reason in answer.reason
    assert instead in answer.instead


def test_two_hands_start_one_vent_clock():
    state = day(steam(2))
    assert decide(state, MarkVenting(load=BEANS.id, at=at(3), seen=2)) == ()


def test_a_lost_pressure_of_what_only_vents_is_no_loss():
    answer = decide(day(steam(2)), MarkBoilLost(load=BEANS.id, at=at(4)))
    assert isinstance(answer, Refusal)
    assert "is not running" in answer.reason


def test_the_vent_clock_goes_by_the_time_that_really_went_by():
    on = dt.timedelta(hours=1)
    clock = ClockSet(by_ms=3_600_000, switched_on=at(-600) + on, occurred_at=at(5) + on)
    assert the_first(day(steam(2), clock)).vented_at == at(12) + on


def test_a_plan_taken_meanwhile_leaves_the_vent_clock(any_plan: KeptPlan):
    taken = PlanTaken(
        plan=any_plan, loads=(BEANS, MORE), sentence="", occurred_at=at(4)
    )
    assert the_first(day(steam(2), taken)).vented_at == at(12)
    other = replace(BEANS, jars=(("green beans 2", 9),))
    changed = replace(taken, loads=(other, MORE))
    assert the_first(day(steam(2), changed)).vented_at is None


@pytest.fixture
def any_plan() -> KeptPlan:
    problem = small_day(jelly())
    return KeptPlan(of="x", problem=problem, timetable=by_hand(problem))


def test_who_switches_the_computer_on_again_is_asked_of_the_steam_too():
    vents = day(steam(2))
    assert may_have_been_off(vents, at(6), at(4), "") == (the_first(vents),)
    assert may_have_been_off(vents, at(6), at(-60), "") == ()
