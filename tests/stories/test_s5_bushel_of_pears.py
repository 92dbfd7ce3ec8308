"""
A bushel of pears: 14 quarts, one pear butter, and what is over into pints.

The kitchen, its people and its shelf are invented; 17 1/2 lb for 7 quarts, 7 lb for a
pear butter and the process times are printed.
"""

import pytest

from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import granted
from tests.kitchens import day, kitchen, stores

LB = 0.45359237
ELEVATION_M = 1017 * 0.3048


def planned(*wants: Want, pears_lb: float, quarts: int = 14, pints: int = 12):
    shelf = (
        Lot(name="bushel", what="pears", mass_kg=pears_lb * LB),
        Lot(name="quarts", what="quart jars", count=quarts),
        *(lot for lot in stores() if lot.what != "pint jars"),
        Lot(name="pints", what="pint jars", count=pints),
    )
    whole = day(*wants, shelf=shelf, kitchen=kitchen(elevation_m=ELEVATION_M))
    plan = granted(plan_the_day(whole, seconds=5.0))
    assert isinstance(plan, DayPlan)
    return plan


def pears_kg(*batches):
    return sum(d.mass_kg for b in batches for d in b.draws if d.lot == "bushel")


@pytest.fixture(scope="module")
def plan():
    return planned(
        Want(product="pears", jars=14, jar="quart"),
        Want(product="pear butter", jars=4, jar="pint"),
        pears_lb=50,
    )


def test_thirty_five_pounds_fill_fourteen_quarts_in_two_loads_of_thirty_minutes(plan):
    pears = [batch for batch in plan.batches if batch.product == "pears"]
    assert [(b.jars, b.jar, b.process.minutes) for b in pears] == [
        (7, "quart", 30),
        (7, "quart", 30),
    ]
    assert all(b.process.pack == "hot" for b in pears)
    assert pears_kg(*pears) == pytest.approx(35 * LB)
    assert not plan.unmet


def test_seven_pounds_make_the_butter_and_eight_are_over(plan):
    (butter,) = [batch for batch in plan.batches if batch.product == "pear butter"]
    assert pears_kg(butter) == pytest.approx(7 * LB, rel=0.01)
    (left,) = [rest for rest in plan.leftovers if rest.lot == "bushel"]
    assert left.text.startswith("8 lb")


def test_the_eight_pounds_over_are_six_pints_at_twenty_five_minutes():
    """Or three quarts; the quart jars are all full, so by jars on hand pints."""
    over = planned(Want(product="pears", jars=6, jar="pint"), pears_lb=8)
    (batch,) = over.batches
    assert (batch.jars, batch.jar, batch.process.minutes) == (6, "pint", 25)
    quarts = planned(Want(product="pears", jars=4, jar="quart"), pears_lb=8)
    assert [b.jars for b in quarts.batches] == [3]
    assert quarts.unmet[0].planned == 3


def test_asian_pears_get_their_acid(plan):
    assert not any(
        step.id == "measure_acid" for b in plan.problem.batches for step in b.steps
    )
    shelf = (
        Lot(name="tree", what="Asian pears", mass_kg=20 * LB),
        Lot(name="quarts", what="quart jars", count=7),
        *stores(),
    )
    other = granted(
        plan_the_day(
            day(
                Want(product="Asian pears", jars=7, jar="quart"),
                shelf=shelf,
                kitchen=kitchen(elevation_m=ELEVATION_M),
            ),
            seconds=5.0,
        )
    )
    (batch,) = other.problem.batches
    (acid,) = [step for step in batch.steps if step.id == "measure_acid"]
    assert "2 tbsp bottled lemon juice into each of 7 jars" in acid.verb
    assert any(bought.name == "bottled lemon juice" for bought in other.shopping)
