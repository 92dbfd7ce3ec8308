"""What a run takes over of a plan: its loads, and the steps that it can teach."""

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.whole_day import plan_the_day
from stillroom.running.events import DayBegun, KeptPlan, PlanTaken
from stillroom.running.fold import fold
from stillroom.running.loads import (
    Published,
    loads_in,
    named_on,
    published_as_begun,
    steps_of,
)
from stillroom.running.lots_made import load_number
from tests.kitchens import day as kitchen_day
from tests.planning.small_days import canner, day, jelly
from tests.running.a_run import load

START = dt.datetime(2026, 9, 12, 8, 0, tzinfo=dt.UTC)
JELLY = Published(
    jar="half-pint",
    source="leaf A",
    how_known="looked up",
    band="1,001-3,000 ft",
    method="boiling-water",
    pressure_psi=None,
)
RELISH = replace(JELLY, source="leaf B", band="0-3,000 ft")


@pytest.fixture(scope="module")
def problem() -> Problem:
    return day(jelly("a"), jelly("b"), jelly("c"))


@pytest.fixture(scope="module")
def table(problem: Problem) -> Timetable:
    found = by_hand(problem)
    assert found is not None
    assert len(found.loads) >= 2
    return found


def published(problem: Problem, **other: Published) -> dict[str, Published]:
    return {batch.id: other.get(batch.id, JELLY) for batch in problem.batches}


def test_a_load_with_a_raw_pack_in_it_is_known_as_one(problem, table):
    raw = published(problem, a=replace(JELLY, raw=True))
    found = loads_in(problem, table, raw)
    assert {r.raw for r in found if "a" in dict(r.jars)} == {True}
    assert {r.raw for r in found if "a" not in dict(r.jars)} == {False}
    begun = fold([DayBegun(loads=found, occurred_at=START)])
    assert {of: p.raw for of, p in published_as_begun(begun).items()} == {
        of: any(r.raw for r in found if of in dict(r.jars)) for of in raw
    }


def test_loads_are_called_by_the_clock_and_name_the_hour_of_their_boil(problem, table):
    mixed = replace(table, loads=table.loads[::-1])
    found = loads_in(problem, mixed, published(problem))
    assert [one.name for one in found] == [f"load {n + 1}" for n in range(len(found))]
    by_clock = sorted(table.loads, key=lambda each: each.boil_min)
    assert [one.id for one in found] == [each.id for each in by_clock]
    assert [one.planned_boil for one in found] == [
        clock_time(problem.starts_at, each.boil_min) for each in by_clock
    ]


def test_a_load_has_the_rest_of_its_canner_and_the_rules_of_its_process(problem, table):
    """Without its method the jars of a pressure canner would be lifted at once."""
    rests = day(*problem.batches, canners=(canner(rest_min=45),))
    under = replace(JELLY, method="weighted-gauge", pressure_psi=15.0)
    every = {batch.id: under for batch in problem.batches}
    for one in loads_in(rests, table, every):
        assert one.rest_min == 45
        assert (one.method, one.pressure_psi) == ("weighted-gauge", 15.0)
    for one in loads_in(problem, table, published(problem)):
        assert (one.method, one.pressure_psi) == ("boiling-water", None)
        assert one.rest_min == problem.canners[0].rest_min


def test_each_source_and_band_of_a_load_is_named_once(problem, table):
    first, *_ = sorted(table.loads, key=lambda each: each.boil_min)
    both = replace(first, jars=(("a", 4), ("b", 3), ("c", 1)))
    again = replace(RELISH, source="leaf A; leaf B")  # of a load of two products
    aboard = published(problem, b=RELISH, c=again)
    (one,) = loads_in(problem, replace(table, loads=(both,)), aboard)
    assert one.source == "leaf A; leaf B"
    assert one.band == "1,001-3,000 ft; 0-3,000 ft"
    assert (one.how_known, one.jar) == ("looked up", "half-pint")


def test_a_batch_taken_in_later_has_the_words_of_the_plan_that_took_it(problem, table):
    kept = KeptPlan(of="x", problem=problem, timetable=table)
    morning = load(1, ("a", 8))
    taken = PlanTaken(
        plan=kept,
        loads=(morning, load(2, ("b", 8))),
        sentence="",
        occurred_at=START,
    )
    rest = replace(taken, loads=(morning,))  # and then it was left out again
    begun = DayBegun(loads=(morning,), plan=kept, occurred_at=START)
    found = published_as_begun(fold([begun, taken, rest]))
    assert found["b"].source == "an invented table"
    assert found.keys() == {"a", "b"}


def test_a_name_that_no_begun_load_has_is_free_again(problem, table):
    begun = DayBegun(loads=(load(1, ("a", 8)), load(2, ("b", 8))), occurred_at=START)
    named = named_on((load(5, ("b", 8)), load(6, ("a", 8))), fold([begun]))
    assert [one.name for one in named] == ["load 1", "load 2"]


def test_a_day_teaches_no_wash_of_a_pot_and_nothing_of_the_day_before():
    """Which pot was rinsed only is not known; what stands in brine has no batch."""
    plan = plan_the_day(kitchen_day(), seconds=0.5, deterministic=True)
    assert isinstance(plan, DayPlan)
    assert plan.problem is not None
    taught = steps_of(plan)
    assert {step.batch for step in taught} == {made.id for made in plan.batches}
    assert "fill" in {step.step for step in taught}
    washes = {s.id for b in plan.problem.batches for s in b.steps if "wash_pot" in s.id}
    assert washes
    assert not washes & {step.step for step in taught}
    old = replace(plan.problem.batches[0], id="kraut of Tuesday")
    more = replace(plan.problem, batches=(*plan.problem.batches, old))
    assert steps_of(replace(plan, problem=more)) == taught


@pytest.mark.parametrize(
    ("names", "numbers"),
    [
        (("load 2", "load 1"), [2, 1]),  # in another order than they were named in
        (("load 3", "load 3"), [1, 2]),
        (("load 0", "long canner"), [1, 2]),
        (("load ²", "load 5"), [1, 5]),
    ],
)
def test_a_load_has_the_number_of_its_name_where_that_tells(names, numbers):
    loads = [
        SimpleNamespace(load=SimpleNamespace(id=f"canner/{n}", name=name))
        for n, name in enumerate(names)
    ]
    state = SimpleNamespace(loads=loads)
    assert [load_number(state, run.load.id) for run in loads] == numbers
