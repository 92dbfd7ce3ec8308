"""Garlic, herbs and vegetables in oil that were made here: their days, and no more."""

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.events import Way
from stillroom.stock.first import use_first
from tests.stock.kitchen import Farm

MOUTHS = (Way.EATEN, Way.TASTED, Way.DRAWN, Way.GIVEN, Way.SOLD)
COLD = {"canned": False, "process_min": None, "due_min": None, "due_source": ""}


def in_oil(what: str = "garlic in oil", place: str = "refrigerator") -> Farm:
    farm = Farm()
    assert farm.made(f"4 half-pints {what}, {place}", food="", **COLD) is None
    return farm


def listed(farm: Farm) -> bool:
    return bool(use_first(farm.stock, farm.at))


@pytest.mark.parametrize(
    "what",
    [
        *("garlic in oil", "basil pesto", "rosemary oil", "peppers in olive oil"),
        *("herbed olive oil", "thyme infused oil", "garlic confit"),
    ],
)
def test_what_is_too_long_in_oil_is_eaten_by_nobody_and_not_on_the_list(what):
    farm = in_oil(what)
    farm.later(71)
    assert listed(farm)
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.later(2)
    assert not listed(farm)
    for way in MOUTHS:
        no = farm.take(farm.last, "1", way)
        assert "3 days out of a freezer" in no.reason
        assert "Missouri" in no.source
    assert farm.take(farm.last, "3", Way.SPOILED, why="too old") is None


def test_days_in_the_freezer_do_not_count_and_those_before_it_do():
    farm = in_oil(place="freezer")
    farm.later(24 * 90)
    assert listed(farm)
    farm.move(farm.last, "refrigerator")
    farm.later(48)
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.move(farm.last, "freezer")
    farm.later(24 * 30)
    assert farm.take(farm.last, "1", Way.EATEN) is None
    farm.move(farm.last, "fridge")
    farm.later(25)
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)


def test_too_long_is_too_long_in_the_freezer_too():
    farm = in_oil()
    farm.later(24 * 30)
    farm.move(farm.last, "freezer")
    assert not listed(farm)
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)


@pytest.mark.parametrize("what", ["sun-dried tomatoes in oil", "garlic", "olive oil"])
def test_what_is_acid_or_dry_or_no_mixture_has_no_days(what):
    farm = in_oil(what)
    farm.later(24 * 30)
    assert farm.take(farm.last, "1", Way.EATEN) is None


def test_garlic_makes_any_of_it_doubtful():
    farm = in_oil("dried tomatoes and garlic in oil")
    farm.later(24 * 30)
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)


def test_what_was_bought_goes_by_its_own_date():
    farm = Farm()
    farm.add("3 half-pint jars pesto, refrigerator, from Orchard Row")
    farm.later(24 * 30)
    assert farm.take(farm.last, "1", Way.EATEN) is None


@pytest.mark.parametrize(
    ("what", "days", "is_over"),
    [
        *(("chicken soup", 5, True), ("chicken soup", 4, False)),
        *(("plum jam", 30, False), ("pickled beets", 30, False)),
    ],
)
def test_low_acid_food_that_is_long_in_a_refrigerator_says_so(what, days, is_over):
    """It stood first on the list of what to eat, with a remark."""
    farm = in_oil(what, "freezer")
    farm.later(24 * 60)
    farm.move(farm.last, "refrigerator")
    farm.later(24 * days)
    assert listed(farm) is not is_over
    no = farm.take(farm.last, "1", Way.EATEN)
    assert isinstance(no, Refusal) is is_over
    if is_over:
        assert "out of a freezer: 3 to 4 days" in no.reason
        assert "from memory" in no.source


def test_oil_of_our_own_that_was_taken_in_has_its_days_too():
    farm = Farm()
    farm.add("1 cup garlic in oil, refrigerator, 20 November 2026")
    assert not listed(farm)
    assert isinstance(farm.take(farm.last, "1/2 cup", Way.EATEN), Refusal)
    farm = Farm()
    farm.add("1 cup garlic in oil, refrigerator")
    assert listed(farm)
    farm.later(24 * 3)
    assert not listed(farm)
