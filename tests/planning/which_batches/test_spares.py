"""What a day is without, as it would be planned, and what was promised of it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan, LeftOut, Spare
from stillroom.planning.problem import Problem
from stillroom.planning.ways.held_plan import only
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.which_batches.spares import all_promised, spares_for, spares_of
from stillroom.planning.which_batches.thawing import longest_in_water_h
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.kitchens import CUP, day, juice, stores

NAMES = [f"plum jelly {n}" for n in (1, 2, 3)]


def wanted(jars: int, by: dt.time | None = None, **more: int) -> Want:
    return Want(product="plum jelly", jars=jars, jar="half-pint", by=by, **more)


def stated(today: Day) -> tuple[Batched, Problem]:
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf))
    return made, granted(problem_of(today, made, place.air))


def spares(today: Day, *out: str, cannot: tuple[str, ...] = ()) -> list[Spare]:
    made, problem = stated(today)
    return list(spares_of(today, made, problem, out, cannot))


def test_what_nobody_could_work_is_not_kept_to_be_taken_in():
    today = day(wanted(24))
    found = spares(today, *NAMES[1:], cannot=(NAMES[2],))
    assert [spare.made.id for spare in found] == [NAMES[1]]
    assert found[0].batch.id == NAMES[1]


@pytest.mark.parametrize(
    ("lots", "thaws_min"),
    [
        # by estimate a bag of five cups lies two hours in cold water at most, one of
        # eight cups four and one of two cups one: the whole lot is not in one bag
        ([juice(bags=3, bag_cups=5.0)], 120),
        # two cups of the one and three of the other: both thaw at once
        (
            [
                juice(bags=1, bag_cups=2.0),
                replace(juice(bags=1, bag_cups=8.0), name="the large bag"),
            ],
            240,
        ),
        # the large bag is not touched
        (
            [
                juice(bags=1, bag_cups=5.0),
                replace(juice(bags=1, bag_cups=8.0), name="the large bag"),
            ],
            120,
        ),
        # a box that is no bag is as thick as all it holds
        (
            [Lot(name="the box", what="plum juice", volume_m3=8 * CUP, frozen=True)],
            240,
        ),
        ([Lot(name="the jug", what="plum juice", volume_m3=8 * CUP)], 0),
    ],
)
def test_it_thaws_as_long_as_the_slowest_bag_that_it_takes(
    lots: list[Lot], thaws_min: int
):
    (spare,) = spares(day(wanted(8), shelf=(*lots, *stores())), NAMES[0])
    assert spare.thaws_min == thaws_min


def test_frozen_fruit_by_its_mass_thaws_as_long_as_the_thickest_bag():
    berries = Lot(name="pears", what="pears", mass_kg=4.0, frozen=True)
    butter = Want(product="pear butter", jars=4, jar="pint")
    (spare,) = spares(day(butter, shelf=(berries, *stores())), "pear butter 1")
    assert spare.thaws_min == 60 * longest_in_water_h(None)


# --- a run that has begun --------------------------------------------------------


@pytest.fixture(scope="module")
def one_of_three() -> DayPlan:
    """Three promised batches; the day has the first, and misses the third most."""
    today = day(
        wanted(8, dt.time(15)),
        wanted(3, dt.time(11), weight=4),
        wanted(5, dt.time(11)),
        wanted(8, dt.time(18), weight=7),
    )
    plan = plan_the_day(today, seconds=0.0, explain=False)
    assert isinstance(plan, DayPlan)
    assert [batch.id for batch in plan.batches] == NAMES
    assert plan.problem is not None
    made, problem = stated(today)
    out = LeftOut(
        batches=(NAMES[2], NAMES[1]),
        product="plum jelly",
        jar="half-pint",
        jars=16,
        why="",
        fruit="",
        spoils=False,
        each=((NAMES[2], 8), (NAMES[1], 8)),
    )
    return replace(
        plan,
        batches=plan.batches[:1],
        problem=only(plan.problem, NAMES[:1]),
        left_out=(out,),
        spare=tuple(spares_of(today, made, problem, NAMES[1:], ())),
    )


def ids(found: tuple[Spare, ...]) -> list[str]:
    return [spare.batch.id for spare in found]


def test_what_had_room_in_the_morning_comes_before_what_had_none(one_of_three):
    """And of what had none, that comes first which is missed most."""
    assert ids(spares_for(one_of_three, ())) == [NAMES[0], NAMES[2], NAMES[1]]
    assert ids(spares_for(one_of_three, {NAMES[0]})) == [NAMES[2], NAMES[1]]
    (thawed, *frozen) = spares_for(one_of_three, ())
    assert thawed.thaws_min == 0  # it was set out in the evening
    assert {spare.thaws_min for spare in frozen} == {120}


def test_every_promise_is_told_with_all_its_jars_and_its_weight(one_of_three):
    """The earliest due first; also what no batch of the run is for."""
    problem = one_of_three.problem
    assert problem is not None
    here = {batch.id for batch in problem.batches}
    told = all_promised(problem, spares_for(one_of_three, here), one_of_three)
    assert [(w.product, w.by_min, w.jars, w.weight) for w in told] == [
        ("plum jelly by 11:00", 180, 8, 4),
        ("plum jelly by 15:00", 420, 8, 1),
        ("plum jelly by 18:00", 600, 8, 7),
    ]
    # nothing can be made for it: what was promised is known by the day file alone
    nothing = replace(one_of_three, batches=(), problem=None, left_out=(), spare=())
    none_made = all_promised(only(problem, ()), (), nothing)
    assert [(w.product, w.by_min, w.jars) for w in none_made] == [
        (w.product, w.by_min, w.jars) for w in told
    ]
