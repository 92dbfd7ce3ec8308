"""The day as the planner is asked it: nothing of the kitchen is lost on the way."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.methods.kitchen import Burner, Canner, CannerKind, Pot
from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Rest, Want
from stillroom.planning.goal_order import Goal
from stillroom.planning.problem import Problem
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.kitchen_problem import problem_of, steps_taking
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import granted
from tests.kitchens import day, juice, kitchen, person, stores

HALF = "half-pint"
STEEL_8QT, STEEL_12QT = "7.57 L stainless", "11.36 L stainless"


def made_of(today: Day) -> Batched:
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    return make_batches(today, place, Shelf(today.shelf))


def asked(today: Day, made: Batched | None = None) -> Problem:
    made = made_of(today) if made is None else made
    found = problem_of(today, made, granted(air_in(today.kitchen)))
    assert isinstance(found, Problem)
    return found


def two_jellies(**changes: object) -> Day:
    return day(Want(product="plum jelly", jars=16, jar=HALF), **changes)


# --- fires and pots -------------------------------------------------------------


def test_a_fire_that_bears_small_pots_is_given_no_larger_one():
    weak = Burner(name="weak", power_w=3400.0, largest_pot_m3=0.00757)
    strong = Burner(name="strong", power_w=3500.0)
    third = Burner(name="front right", power_w=3000.0)
    today = two_jellies(kitchen=kitchen(burners=(weak, strong, third)))
    takes = {burner.id: burner.takes for burner in asked(today).burners}
    assert takes["weak"] == {STEEL_8QT}
    assert takes["strong"] is None


def test_the_hours_of_a_burner_that_is_taken_are_minutes_of_the_day():
    """The day starts at eight; what was before that is from its first minute."""
    spans = ((dt.time(7, 30), dt.time(8, 10)), (dt.time(17, 30), dt.time(18, 15)))
    supper = Burner(name="front left", power_w=3400.0, taken=spans)
    other = Burner(name="front right", power_w=3000.0)
    today = two_jellies(kitchen=kitchen(burners=(supper, other)))
    assert [b.taken for b in asked(today).burners] == [((0, 10), (570, 615)), ()]


def test_pots_of_one_size_are_alike_only_where_they_are_of_one_metal():
    pots = (
        Pot(name="steel", volume_m3=0.01136),
        Pot(name="bare", volume_m3=0.01136, material="aluminum"),
    )
    sizes = {p.id: p.size for p in asked(two_jellies(kitchen=kitchen(pots=pots))).pots}
    assert sizes == {"steel": STEEL_12QT, "bare": "11.36 L aluminum"}


# --- people ---------------------------------------------------------------------


def test_hours_rests_and_absences_are_minutes_of_the_day():
    """The day starts at eight; what was before that is from its first minute."""
    noon = Rest(minutes=30, earliest=dt.time(11, 30), latest=dt.time(13))
    early = Rest(minutes=10, earliest=dt.time(7, 30), latest=dt.time(8, 40))
    ada = person(
        comes=dt.time(7),
        goes=dt.time(19, 30),
        breaks=(early, noon),
        away=((dt.time(7, 45), dt.time(8, 15)), (dt.time(10), dt.time(10, 20))),
        quarters=3,
    )
    (one,) = asked(two_jellies(people=(ada,))).people
    assert (one.arrives_min, one.leaves_min, one.quarters) == (0, 690, 3)
    assert one.away == ((0, 15), (120, 140))
    rests = [(b.duration_min, b.earliest_min, b.latest_start_min) for b in one.breaks]
    assert rests == [(10, 0, 40), (30, 210, 300)]


@pytest.mark.parametrize(
    ("quarters", "halves"),
    [(None, False), (4, True), (2, False)],
    ids=["alone", "with another", "with one who minds a child"],
)
def test_long_work_is_for_two_only_where_two_have_the_hands_for_it(quarters, halves):
    """Cutting a bushel takes three quarters of somebody, who may have only two."""
    other = () if quarters is None else (person("Ben", quarters=quarters),)
    pears = Lot(name="pears", what="pears", mass_kg=12.0)
    today = day(
        Want(product="pears", jars=9, jar="pint"),
        shelf=(pears, *stores()),
        people=(person(), *other),
    )
    steps = {step.id for batch in asked(today).batches for step in batch.steps}
    assert any(step.endswith("_other_half") for step in steps) == halves


# --- canners and loads ----------------------------------------------------------


def with_process(made: Batched, number: int, **changes: object) -> Batched:
    """The batches, one of them by another process."""
    batch = made.batches[number]
    assert batch.process is not None
    other = replace(batch.process, **changes)  # type: ignore[arg-type]
    made.batches[number] = replace(batch, process=other)
    return made


PRESSURE = Canner(
    name="gauge canner",
    kind=CannerKind.DIAL_GAUGE,
    stands_on=("front left",),
    places={HALF: 9, "pint": 9, "quart": 7},
    volume_m3=0.02,
)


def test_no_jar_rides_in_a_load_of_other_minutes():
    today = two_jellies()
    made = made_of(today)
    alike = {batch.process for batch in asked(today, made).batches}
    assert len(alike) == 1
    first, second = asked(today, with_process(made, 1, minutes=40)).batches
    assert first.process != second.process
    for process in asked(today, made).processes:
        assert process.may_ride_in == (process.id,)


def test_no_jar_rides_in_a_load_of_another_pressure_or_in_boiling_water():
    """Six pounds for as long as eleven are no process for what needs eleven."""
    base = kitchen()
    today = two_jellies(kitchen=replace(base, canners=(*base.canners, PRESSURE)))
    made = made_of(today)
    method = CannerKind.DIAL_GAUGE.value
    made = with_process(made, 0, method=method, minutes=20, pressure_psi=6.0)
    made = with_process(made, 1, method=method, minutes=20, pressure_psi=11.0)
    problem = asked(today, made)
    first, second = problem.batches
    assert first.process != second.process
    assert {p.id: p.pressure_psi for p in problem.processes} == {
        first.process: 6.0,
        second.process: 11.0,
    }
    (canner,) = problem.canners  # the one for boiling water takes none of these
    assert canner.id == "gauge canner"
    places = set(canner.places)
    assert {p.jar for p in problem.processes} == places
    assert HALF not in places  # by which a canner with boiling water would take them


def test_a_canner_of_a_kind_that_no_jar_asks_for_is_not_in_the_day():
    base = kitchen()
    today = two_jellies(kitchen=replace(base, canners=(*base.canners, PRESSURE)))
    assert [canner.id for canner in asked(today).canners] == ["canner"]


def test_jars_that_are_packed_raw_go_into_cooler_water_and_boil_later():
    """USDA Complete Guide, Guide 1: 140 °F for raw packs, 180 °F for hot ones."""
    today = two_jellies()
    made = made_of(today)
    (hot,) = asked(today, made).canners
    assert hot.come_up_of == {}
    with_process(made, 0, minutes=25)
    raw_too = asked(today, with_process(made, 0, pack="raw"))
    (canner,), (raw, other) = raw_too.canners, raw_too.batches
    assert raw.process is not None
    assert other.process is not None
    assert {p.id for p in raw_too.processes if p.raw} == {raw.process}
    assert canner.minutes_up(raw.process) > hot.come_up_min
    assert canner.spread_up(raw.process) != hot.come_up_spread
    # one raw pack once made every load of its canner as slow, some 20 min each
    assert canner.minutes_up(other.process) == hot.come_up_min
    assert canner.spread_up(other.process) == hot.come_up_spread


def test_a_load_that_may_hold_a_raw_pack_comes_up_as_one():
    """Jars of one size and one process may share a load, raw or hot."""
    today = two_jellies()
    made = made_of(today)
    (hot,) = asked(today, made).canners
    one_is_raw = asked(today, with_process(made, 0, pack="raw"))
    first, second = one_is_raw.batches
    assert first.process == second.process
    assert first.process is not None
    (canner,) = one_is_raw.canners
    assert canner.minutes_up(first.process) > hot.come_up_min


# --- what is promised -----------------------------------------------------------


def test_a_promise_for_two_batches_is_promised_once():
    want = Want(product="plum jelly", jars=16, jar=HALF, by=dt.time(14), weight=5)
    problem = asked(day(want))
    assert len(problem.batches) == 2
    (due,) = problem.wants
    assert (due.by_min, due.jars, due.weight) == (360, 16, 5)


def test_two_promises_for_one_hour_are_one_of_all_their_jars_and_the_graver():
    light = Want(product="plum jelly", jars=6, jar=HALF, by=dt.time(14))
    grave = replace(light, jars=10, weight=9, matters=1)
    (due,) = asked(day(light, grave)).wants
    assert (due.by_min, due.jars, due.weight) == (360, 16, 9)


def test_a_batch_for_two_hours_is_known_to_be_for_both():
    early = Want(product="plum jelly", jars=4, jar=HALF, by=dt.time(11))
    late = replace(early, by=dt.time(14))
    (batch,) = asked(day(early, late)).batches
    assert batch.serves == ("plum jelly by 11:00", "plum jelly by 14:00")


def test_nothing_in_the_dryer_is_due_that_day():
    apples = Lot(name="apples", what="apples", mass_kg=5.0)
    want = Want(product="dried apples", jars=1, jar="pint", by=dt.time(18))
    problem = asked(day(want, shelf=(apples, *stores())))
    assert problem.batches
    assert problem.wants == ()


def test_her_own_order_of_goals_and_her_hour_go_with_the_day():
    today = two_jellies(first=(Goal.EARLY,), done_by=dt.time(18, 30))
    problem = asked(today)
    assert (problem.first, problem.done_by_min) == ((Goal.EARLY,), 630)


# --- what is taken from the shelf -----------------------------------------------


def test_only_what_a_batch_takes_holds_it_back():
    """Grape juice that drips until noon is none of the plum jelly's."""
    plums = replace(juice(bags=1), ready=dt.time(9, 30))
    grapes = replace(juice("grape juice"), ready=dt.time(12))
    (batch,) = asked(
        day(
            Want(product="plum jelly", jars=8, jar=HALF),
            shelf=(plums, grapes, *stores()),
        )
    ).batches
    assert {(w.earliest_min, w.why) for w in batch.windows} == {
        (90, "frozen plum juice is ready")
    }


def test_what_drips_holds_the_step_that_names_it():
    today = two_jellies()
    made = made_of(today)
    asked(today, made)
    work = made.works[made.batches[0].id]
    named = [s.id for s in work.steps if "sugar" in f"{s.verb} {s.note}".lower()]
    assert named  # else the test tells nothing
    assert steps_taking("sugar", work) == named
    in_pot = next(s.id for s in work.steps if s.in_pot)
    assert steps_taking("something that no step names", work) == [in_pot]
