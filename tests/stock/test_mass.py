"""Inputs are outputs and losses, to the milligram, through the real decide and fold."""

from fractions import Fraction
from functools import cache

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stillroom.refusal import Refusal
from stillroom.stock.events import AnyEvent
from stillroom.stock.fold import fold
from stillroom.stock.mass import BOILED_AWAY, BROKE, KEPT_BACK, OVER, balance_of
from stillroom.stock.tracing import trace
from tests.stock.kitchen import Farm

POUND_MG = Fraction(45_359_237, 100)
CUP_MG = {"plum juice": 248_000, "sugar": 200_000}
"""A cup of each by the book's table, in milligrams."""
BOX_MG = 49_600


def stocked() -> Farm:
    farm = Farm()
    farm.stock = fold(_events())
    return farm


@cache
def _events() -> tuple[AnyEvent, ...]:
    farm = Farm()
    for sentence in (
        "90 lb sugar, pantry",
        "61 cups plum juice, freezer 1",
        "40 boxes regular powdered pectin, pantry",
        "200 lids, pantry",
        "2 lb moon dust, pantry",
        "9 cups nutmeg, pantry",
    ):
        farm.add(sentence)
    return tuple(farm.stock.events)


def jelly(farm: Farm, jars: int, *inputs: tuple[str, str], **batch: object):
    assert farm.made(f"{jars} half-pints plum jelly, pantry", *inputs, **batch) is None
    return balance_of(farm.stock, farm.last)


BATCH = (
    ("sugar", "3 lb"),
    ("plum juice", "5 cups"),
    ("regular powdered pectin", "1 box"),
)


@settings(deadline=None)
@given(
    jars=st.integers(1, 30),
    sugar=st.integers(1, 20),
    juice=st.integers(1, 50),
    boxes=st.integers(1, 12),
    broken=st.integers(0, 5),
    spice=st.booleans(),
    batches=st.integers(1, 3),
)
def test_every_batch_balances_and_the_stock_with_it(
    jars, sugar, juice, boxes, broken, spice, batches
):
    assume(juice * batches <= 60)
    assume(boxes * batches <= 40)
    farm = stocked()
    before = {code: farm.stock.balance(code) for code in farm.stock.lots}
    inputs = [
        ("sugar", f"{sugar} lb"),
        ("plum juice", f"{juice} cups"),
        ("regular powdered pectin", f"{boxes} boxes"),
        ("lids", f"{jars}"),
        *([("nutmeg", "1 cup")] if spice else []),
    ]
    wanted = [
        round(sugar * POUND_MG),
        juice * CUP_MG["plum juice"],
        boxes * BOX_MG,
    ]
    drawn = dict.fromkeys(before, 0)
    for _ in range(batches):
        found = jelly(farm, jars, *inputs, broken=broken)
        assert not isinstance(found, Refusal)
        # what went in, reckoned once more from the measures themselves
        masses = [each.mass_mg for each in found.inputs]
        for mass, want in zip(masses, wanted, strict=True):
            assert abs(mass - want) <= 4  # a cup is no whole number of microlitres
        assert found.in_mg == found.out.mass_mg + sum(x.mass_mg for x in found.losses)
        losses = {loss.name: loss.mass_mg for loss in found.losses}
        assert set(losses) <= {BROKE, KEPT_BACK, BOILED_AWAY, OVER}
        assert all(mass > 0 for name, mass in losses.items() if name != OVER)
        assert losses.get(OVER, -1) < 0
        one = found.out.mass_mg // jars
        assert found.out.mass_mg == one * jars
        assert losses.get(BROKE, 0) == one * broken
        assert bool(found.not_weighed) == spice
        made = farm.stock.made(farm.last)
        for part in made.inputs:
            drawn[part.lot] += part.number
    # what the batches took is what the shelf lost: nothing comes of nothing
    for code, number in before.items():
        assert farm.stock.balance(code) == number - drawn[code]


def test_a_usual_batch_is_said_in_one_sentence():
    found = jelly(stocked(), 8, *BATCH)
    assert found.sentence == (
        "2.7 kg in, 2.5 kg out; 0.1 kg kept in pot and foam, 0.1 kg boiled away"
    )
    assert found.remark == ""


def test_more_out_than_in_is_said():
    found = jelly(stocked(), 11, *BATCH)
    assert "more came out than went in" in found.remark
    assert "not booked, or a jar counted twice?" in found.remark
    (over,) = found.losses
    assert over.name == OVER
    assert over.mass_mg < 0


def test_a_part_jar_more_is_not_worth_a_word():
    found = jelly(stocked(), 9, *BATCH)
    assert found.in_mg < found.out.mass_mg
    assert found.remark == ""


def test_solids_that_are_in_no_jar_are_missed():
    found = jelly(stocked(), 5, *BATCH)
    assert "of the solids of sugar and fruit are in no jar" in found.remark
    assert "was a jar not counted" in found.remark


def test_water_alone_may_boil_away_as_it_likes():
    """Five more cups of juice boiled down to as many jars: no sugar is missing."""
    inputs = ("sugar", "3 lb"), ("plum juice", "9 cups")
    found = jelly(stocked(), 8, *inputs)
    assert found.remark == ""
    assert found.losses[-1].name == BOILED_AWAY
    assert found.losses[-1].mass_mg > 900_000


def test_a_jar_that_broke_is_a_loss_of_its_own():
    found = jelly(stocked(), 7, *BATCH, broken=1)
    assert found.losses[0].name == BROKE
    assert found.remark == ""


def test_what_nobody_can_weigh_is_named_and_no_gain_is_made_of_it():
    found = jelly(stocked(), 11, *BATCH, unbooked="2 lb of sugar")
    assert found.not_weighed == ("2 lb of sugar",)
    assert "not weighed: 2 lb of sugar" in found.sentence
    assert found.remark == ""


@pytest.mark.parametrize(
    ("sentence", "inputs", "why"),
    [
        ("8 half-pints plum jelly, pantry", (), "nothing that went into it was booked"),
        (
            "8 half-pints moon soup, pantry",
            (("sugar", "3 lb"),),
            "what 1 half-pint of it weighs is not in the book",
        ),
    ],
)
def test_without_weights_there_is_none_and_it_is_said_why(sentence, inputs, why):
    farm = stocked()
    assert farm.made(sentence, *inputs, food="") is None
    found = balance_of(farm.stock, farm.last)
    assert isinstance(found, Refusal)
    assert why in found.reason


def test_what_came_in_has_none():
    farm = stocked()
    code = next(iter(farm.stock.lots))
    assert isinstance(balance_of(farm.stock, code), Refusal)
    assert trace(farm.stock, code).lot.code == code
