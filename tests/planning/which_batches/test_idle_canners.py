"""A canner that stands empty beside one of another kind is named, with its reason."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.methods.kitchen import Canner, CannerKind
from stillroom.methods.today import air_in
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.idle_canners import idle_canners
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.kitchens import day, kitchen, stores

DIAL, WEIGHT = CannerKind.DIAL_GAUGE, CannerKind.WEIGHTED_GAUGE
BEANS = Lot(name="beans", what="green beans", mass_kg=9.0)


def canner(name: str, kind: CannerKind, on: str, **places: int) -> Canner:
    plain = kitchen().canners[0]
    return replace(plain, name=name, kind=kind, stands_on=(on,), places=places)


def beans(second: Canner) -> Day:
    first = canner("dial", DIAL, "front left", pint=9)
    return day(
        Want(product="green beans", jars=18, jar="pint"),
        shelf=(BEANS, *stores()),
        kitchen=kitchen(canners=(first, second)),
    )


def said(today: Day, loads: int = 2) -> list[str]:
    air = granted(air_in(today.kitchen))
    made = make_batches(
        today, Place(kitchen=today.kitchen, air=air), Shelf(today.shelf)
    )
    assert made.batches
    return [one.text for one in idle_canners(today.kitchen, air, made, loads)]


def test_a_canner_whose_own_table_would_do_is_said_to_stand_empty():
    """The plan used one of two, and said that none could end sooner."""
    (words,) = said(beans(canner("weight", WEIGHT, "front right", pint=8)))
    assert words.startswith(
        "nothing goes into the weight: green beans are planned by the table of a "
        "pressure canner (dial gauge), and a product has one kind of canner in a plan"
    )


@pytest.mark.parametrize(
    "second",
    [
        canner("other", DIAL, "front right", pint=8),  # it may be used
        canner("water", CannerKind.BOILING_WATER, "front right", pint=8),  # low acid
        canner("weight", WEIGHT, "front right", quart=7),  # no pint goes in
    ],
)
def test_nothing_is_said_of_a_canner_that_is_no_help(second):
    assert said(beans(second)) == []


def test_nothing_is_said_where_one_load_is_all():
    assert said(beans(canner("weight", WEIGHT, "front right", pint=8)), loads=1) == []


def test_it_is_a_caution_of_the_plan():
    plan = plan_the_day(
        beans(canner("weight", WEIGHT, "front right", pint=8)), seconds=1
    )
    assert isinstance(plan, DayPlan)
    texts = [caution.text for caution in plan.cautions]
    assert [t for t in texts if t.startswith("nothing goes into the weight")]
