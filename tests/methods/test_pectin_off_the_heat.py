"""Some boil first, by the clock, and take their pectin off the heat (B2909)."""

import pytest

from stillroom.book.procedures import procedures
from stillroom.methods import liquid_pectin
from stillroom.methods.method import Filling
from stillroom.refusal import granted
from tests.one_batch_of import station

PEPPER = next(p for p in procedures() if p.id == "jelly-pepper-hot-liquid")
MINT = next(p for p in procedures() if p.id == "jelly-mint-liquid")


def steps_of(procedure):
    recipe = granted(liquid_pectin.scale(procedure, 1))
    filling = Filling(jar="half-pint", jars=5, process=None)
    return granted(liquid_pectin.steps(recipe, station(), filling)).steps


def test_nothing_boils_after_the_pectin():
    order = [step.id for step in steps_of(PEPPER)]
    at = order.index("to_boil")
    assert order[at : at + 4] == ["to_boil", "slow_boil", "pectin_in", "skim"]
    by_id = {step.id: step for step in steps_of(PEPPER)}
    assert by_id["slow_boil"].duration_min == 10
    assert not by_id["pectin_in"].burner_w


@pytest.mark.parametrize("name", ["strawberry", "fig", "pear-apple"])
def test_a_jam_boils_its_minute_before_the_pectin(name):
    jam = next(p for p in procedures() if p.id == f"jam-{name}-liquid")
    order = [step.id for step in steps_of(jam)]
    at = order.index("to_boil")
    assert order[at : at + 4] == ["to_boil", "hard_boil", "pectin_in", "skim"]


def test_a_concentrate_goes_in_last():
    grape = next(p for p in procedures() if p.id == "jelly-grape-concentrate-liquid")
    by_id = {step.id: step for step in steps_of(grape)}
    assert "concentrate" not in by_id["to_boil"].note
    assert "grape juice concentrate" in by_id["pectin_in"].note


def test_other_liquid_pectin_boils_again():
    order = [step.id for step in steps_of(MINT)]
    assert order.index("hard_boil") == order.index("pectin_in") + 1


def test_leaves_that_gave_their_taste_are_strained_out():
    by_id = {step.id: step for step in steps_of(MINT)}
    assert by_id["skim"].verb == "Off the fire, skim, and strain out the mint leaves"
    peppers = {step.id: step for step in steps_of(PEPPER)}
    assert "strain" not in peppers["skim"].verb
