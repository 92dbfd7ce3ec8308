"""What is said first of a day: what was promised and is not made, and by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from kitchens import day

from stillroom.cli.contracts import plan_as_json
from stillroom.planning.day import Want
from stillroom.planning.dayplan import DayPlan, LeftOut, Unmet
from stillroom.planning.plan import plan_day
from stillroom.planning.sentence import by_hand_sentence, first_sentence, how_good
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
    want=SOUR,
)


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    """A day on which all fits; what is left out is put beside it by each test."""
    found = plan_the_day(day(PLUM, SOUR), seconds=0.5, explain=False)
    assert isinstance(found, DayPlan)
    assert isinstance(found.answer, Answer)
    # the shelf has no sour cherries
    assert how_good(found).startswith("Promised and not made: 12 half-pint jars of ")
    return replace(found, unmet=())


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
    plum = replace(OUT, product="plum jelly", want=PLUM)
    # of two wants for one product only the one without an hour is left out
    later = replace(OUT, want=replace(SOUR, by=None))
    for left_out in ((), (plum,), (later,)):
        said = how_good(replace(plan, left_out=left_out))
        assert "Promised" not in said
        assert "Nothing late." in said


def test_what_was_promised_and_cannot_be_met_is_named_as_well(plan: DayPlan) -> None:
    short = Unmet(
        product="beans, packed hot",
        jar="pint",
        wanted=7,
        planned=6,
        reason="",
        instead="",
        want=Want(product="beans, packed hot", jars=7, jar="pint", by=dt.time(9, 30)),
    )
    said = how_good(replace(plan, left_out=(OUT,), unmet=(short,)))
    assert said.startswith(
        "Promised and not made: 12 half-pint jars of sour cherry jelly by 11:00 and 1 "
        "pint jar of beans, packed hot by 9:30. Nothing else is late."
    )
    unpromised = replace(short, want=replace(short.want, by=None))
    assert "Promised" not in how_good(replace(plan, unmet=(unpromised,)))


@pytest.mark.parametrize(("made", "said"), [(0, "12 half-pint"), (8, "4 half-pint")])
def test_no_more_is_lacking_than_was_promised(
    plan: DayPlan, made: int, said: str
) -> None:
    """Two whole batches hold 16 jars; of 12 promised 4 lack where one is made."""
    two = replace(OUT, jars=16 - made, made=made)
    assert f"not made: {said} jars" in how_good(replace(plan, left_out=(two,)))
    assert "Promised" not in how_good(replace(plan, left_out=(replace(OUT, made=12),)))


def test_a_program_is_told_the_same(plan: DayPlan) -> None:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    out = plan_as_json(replace(plan, left_out=(OUT,)), plan.problem, plan.answer)
    (goal,) = [g for g in out["goals"] if g["goal"] == "nothing late"]
    assert goal["met"] is False
    assert goal["sentence"].startswith("Promised and not made: 12 half-pint jars")
    assert out["promised_and_not_made"] == [
        {
            "product": "sour cherry jelly",
            "jar": "half-pint",
            "jars": 12,
            "by": "11:00",
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
    none = plan_day(replace(kitchen, batches=(alone,)), seconds=0.2)
    assert isinstance(none, NoPlan)
    assert any(said.startswith("1 jar is to cool for ") for said in none.clashes)
