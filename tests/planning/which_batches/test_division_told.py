"""Of each product that may be divided: what the rule and the best other way came to."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from stillroom.methods.today import air_in
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import Divided
from stillroom.planning.which_batches.batches import Batched, make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.day_divided import Sizes
from stillroom.planning.which_batches.division_told import divisions_told
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.planning.which_batches.sizes import sensible_divisions
from stillroom.refusal import granted
from tests.kitchens import day, juice, stores

PEARS = "pears, quart"


@pytest.fixture(scope="module")
def made_and_ways():
    """Packs of several jars, one of a single jar, and a batch of jelly."""
    today = day(
        Want(product="pears", jars=10, jar="quart"),
        Want(product="dried apples", jars=4, jar="pint"),
        Want(product="frozen blueberries", jars=10, jar="pint"),
        Want(product="applesauce", jars=1, jar="quart"),
        Want(product="plum jelly", jars=8, jar="half-pint"),
        shelf=(
            juice(),
            Lot(name="apples", what="apples", mass_kg=30.0),
            Lot(name="pears", what="pears", mass_kg=60.0),
            Lot(name="berries", what="blueberries", mass_kg=30.0),
            Lot(name="quarts", what="quart jars", count=60),
            *stores(),
        ),
    )
    place = Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen)))
    made = make_batches(today, place, Shelf(today.shelf))
    return made, sensible_divisions(made, place)


def way(sizes: Sizes, ends: int | None, loads: int = 2) -> SimpleNamespace:
    """A day divided like that, with its end and its loads; without a plan for None."""
    plan = None if ends is None else SimpleNamespace(finish_min=ends, loads="x" * loads)
    return SimpleNamespace(sizes=sizes, plan=plan, worth=(ends or 10**9, loads))


def told(
    made_and_ways: tuple[Batched, dict],
    *others: SimpleNamespace,
    best: SimpleNamespace | None = None,
) -> dict[str, Divided]:
    made, ways = made_and_ways
    plain = way({}, 500, loads=3)
    trials = SimpleNamespace(plain=plain, others=list(others))
    said = divisions_told(made, ways, trials, best or plain, searched=True)
    return {one.product: one for one in said}


def test_only_what_may_be_divided_otherwise_is_told(made_and_ways):
    made, ways = made_and_ways
    said = told(made_and_ways)
    in_one_way = {"plum jelly", "applesauce"}
    assert in_one_way < {batch.product for batch in made.batches}
    assert len(ways["applesauce, quart"]) == 1
    assert in_one_way.isdisjoint(said)
    pears = said["pears"]
    assert (pears.plain, pears.other, pears.taken) == ((5, 5), None, False)
    assert pears.ways == len(ways[PEARS]) > 2
    assert (pears.plain_ends_min, pears.plain_loads) == (500, 3)
    assert (pears.other_ends_min, pears.other_loads, pears.why) == (None, 0, "")


def test_the_best_other_way_that_has_a_plan_is_told_with_its_own_why(made_and_ways):
    """Of one that has none nothing is known, and one of other fruit says nothing."""
    _, ways = made_and_ways
    more = next(one for one in ways[PEARS] if one.why == "more, smaller pots")
    full = next(one for one in ways[PEARS] if one.why == "a canner load each")
    apples = next(iter(name for name in ways if name.startswith("dried apples")))
    worse, better = way({PEARS: full.sizes}, 520, 1), way({PEARS: more.sizes}, 490, 4)
    other_fruit = way({apples: ways[apples][1].sizes}, 100)
    none = way({PEARS: full.sizes}, None)
    pears = told(made_and_ways, none, worse, better, other_fruit)["pears"]
    assert (pears.other, pears.why) == (more.sizes, "more, smaller pots")
    assert (pears.other_ends_min, pears.other_loads) == (490, 4)
    assert not pears.taken
    assert told(made_and_ways, none)["pears"].other is None


def test_what_is_planned_is_taken_whatever_else_was_tried(made_and_ways):
    """What ends a little sooner than what is planned is not told in its place."""
    _, ways = made_and_ways
    more = next(one for one in ways[PEARS] if one.why == "more, smaller pots")
    full = next(one for one in ways[PEARS] if one.why == "a canner load each")
    best = way({PEARS: full.sizes}, 480)
    alone = way({PEARS: more.sizes}, 470)
    said = told(made_and_ways, alone, best, best=best)
    assert (said["pears"].other, said["pears"].taken) == (full.sizes, True)
    assert said["pears"].other_ends_min == 480
    assert not any(one.taken for name, one in said.items() if name != "pears")


def test_trays_are_no_pots_and_what_is_dried_or_frozen_is_in_no_load(made_and_ways):
    said = told(made_and_ways)
    counted = {
        name: (one.one_is, one.in_pots, one.canned) for name, one in said.items()
    }
    assert counted["pears"] == ("", True, True)
    assert counted["dried apples"] == ("lb", False, False)
    assert counted["frozen blueberries"][0] == "pint"
    assert not counted["frozen blueberries"][2]
