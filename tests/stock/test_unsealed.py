"""A jar whose seal failed is sold from no place that it is carried to."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.commands import Move
from stillroom.stock.events import Way
from stillroom.stock.first import use_first
from tests.stock.kitchen import MORNING, Farm


@pytest.fixture
def farm() -> Farm:
    """Six of eight jars sealed; the two others were carried into the cold."""
    farm = Farm()
    farm.made("8 half-pints plum jelly, pantry")
    farm.later(24)
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


MOUTHS = (Way.EATEN, Way.TASTED, Way.DRAWN)


def beans(hours: float) -> Farm:
    """Eight pints of beans, one of which was found unsealed so many hours later."""
    farm = Farm()
    said = {"food": "vegetable", "due_min": 10, "out_at": "09:00"}
    farm.made("8 pints green beans, pantry", **said)
    farm.later(hours)
    assert farm.check(farm.last, 7, failed=1) is None
    return farm


def test_what_is_found_unsealed_later_than_a_day_is_eaten_from_nowhere():
    farm = beans(30)
    for way in MOUTHS:
        no = farm.take(farm.last, "1", way, place="set aside")
        assert "not in the cold within 24 h" in no.reason
        assert "discard them untasted" in no.instead
    assert farm.move(farm.last, "refrigerator", "1", place="set aside") is None
    assert farm.move(farm.last, "freezer", "1", place="refrigerator") is None
    for way in MOUTHS:
        assert isinstance(farm.take(farm.last, "1", way, place="freezer"), Refusal)
    assert {line.place for line in use_first(farm.stock, farm.at)} == {"pantry"}
    assert farm.take(farm.last, "1", Way.EATEN, place="pantry") is None
    assert farm.take(farm.last, "1", Way.SPOILED, place="freezer", why="x") is None


def test_what_did_not_seal_and_is_cold_says_on_the_list_how_long():
    farm = beans(14)
    farm.move(farm.last, "refrigerator", "1", place="set aside")
    lines = {line.place: line for line in use_first(farm.stock, farm.at)}
    assert "within a week of the canner" in lines["refrigerator"].remarks[0]
    assert not lines["pantry"].remarks
    farm.move(farm.last, "freezer", "1", place="refrigerator")
    lines = {line.place: line for line in use_first(farm.stock, farm.at)}
    assert not lines["freezer"].remarks


def test_what_was_set_aside_in_time_and_left_to_stand_is_eaten_no_more():
    farm = beans(14)
    farm.later(5)
    assert farm.take(farm.last, "1", Way.TASTED, place="set aside") is None
    farm = beans(14)
    farm.later(30)
    assert isinstance(farm.take(farm.last, "1", Way.EATEN, place="set aside"), Refusal)
    farm.move(farm.last, "refrigerator", "1", place="set aside")
    no = farm.take(farm.last, "1", Way.EATEN, place="refrigerator")
    assert isinstance(no, Refusal)


def test_jars_that_were_cold_in_time_are_eaten_whenever_their_lid_is_looked_at():
    farm = Farm()
    farm.made("8 pints green beans, pantry", food="vegetable", due_min=10)
    farm.later(10)
    farm.move(farm.last, "refrigerator")
    farm.later(72)
    assert farm.check(farm.last, 7, failed=1) is None
    assert farm.take(farm.last, "1", Way.EATEN, place="set aside") is None
    farm = Farm()
    farm.made("8 pints green beans, pantry", food="vegetable", due_min=10)
    farm.later(30)  # carried into the cold too late, and looked at there
    farm.move(farm.last, "refrigerator")
    assert farm.check(farm.last, 7, failed=1) is None
    assert isinstance(farm.take(farm.last, "1", Way.EATEN, place="set aside"), Refusal)


def test_what_was_cold_in_time_and_booked_late_is_booked_with_its_own_hour():
    farm = beans(30)
    assert farm.move(farm.last, "refrigerator", "1", place="set aside") is None
    late = farm.stock.sequence
    no = farm.take(farm.last, "1", Way.EATEN, place="refrigerator")
    assert "--on DAY --clock TIME" in no.instead
    assert farm.mend(late, "it was there in the evening") is None

    def carried(hours: float) -> Refusal | None:
        asked = Move(
            lot=farm.last,
            to="refrigerator",
            quantity="1",
            place="set aside",
            at=MORNING + dt.timedelta(hours=hours),
            late=True,
        )
        return farm.do(asked)

    assert "was carried at 2026-11-25 08:00, as was said" in carried(-1).reason
    assert carried(25) is None  # an hour too late is too late, whenever it is booked
    no = farm.take(farm.last, "1", Way.EATEN, place="refrigerator")
    assert "not in the cold within 24 h" in no.reason
    assert farm.mend(farm.stock.sequence) is None
    assert carried(14) is None
    assert farm.take(farm.last, "1", Way.EATEN, place="refrigerator") is None


def test_jars_may_be_carried_before_somebody_had_time_to_book_them():
    farm = Farm()
    farm.made("8 pints green beans, pantry", food="vegetable", due_min=10)
    early = {"to": "cellar", "quantity": "", "late": True}
    hour, day = dt.timedelta(hours=1), dt.timedelta(days=1)
    assert isinstance(farm.do(Move(lot=farm.last, at=farm.at - day, **early)), Refusal)
    assert farm.do(Move(lot=farm.last, at=farm.at - hour, **early)) is None
