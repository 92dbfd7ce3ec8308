"""What is said first of a day: what was promised and is not made, and by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from kitchens import day
from planning.told_why import planned_or_told_why

from stillroom.cli.contracts import plan_as_json
from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan, LeftOut
from stillroom.planning.sentence import (
    by_hand_sentence,
    first_sentence,
    how_good,
    made_and_beside,
)
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day

SOUR = Want(product="sour cherry jelly", jars=12, jar="half-pint", by=dt.time(11))
PLUM = Want(product="plum jelly", jars=8, jar="half-pint")
OUT = LeftOut(
    batches=("sour cherry jelly 1",),
    product="sour cherry jelly",
    jar="half-pint",
    jars=12,
    why="",
    fruit="",
    spoils=False,
)


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    """A day whose shelf has no sour cherries; batches are put beside by each test."""
    found = plan_the_day(day(PLUM, SOUR), seconds=0.5, explain=False)
    assert isinstance(found, DayPlan)
    assert isinstance(found.answer, Answer)
    return found


def making(plan: DayPlan, *jars: int) -> DayPlan:
    """The same with so many jars of sour cherry jelly in batches of their own."""
    (plum,) = plan.batches
    sour = [
        replace(plum, id=f"sour cherry jelly {n}", jars=many, serves=(SOUR,))
        for n, many in enumerate(jars, start=1)
    ]
    return replace(plan, batches=(plum, *sour))


def test_what_was_promised_and_is_not_made_comes_before_what_is_late(
    plan: DayPlan,
) -> None:
    assert how_good(plan).startswith(
        "Promised and not made: 12 half-pint jars of sour cherry jelly by 11:00. "
        "Nothing else is late. Done at "
    )


def test_what_is_left_out_and_was_not_promised_is_no_broken_promise() -> None:
    unpromised = day(PLUM, replace(SOUR, by=None))
    found = plan_the_day(unpromised, seconds=0.5, explain=False)
    assert isinstance(found, DayPlan)
    said = how_good(found)
    assert "Promised" not in said
    assert "Nothing late." in said


def test_all_that_is_promised_and_not_made_is_named_the_earliest_first() -> None:
    beans = Want(product="beans, packed hot", jars=1, jar="pint", by=dt.time(9, 30))
    found = plan_the_day(day(PLUM, SOUR, beans), seconds=0.5, explain=False)
    assert isinstance(found, DayPlan)
    assert how_good(found).startswith(
        "Promised and not made: 1 pint jar of beans, packed hot by 9:30 and 12 "
        "half-pint jars of sour cherry jelly by 11:00. Nothing else is late."
    )


@pytest.mark.parametrize(
    ("made", "said"),
    [
        ((), "12 half-pint jars of"),
        ((8,), "4 half-pint jars of"),
        ((8, 8), ""),
        ((12,), ""),
    ],
)
def test_no_more_is_lacking_than_was_promised(
    plan: DayPlan, made: tuple[int, ...], said: str
) -> None:
    """Two whole batches hold 16 jars; of 12 promised 4 lack where one is made."""
    told = how_good(making(plan, *made))
    assert (f"not made: {said}" if said else "Nothing late.") in told
    assert ("Promised" in told) == bool(said)


def test_two_promises_that_are_alike_are_counted_as_two(plan: DayPlan) -> None:
    twice = replace(plan, promised=plan.promised * 2)
    assert "not made: 16 half-pint" in how_good(making(twice, 8))


def test_a_day_on_which_nothing_is_made_names_its_promises() -> None:
    found = plan_the_day(day(SOUR), seconds=0.5, explain=False)
    assert isinstance(found, DayPlan)
    assert found.batches == ()
    assert how_good(found) == (
        "Promised and not made: 12 half-pint jars of sour cherry jelly by 11:00."
    )


def test_a_program_is_told_the_same(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    out = plan_as_json(plan, plan.problem, plan.answer)
    (goal,) = [g for g in out["goals"] if g["goal"] == "nothing late"]
    assert goal["met"] is False
    assert goal["sentence"].startswith("Promised and not made: 12 half-pint jars")
    assert out["promised_and_not_made"] == [
        {
            "product": "sour cherry jelly",
            "jar": "half-pint",
            "jars": 12,
            "by": "11:00",
            "stands": None,
        }
    ]


def test_by_hand_says_of_how_many_jars_it_speaks(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    none = replace(plan, answer=replace(plan.answer, by_hand=None))
    jars = sum(batch.jars for batch in plan.batches)
    assert "it does not fit the day" in by_hand_sentence(none)
    assert f"these {jars} jars do not fit the day" in by_hand_sentence(
        replace(none, left_out=(OUT,))
    )


def test_a_full_stop_in_a_name_ends_no_sentence(plan: DayPlan) -> None:
    none = replace(plan, batches=(), named_out=("St. John jelly 1",))
    made, beside = made_and_beside(none)
    assert made.endswith(": St. John jelly 1.")
    assert beside.startswith("Take a name out")
    assert first_sentence(none) == f"{made} {beside}"


def test_one_jar_is_one_jar(plan: DayPlan) -> None:
    one = replace(plan, batches=(replace(plan.batches[0], jars=1),))
    assert first_sentence(one).startswith("1 jar in 1 batch, done by ")
    out = replace(OUT, jars=1)
    assert "1 jar in 1 batch fits this day" in first_sentence(
        replace(one, left_out=(out,))
    )
    assert "(1 jar) is left out" in first_sentence(replace(one, left_out=(out,)))
    assert plan.problem is not None
    kitchen = replace(plan.problem, counter=replace(plan.problem.counter, places=0))
    alone = replace(kitchen.batches[0], jars=1)
    none = planned_or_told_why(replace(kitchen, batches=(alone,)), seconds=0.2)
    assert isinstance(none, NoPlan)
    assert any(said.startswith("1 jar is to cool for ") for said in none.clashes)
