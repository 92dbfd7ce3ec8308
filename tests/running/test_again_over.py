"""A run planned again after every jar of a load broke, or its jars were given up."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.planning.how_good.lateness import batches_done_min
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Want
from stillroom.planning.timetable import Answer, PlacedLoad
from stillroom.refusal import Refusal
from stillroom.running.again import Again, Told, plan_again, taking
from stillroom.running.commands import LiftLoad
from stillroom.running.decide import decide
from stillroom.running.events import (
    BoilLost,
    DayBegun,
    FullBoilReached,
    JarBroke,
    KeptPlan,
)
from stillroom.running.fold import RunState, fold
from stillroom.running.loads import Published, loads_in
from tests.planning.small_days import day, jelly

START = dt.datetime(2026, 9, 12, 8, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
PROBLEM = day(jelly("a"), jelly("b"))
WORDS = Published(
    jar="half-pint",
    source="an invented leaflet",
    how_known="looked_up",
    band="0 to 1000",
    method="boiling_water",
    pressure_psi=None,
)


@pytest.fixture(scope="module")
def plan() -> KeptPlan:
    answer = plan_day(PROBLEM, seconds=1)
    assert isinstance(answer, Answer)
    return KeptPlan(of="x", problem=PROBLEM, timetable=answer.timetable)


def first_of(plan: KeptPlan) -> PlacedLoad:
    return min(plan.timetable.loads, key=lambda load: load.lower_min)


def at(minute: int) -> dt.datetime:
    return START + dt.timedelta(minutes=minute)


def begun(plan: KeptPlan, *more) -> RunState:
    loads = loads_in(PROBLEM, plan.timetable, dict.fromkeys("ab", WORDS))
    day_begun = DayBegun(loads=loads, plan=plan, occurred_at=START)
    return fold([day_begun, *more])


def broke(load: PlacedLoad, minute: int) -> list[JarBroke]:
    return [
        JarBroke(load=load.id, batch=name, crack="ring", occurred_at=at(minute))
        for name, count in load.jars
        for _ in range(count)
    ]


@pytest.mark.parametrize("boils", [True, False])
def test_the_glass_is_out_and_its_canner_takes_the_next_load(plan, boils):
    """Its minutes were kept, and where it had never boiled it was planned to."""
    load = first_of(plan)
    boil = FullBoilReached(load=load.id, occurred_at=at(load.boil_min))
    events = [boil] if boils else []
    out = load.boil_min + 2
    events += broke(load, load.boil_min + 1)
    state = begun(plan, *events)
    lifted = decide(state, LiftLoad(load=load.id, at=at(out)))
    assert not isinstance(lifted, Refusal)
    state = fold([*lifted], state)
    again = plan_again(state, at(out + 1), Told(), seconds=1.5)
    assert isinstance(again, Again)
    one = next(x for x in again.found.new.loads if x.id == load.id)
    assert (one.out_min, one.stands_until_min) == (out, out)
    after = [x for x in again.found.new.loads if x.lower_min > out]
    assert sum(count for x in after for _, count in x.jars) == 16 - load.count
    # it is taken over, and what broke is still there to be booked
    took = decide(state, taking(again, state, at(out + 1)))
    assert not isinstance(took, Refusal)
    run = fold([*took], state).load(load.id)
    assert run is not None
    assert run.all_broke


def test_as_long_as_the_glass_is_in_it_the_canner_is_kept(plan):
    """It is cleared out cold, and nobody knows when that is."""
    load = first_of(plan)
    boil = FullBoilReached(load=load.id, occurred_at=at(load.boil_min))
    state = begun(plan, boil, *broke(load, load.boil_min + 1))
    again = plan_again(state, at(load.boil_min + 2), Told(), seconds=1.5)
    assert isinstance(again, Again)
    one = next(x for x in again.found.new.loads if x.id == load.id)
    assert one.out_min >= load.out_min


def test_jars_that_were_given_up_are_processed_no_more(plan):
    """Their boil was lost, and they were booked as never processed."""
    load = first_of(plan)
    state = begun(
        plan,
        FullBoilReached(load=load.id, occurred_at=at(load.boil_min)),
        BoilLost(load=load.id, occurred_at=at(load.boil_min + 1)),
    )
    now = load.boil_min + 2
    ends = {}
    for gone in (frozenset(), frozenset({load.id})):
        again = plan_again(state, at(now), Told(given_up=gone), seconds=1.5)
        assert isinstance(again, Again)
        one = next(x for x in again.found.new.loads if x.id == load.id)
        ends[bool(gone)] = one.done_min
        # it rests in the canner all the same
        assert one.lift_min >= one.done_min + 5
    assert ends[True] == now - 1
    assert ends[False] >= now + 10


def test_a_promise_whose_jars_broke_is_not_made_and_not_merely_late(plan):
    """It was said to come when its glass was cleared out."""
    load = first_of(plan)
    want = Want(product="jelly", by_min=load.boil_min, jars=16)
    problem = replace(plan.problem, wants=(want,))
    promised = replace(plan, problem=problem)
    boil = FullBoilReached(load=load.id, occurred_at=at(load.boil_min))
    state = begun(promised, boil, *broke(load, load.boil_min + 1))
    lifted = decide(state, LiftLoad(load=load.id, at=at(load.boil_min + 2)))
    assert not isinstance(lifted, Refusal)
    state = fold([*lifted], state)
    again = plan_again(state, at(load.boil_min + 3), Told(), seconds=1.5)
    assert isinstance(again, Again)
    (lacking,) = again.found.not_made
    assert lacking.jars == load.count
    assert f"{load.count} jars of jelly" in again.found.sentence
    assert "not made" in again.found.sentence


def test_jars_without_a_process_are_there_at_no_hour(plan):
    load = first_of(plan)
    out = load.boil_min + 1
    gone = replace(load, done_min=out, lift_min=out, out_min=out, fire_free_min=out)
    alone = replace(plan.timetable, loads=(gone,))
    assert batches_done_min(PROBLEM, alone) == {}
    assert batches_done_min(PROBLEM, replace(alone, loads=(load,)))
