"""What is said first of a day: what was promised and is not made, and by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from kitchens import day

from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan, LeftOut
from stillroom.planning.sentence import by_hand_sentence, how_good
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day

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
    """A day on which all fits; what is left out is put beside it by each test."""
    plum = Want(product="plum jelly", jars=8, jar="half-pint")
    sour = Want(product="sour cherry jelly", jars=12, jar="half-pint", by=dt.time(11))
    found = plan_the_day(day(plum, sour), seconds=0.5, explain=False)
    assert isinstance(found, DayPlan)
    assert isinstance(found.answer, Answer)
    return found


def test_what_was_promised_and_is_not_made_comes_before_what_is_late(
    plan: DayPlan,
) -> None:
    assert how_good(replace(plan, left_out=(OUT,))).startswith(
        "Promised and not made: 12 half-pint jars of sour cherry jelly by 11:00. "
        "Nothing else is late. Done at "
    )


def test_what_is_left_out_and_was_not_promised_is_no_broken_promise(
    plan: DayPlan,
) -> None:
    plum = replace(OUT, product="plum jelly")
    for left_out in ((), (plum,)):
        said = how_good(replace(plan, left_out=left_out))
        assert "Promised" not in said
        assert "Nothing late." in said


def test_by_hand_says_of_how_many_jars_it_speaks(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    none = replace(plan, answer=replace(plan.answer, by_hand=None))
    jars = sum(batch.jars for batch in plan.batches)
    assert "it does not fit the day" in by_hand_sentence(none)
    assert f"these {jars} jars do not fit the day" in by_hand_sentence(
        replace(none, left_out=(OUT,))
    )
