"""What is left out is not counted as made among what cannot be met."""

from dataclasses import replace

from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import day, stores


def test_jars_that_are_left_out_for_want_of_a_mill_are_none_of_those_made():
    today = day(
        Want(product="plum jelly", jars=8, jar="half-pint"),
        Want(product="apple butter", jars=12, jar="pint"),
        shelf=(
            Lot(name="apples", what="apples", mass_kg=8.0),
            Lot(name="plum juice", what="plum juice", volume_m3=0.0012),
            *stores(),
        ),
    )
    today = replace(today, kitchen=replace(today.kitchen, mills=0))
    plan = plan_the_day(today, seconds=0.5)
    assert isinstance(plan, DayPlan)
    assert {batch.product for batch in plan.batches} == {"plum jelly"}
    (unmet,) = plan.unmet
    assert (unmet.product, unmet.planned, unmet.wanted) == ("apple butter", 0, 12)
    assert plan.too_much is not None
    (mill,) = (said for said in plan.too_much.would_help if "mill" in said)
    assert "[kitchen]" not in mill
    assert "food mills" in mill
