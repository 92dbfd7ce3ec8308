"""Packs of food that was frozen: softer than what the process is printed for."""

import pytest

from stillroom.methods.kitchen import Canner, CannerKind
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from tests.kitchens import day, kitchen, stores

SOFTER = "a jar that is too full may be underprocessed"
ALL_JUICE = "let all of its juice go in"
GAUGE = Canner(
    name="gauge canner",
    kind=CannerKind.DIAL_GAUGE,
    stands_on=("front left",),
    places={"pint": 9, "quart": 7},
)


def cautions(product: str, what: str, *, frozen: bool = True) -> list[str]:
    lot = Lot(name="a bag", what=what, mass_kg=15.0, frozen=frozen)
    here = kitchen(canners=(*kitchen().canners, GAUGE))
    want = Want(product=product, jars=4, jar="pint")
    today = day(want, shelf=(lot, *stores()), kitchen=here)
    plan = plan_the_day(today, seconds=0.2, explain=False)
    assert isinstance(plan, DayPlan)
    (batch,) = plan.batches
    said = [c.text for c in batch.all_cautions if SOFTER in c.text]
    said += [c.text for c in batch.all_cautions if ALL_JUICE in c.text]
    assert set(said) <= {c.text for c in plan.cautions}
    return said


@pytest.mark.parametrize(
    ("product", "what"), [("green beans", "green beans"), ("peaches", "peaches")]
)
def test_pieces_that_were_frozen_are_softer_than_what_the_process_is_for(product, what):
    (said,) = cautions(product, what)
    assert said.startswith("a bag: frozen and thawed it is softer")
    assert "make something well cooked of this" in said
    assert cautions(product, what, frozen=False) == []


def test_where_acid_goes_into_the_jar_it_may_be_too_little():
    (said,) = cautions("tomatoes packed in water", "tomatoes")
    assert "too little of its acid" in said
    (said,) = cautions("peaches", "peaches")
    assert "acid" not in said


def test_crushed_tomatoes_are_what_frozen_ones_are_best_for():
    (said,) = cautions("crushed tomatoes", "tomatoes")
    assert said.startswith("a bag: thaw it all the way")
    assert ALL_JUICE in said
    assert "in the freezer for a few weeks at most" in said


@pytest.mark.parametrize(
    ("product", "what"),
    [("applesauce", "apples"), ("tomato juice", "tomatoes"), ("pear butter", "pears")],
)
def test_of_what_is_cooked_to_sauce_or_juice_nothing_is_said(product, what):
    assert cautions(product, what) == []
