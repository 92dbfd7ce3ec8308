"""Pectin that sets by calcium: no recipe here, a reason why, and room for one."""

from dataclasses import replace
from fractions import Fraction

import pytest

from stillroom.book.calcium_pectin import calcium_rules
from stillroom.book.procedure_table import Ingredient
from stillroom.book.procedures import Procedure, procedures
from stillroom.methods import calcium_pectin
from stillroom.methods.method import Filling
from stillroom.methods.recipes import recipe_named
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import ids_of, sound, station, step_of


def part(name: str, quantity: str, unit: str, role: str, grams: float) -> Ingredient:
    return Ingredient(
        name=name,
        quantity=Fraction(quantity),
        unit=unit,
        mass_kg=grams / 1000,
        mass_known="computed",
        prep="",
        role=role,
        optional=False,
        note="",
    )


def invented() -> Procedure:
    """An invented recipe, to show what a looked-up one would have to hold."""
    some = next(p for p in procedures() if p.id == "jam-strawberry-powdered")
    return replace(
        some,
        id="invented-calcium-jam",
        name="invented calcium jam",
        method=calcium_pectin.NAME,
        ingredients=(
            part("strawberries", "4", "cup", "fruit", 960),
            part("calcium water", "2", "tsp", "liquid", 10),
            part("low-methoxyl pectin", "2", "tsp", "pectin", 6),
            part("sugar", "1", "cup", "sugar", 200),
        ),
        printed_yield_low=4.0,
        printed_yield_high=5.0,
        source="invented for this test",
    )


@pytest.mark.parametrize(
    "name",
    ["strawberry jam with calcium pectin", "low-methoxyl plum jelly"],
)
def test_the_book_refuses_and_says_what_to_do(name):
    answer = recipe_named(name, jar="half-pint")
    assert isinstance(answer, Refusal)
    assert "no tested recipe" in answer.reason
    assert "leaflet in the box" in answer.instead
    assert "01600960" in answer.source


def test_a_regular_recipe_is_not_made_with_it():
    regular = next(p for p in procedures() if p.id == "jam-strawberry-powdered")
    assert isinstance(calcium_pectin.scale(regular, 1), Refusal)
    renamed = replace(regular, method=calcium_pectin.NAME)
    assert isinstance(calcium_pectin.scale(renamed, 1), Refusal)  # no calcium water


def test_a_recipe_without_its_fields_is_refused():
    for left_out in ("calcium water", "low-methoxyl pectin", "strawberries"):
        rest = tuple(i for i in invented().ingredients if i.name != left_out)
        answer = calcium_pectin.scale(replace(invented(), ingredients=rest), 1)
        assert isinstance(answer, Refusal), left_out


def test_a_recipe_with_the_right_fields_would_work():
    made = granted(calcium_pectin.scale(invented(), 1))
    checked = granted(calcium_pectin.checks(made, station()))
    said = " ".join(caution.text for caution in checked.cautions)
    assert "processed longer" in said
    assert "proportions" in said
    bare = Filling(jar="half-pint", jars=4, process=None)
    work = granted(calcium_pectin.steps(made, station(), bare))
    sound(work)
    order = ["shake_calcium", "mix_pectin", "to_boil", "pectin_in", "hard_boil"]
    assert [i for i in ids_of(work) if i in order] == order
    assert step_of(work, "pectin_in").critical


def test_its_yield_is_its_volume():
    """4 cups of fruit, 2 tsp water and 1 cup of sugar that takes up 0.52 cup: 4.6."""
    made = granted(calcium_pectin.scale(invented(), 1))
    found = granted(calcium_pectin.expected_yield(made, "half-pint"))
    assert found.high == pytest.approx(4.56, abs=0.05)
    assert found.low < found.likely < found.high


def test_the_rules_are_published_ones():
    assert set(calcium_rules()) == {
        *("sets by", "own recipe", "longer process", "proportions")
    }
    assert {source.how_known for _, source in calcium_rules().values()} == {"looked_up"}
