"""A sieve does where there is no food mill: by hand, and more slowly."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.kitchens import day, kitchen, stores

PEARS = Lot(name="pears", what="pears", mass_kg=9.0)
BUTTER = Want(product="pear butter", jars=4, jar="pint")


def today(want: Want = BUTTER, **tools: int) -> Day:
    there = kitchen(**{"mills": 0, **tools})
    return day(want, kitchen=there, shelf=(*stores(), PEARS))


def planned(**tools: int) -> DayPlan:
    file = write_day(today(**tools))  # as it comes back out of its file
    return granted(plan_the_day(read_day(file), seconds=0))


def told(**tools: int) -> dict[str, tuple[str, int]]:
    plan = planned(**tools)
    assert plan.problem is not None
    assert isinstance(plan.answer, Answer)
    (batch,) = plan.problem.batches
    return {s.id: (s.verb, s.duration_min) for s in batch.steps if s.on_mill}


def test_a_sieve_takes_twice_as_long_for_each_kilogram():
    """A plan refused a butter whose own recipe says: put it through a sieve."""
    by_mill, by_sieve = told(mills=1), told(sieves=1)
    assert by_mill["mill"][0] == "Put it through the mill"
    assert by_sieve["mill"][0] == "Put it through the sieve"
    assert by_sieve["wash_mill"][0] == "Wash the sieve"
    per_kilo = by_mill["mill"][1] - 2
    assert by_sieve["mill"][1] - 2 == pytest.approx(2 * per_kilo, abs=1)


def test_a_mill_is_used_where_there_are_both():
    assert told(mills=1, sieves=2) == told(mills=1)


def test_without_either_both_are_named_with_where_to_write_them():
    none = planned().answer
    assert isinstance(none, NoPlan)
    assert "needs a food mill or a sieve; the kitchen has none" in none.clashes[0]
    assert any("count it among the kitchen's sieves" in said for said in none.helps)


def left_over(**tools: int) -> str:
    jelly = Want(product="plum jelly", jars=1, jar="half-pint")
    much = replace(today(jelly, **tools), shelf=(*stores(), PEARS))
    rest = granted(plan_the_day(much, seconds=0)).leftovers
    return " | ".join(c for one in rest for c in one.choices)


NONE_HERE = ", but it goes through a food mill or a sieve, and there is none here"


def test_what_no_mill_is_there_for_is_not_advised_without_a_word():
    said = left_over()
    assert f"pear butter (Pear butter, handbook proportions): {ENOUGH}" in said
    for tool in ("mills", "sieves"):
        assert NONE_HERE not in left_over(**{tool: 1})


ENOUGH = f"enough for a whole tested batch{NONE_HERE}"
