import pytest

from stillroom.book.densities import cup_weight, density_kg_m3
from stillroom.book.heat import efficiency_of, heat_efficiencies
from stillroom.book.jelly_point import jelly_points
from stillroom.book.produce import (
    fruit_named,
    fruits,
    juice_yield,
    soluble_solids,
)
from stillroom.refusal import Refusal
from stillroom.science.air import pressure_pa
from stillroom.science.gel import jelly_point_k
from stillroom.science.water import boiling_point_k


@pytest.mark.parametrize("feet", sorted(jelly_points()))
def test_the_printed_jellying_point_agrees_with_the_science(feet):
    # USDA Complete Guide, Guide 7: whole °F. The 4,000 ft row is 0.66 °F low.
    printed = jelly_points()[feet]
    here = jelly_point_k(boiling_point_k(pressure_pa(feet * 0.3048)))
    allowed_f = 0.7 if feet == 4000 else 0.5
    assert abs(here - printed.jellying_point_k) * 1.8 <= allowed_f


def test_the_table_of_jellying_points():
    assert len(jelly_points()) == 9
    assert sum(p.jellying_point_f for p in jelly_points().values()) == 1912
    assert {p.source.how_known for p in jelly_points().values()} == {"looked_up"}


# 21 CFR 150.110(b) and 150.140(b): fruit factors.
@pytest.mark.parametrize(
    ("fruit", "factor"),
    [
        ("plum", 7.0),
        ("sour cherry", 7.0),
        ("grape", 7.0),
        ("blackberry", 10.0),
        ("apple", 7.5),
        ("crabapple", 6.5),
        ("pear", 6.5),
        ("peach", 8.5),
        ("strawberry", 12.5),
        ("raspberry", 9.5),
        ("gooseberry", 12.0),
    ],
)
def test_soluble_solids_follow_the_fruit_factor(fruit, factor):
    solids = soluble_solids(f"{fruit} juice")
    assert not isinstance(solids, Refusal)
    assert solids.likely == pytest.approx(1 / factor, abs=0.0006)
    assert solids.low < solids.likely < solids.high
    assert "21 CFR 150" in solids.source.text


def test_every_acid_fruit_has_soluble_solids_or_says_why_not():
    for fruit in fruits().values():
        answer = soluble_solids(fruit.name)
        if isinstance(answer, Refusal):
            assert "refractometer" in answer.instead
        else:
            assert 0.02 < answer.low <= answer.likely <= answer.high < 0.3
    assert isinstance(soluble_solids("chokecherry"), Refusal)


def test_the_low_acid_fruits_are_known_as_such():
    # Review page listing the USDA classes; two California extension lists.
    named = (
        "Asian pear, banana, melon, coconut, elderberry, fig, mango, papaya, "
        "white peach, persimmon, pineapple, mulberry"
    )
    for name in named.split(", "):
        fruit = fruit_named(name)
        assert not isinstance(fruit, Refusal)
        assert fruit.acid_class == "needs acid"
        assert fruit.note
    acid = [f for f in fruits().values() if f.acid_class == "acid"]
    assert len(acid) == 27
    assert all(f.ph is None or f.ph[0] <= 4.1 for f in acid)


def test_an_unknown_fruit_is_refused_with_the_nearest():
    refusal = fruit_named("plumb")
    assert isinstance(refusal, Refusal)
    assert "nearest: plum and" in refusal.reason
    assert isinstance(soluble_solids("plumb"), Refusal)
    assert isinstance(juice_yield("plumb"), Refusal)


def test_juice_yields_are_those_printed():
    # Univ. of Wisconsin Extension B2909: 4.5 lb of plums give 5 cups.
    plum = juice_yield("plum")
    assert not isinstance(plum, Refusal)
    litres = plum.juice_m3_per_kg * 1000
    assert litres * 4.5 * 0.45359237 == pytest.approx(5 * 0.2365882, rel=1e-3)
    none = juice_yield("quince")
    assert isinstance(none, Refusal)
    assert "press a weighed pound" in none.instead


# US Department of Energy, the lower of two quotations.
@pytest.mark.parametrize(
    ("said", "share"),
    [("gas", 0.40), ("coil", 0.74), ("Electric coil", 0.74), ("induction", 0.84)],
)
def test_shares_of_heat_that_reach_the_pot(said, share):
    answer = efficiency_of(said)
    assert not isinstance(answer, Refusal)
    assert answer.share == share
    assert "Department of Energy" in answer.source.text


def test_an_unknown_fire_is_refused():
    assert len(heat_efficiencies()) == 3
    refusal = efficiency_of("campfire")
    assert isinstance(refusal, Refusal)
    assert "gas, coil, induction" in refusal.instead


def test_a_cup_weighs_what_is_printed():
    # USDA household measures: sugar 200 g, apple juice 248 g, lemon juice 244 g.
    for name, kilograms in [
        ("sugar", 0.2),
        ("apple juice", 0.248),
        ("bottled lemon juice", 0.244),
        ("plum pulp", 0.244),
        ("quince juice", 0.248),
    ]:
        weight = cup_weight(name)
        assert not isinstance(weight, Refusal)
        assert weight.kg_per_cup == kilograms
        assert density_kg_m3(name) == pytest.approx(kilograms / 2.365882365e-4)
    assert density_kg_m3("gravel") is None
    refusal = cup_weight("gravel")
    assert isinstance(refusal, Refusal)
    assert "weigh a cup" in refusal.instead
