"""What was promised by an hour and is in no jar then, as the plan says it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.which_batches.not_made import (
    not_made_sentence,
    promised_and_not_made,
)
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import day, juice, stores

NOON = dt.time(12)


def planned(*wants: Want, bags: int = 1) -> DayPlan:
    apples = Lot(name="apples", what="apples", mass_kg=3.0)
    today = day(*wants, shelf=(juice(bags=bags), apples, *stores()))
    plan = plan_the_day(today, seconds=0.0, explain=False)
    assert isinstance(plan, DayPlan)
    return plan


def jelly(jars: int, product: str = "plum jelly") -> Want:
    return Want(product=product, jars=jars, jar="half-pint", by=NOON)


DRIED = Want(product="dried apples", jars=1, jar="pint", by=NOON)


def test_what_is_not_made_and_what_still_dries_are_said_apart():
    """One bag is one batch of eight jars: four of the twelve are not made."""
    assert not_made_sentence(planned(jelly(12), DRIED)) == (
        "Promised and not made: 4 half-pint jars of plum jelly by 12:00. "
        "Promised and in no jar by then: 1 pint jar of dried apples by 12:00 "
        "(in the dryer then)."
    )
    assert not_made_sentence(planned(jelly(8))) == ""
    (alone,) = promised_and_not_made(planned(jelly(8), DRIED))
    assert (alone.jars, alone.stands) == (1, "in the dryer")


def test_two_promises_alike_are_twice_the_jars():
    (lost,) = promised_and_not_made(planned(jelly(8), jelly(8)))
    assert lost.jars == 8


def test_it_is_named_as_the_book_names_it_and_not_as_it_was_asked_for():
    asked = jelly(12, "plum jelly, powdered pectin")
    plan = planned(asked)
    assert [batch.product for batch in plan.batches] == ["plum jelly"]
    (lost,) = promised_and_not_made(plan)
    assert lost.product == "plum jelly"
    assert promised_and_not_made(replace(plan, promised=())) == ()
