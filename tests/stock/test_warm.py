"""Jars that were put up cold and stand on a shelf in old entries are held too."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.after import open_of
from stillroom.stock.cover import pantry_count
from stillroom.stock.events import Counted, Moved, Part, Processed, Way
from stillroom.stock.lacks import is_in_doubt, lack_of
from stillroom.stock.making import holds
from stillroom.stock.warm import stood_warm
from tests.stock.kitchen import Farm

COLD = {"canned": False, "process_min": None, "due_min": None, "due_source": ""}


def moved(farm: Farm, number: int, place: str, to: str) -> int:
    """Add the entry as a program of before wrote it, without asking."""
    part = Part(lot=farm.last, place=place, number=number)
    farm.stock.apply(Moved(parts=(part,), to=to, occurred_at=farm.at))
    return farm.stock.sequence


@pytest.fixture
def beets() -> Farm:
    farm = Farm()
    farm.made("8 pints pickled beets, refrigerator", food="pickle", **COLD)
    return farm


def test_old_entries_that_carried_cold_jars_to_a_shelf_put_them_on_hold(beets: Farm):
    assert holds(beets.stock, beets.last) == ()
    entry = moved(beets, 2, "refrigerator", "pantry")
    (why,) = holds(beets.stock, beets.last)
    assert f"put up to be kept cold, and entry {entry} has it at pantry" in why
    assert f"take entry {entry} back with stillroom stock mend, else" in why
    assert is_in_doubt(beets.stock, beets.last)
    assert pantry_count(beets.stock, beets.last, beets.at) == (0, 0)
    no = beets.take(beets.last, "1", Way.EATEN, place="pantry")
    assert "discard it untasted" in no.instead
    assert beets.take(beets.last, "1", Way.EATEN, place="refrigerator") is None
    for way in (Way.SOLD, Way.GIVEN):
        no = beets.take(beets.last, "1", way, place="refrigerator")
        assert "not for sale or a gift" in no.instead
    lot = open_of(beets.stock, beets.last, beets.at)
    assert lot.choices_of == "Put up cold, and stood on a shelf"
    beets.later(3)
    lot = open_of(beets.stock, beets.last, beets.at)
    assert {trouble.do for trouble in lot.choices.troubles} == {"discard"}


def test_the_hold_ends_with_the_mistaken_entry_or_with_the_jars(beets: Farm):
    entry = moved(beets, 2, "refrigerator", "pantry")
    beets.mend(entry, "they never left the cold")
    assert holds(beets.stock, beets.last) == ()
    again = moved(beets, 2, "refrigerator", "pantry")
    assert stood_warm(beets.stock, beets.last).entry == again
    assert beets.take(beets.last, "2", Way.SPOILED, place="pantry") is None
    assert holds(beets.stock, beets.last) == ()
    assert beets.take(beets.last, "1", Way.SOLD) is None


def test_what_was_carried_back_into_the_cold_is_not_sound_by_that(beets: Farm):
    moved(beets, 2, "refrigerator", "pantry")
    moved(beets, 2, "pantry", "fridge 2")
    assert stood_warm(beets.stock, beets.last).places == {"fridge 2"}
    no = beets.take(beets.last, "1", Way.EATEN, place="fridge 2")
    assert isinstance(no, Refusal)
    assert beets.take(beets.last, "1", Way.EATEN, place="refrigerator") is None


def test_jam_of_an_acid_fruit_has_its_hours_from_the_shelf_on():
    farm = Farm()
    farm.made("8 half-pints plum jam, refrigerator", food="jam", **COLD)
    farm.later(24 * 30)
    moved(farm, 8, "refrigerator", "pantry")
    farm.later(3)
    choices = open_of(farm.stock, farm.last, farm.at).choices
    assert {trouble.do for trouble in choices.troubles} == {"freeze"}
    assert choices.left(farm.at) == dt.timedelta(hours=21)
    assert "into the refrigerator" in farm.take(farm.last, "1", Way.EATEN).instead
    assert farm.move(farm.last, "refrigerator") is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert isinstance(farm.take(farm.last, "1", Way.SOLD), Refusal)


def test_jars_that_were_booked_or_counted_on_a_shelf_are_held_too(beets: Farm):
    counted = Counted(
        lot=beets.last, place="cellar", number=1, book=0, occurred_at=beets.at
    )
    beets.stock.apply(counted)
    assert "has it at cellar" in holds(beets.stock, beets.last)[0]
    farm = Farm()
    farm.made("8 pints green beans, shelf over the freezer", food="", **COLD)
    assert "has it at shelf over the freezer" in holds(farm.stock, farm.last)[0]


def test_what_was_put_up_in_a_deep_freeze_lacks_no_process_in_old_entries_either():
    farm = Farm()
    said = {**COLD, "canned": True, "due_source": "read as a shelf"}
    farm.made("6 half-pints plum jam, deep freeze", food="jam", **said)
    assert lack_of(farm.stock, farm.last) is None
    assert holds(farm.stock, farm.last) == ()
    assert not farm.stock.made(farm.last).batch.canned
    began = farm.at - dt.timedelta(minutes=20)  # a process that is typed in late
    ended = began + dt.timedelta(minutes=10)
    late = {"began": began, "ended": ended, "who": "Jory", "occurred_at": farm.at}
    farm.stock.apply(Processed(lots=(farm.last,), **late))
    assert farm.stock.made(farm.last).batch.canned  # it has seals to look at
    farm.made("6 half-pints plum jam, deep freeze", food="jam", **said, load=2)
    assert "had no process" in holds(farm.stock, farm.last)[0]


def test_dry_goods_stand_where_they_like():
    farm = Farm()
    farm.made("3 quarts dried beans, kept dry, freezer", food="", **COLD)
    moved(farm, 3, "freezer", "pantry")
    assert stood_warm(farm.stock, farm.last) is None
    farm.made("3 quarts dried green beans, pantry", food="", **COLD)
    assert stood_warm(farm.stock, farm.last) is None


@pytest.mark.parametrize(("hours", "is_eaten"), [(20, True), (30, False)])
def test_jam_that_came_back_into_the_cold_too_late_is_not_eaten(hours, is_eaten):
    farm = Farm()
    farm.made("8 half-pints plum jam, refrigerator", food="jam", **COLD)
    moved(farm, 2, "refrigerator", "pantry")
    farm.later(hours)
    no = farm.take(farm.last, "1", Way.EATEN, place="pantry")
    assert ("for your own use" in no.instead) is is_eaten
    moved(farm, 2, "pantry", "fridge 2")
    assert (farm.take(farm.last, "1", Way.EATEN, place="fridge 2") is None) is is_eaten
    assert farm.take(farm.last, "1", Way.EATEN, place="refrigerator") is None
