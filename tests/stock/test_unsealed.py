"""A jar whose seal failed is sold from no place that it is carried to."""

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.events import Way
from tests.stock.kitchen import Farm


@pytest.fixture
def farm() -> Farm:
    """Six of eight jars sealed; the two others were carried into the cold."""
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(14)
    assert farm.check(farm.last, 6, failed=2) is None
    assert farm.move(farm.last, "refrigerator", "2", place="set aside") is None
    return farm


def test_it_is_eaten_from_the_cold_and_goes_to_no_one_else(farm: Farm):
    for way in (Way.SOLD, Way.GIVEN):
        no = farm.take(farm.last, "1", way, place="refrigerator")
        assert isinstance(no, Refusal)
        assert "their seal failed, or may have" in no.reason
    assert farm.take(farm.last, "1", Way.EATEN, place="refrigerator") is None
    assert farm.take(farm.last, "1", Way.SOLD, place="pantry") is None


def test_it_comes_to_a_shelf_by_no_way_round(farm: Farm):
    assert farm.move(farm.last, "freezer 2", place="refrigerator") is None
    for to in ("pantry", "stand"):
        assert "set aside" in farm.move(farm.last, to, "1", place="freezer 2").reason
    assert farm.move(farm.last, "stand", "2", place="pantry") is None


def test_a_move_that_was_taken_back_bars_nothing(farm: Farm):
    assert farm.mend(farm.stock.sequence) is None
    assert farm.move(farm.last, "refrigerator", "2", place="pantry") is None
    assert farm.take(farm.last, "1", Way.SOLD, place="refrigerator") is None


def test_what_is_sold_by_name_is_drawn_from_those_that_sealed(farm: Farm):
    assert farm.take("plum jelly", "3", Way.SOLD) is None
    assert farm.stock.places(farm.last) == {"pantry": 3, "refrigerator": 2}
