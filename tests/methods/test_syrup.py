"""Berry syrup: juice by its printed share, a minute's simmer, its own process."""

import pytest

from stillroom.methods import syrup
from stillroom.refusal import Refusal, granted
from tests.one_batch_of import filling_of, recipe_of, station, step_of, work_of

CUP = 2.365882365e-4


def test_juice_is_as_printed():
    """USDA Guide 2: 6 1/2 cups of fruit, 4 1/2 to 5 cups of juice."""
    low, high = syrup.juice_m3(recipe_of("berry syrup"))
    assert low == pytest.approx(4.5 * CUP)
    assert high == pytest.approx(5.0 * CUP)


def test_yield_by_hand():
    """4 3/4 cups of juice, and 1.35 kg of sugar that takes up 0.84 L (3.5 cups)."""
    made = granted(syrup.expected_yield(recipe_of("berry syrup"), "half-pint"))
    assert made.likely == pytest.approx(4.75 + 3.54, abs=0.1)
    assert made.printed == "9"
    assert "more than that" in made.basis


def test_it_has_its_own_published_process():
    """Berry syrup, half-pints, 1,001 to 6,000 ft: 15 min."""
    process = filling_of(recipe_of("berry syrup"), "half-pint", 8).process
    assert process is not None
    assert process.minutes == 15


def test_the_simmer_is_the_printed_minute():
    work = work_of(recipe_of("berry syrup"), "half-pint", 8)
    simmer = step_of(work, "simmer")
    assert "simmer 1 min" in simmer.verb
    assert "1/2 in" in step_of(work, "fill").end_sign
    links = {(link.before, link.after): link for link in work.links}
    assert links["simmer", "skim"].at_most_min == 0


def test_nothing_is_asked_to_set():
    work = work_of(recipe_of("berry syrup"), "half-pint", 8)
    assert work.later == ()
    assert "thin" in granted(syrup.checks(recipe_of("berry syrup"), station())).outlook


def test_pots_that_will_not_do_are_refused():
    made = recipe_of("berry syrup")
    assert isinstance(syrup.checks(made, station(5.0)), Refusal)
    assert isinstance(syrup.checks(made, station(material="iron")), Refusal)


def test_volume_is_linear():
    one, two = recipe_of("berry syrup"), recipe_of("berry syrup", 2)
    assert syrup.syrup_m3(two)[0] == pytest.approx(2 * syrup.syrup_m3(one)[0])
