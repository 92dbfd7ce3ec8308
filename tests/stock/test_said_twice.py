"""What a sentence says twice is asked; a bin in a freezer is one place."""

import pytest

from stillroom.stock.sentence import propose
from tests.stock.kitchen import MORNING, thing

TODAY = MORNING.date()


@pytest.mark.parametrize(
    ("sentence", "one", "other"),
    [
        ("10 lb apples, fridge shelf 2, freezer 1", "fridge shelf 2", "freezer 1"),
        ("12 eggs, fridge, freezer", "fridge", "freezer"),
        ("3 bags peas in the freezer, fridge", "in the freezer", "fridge"),
        ("3 bags peas, bin 3, bin 4", "bin 3", "bin 4"),
        ("12 eggs, fridge, June, July", "June", "July"),
        ("25 lb plums, shed, from Ann, from Bob", "from Ann", "from Bob"),
        ("25 lb plums from Ann, shed, from Bob", "from Ann", "from Bob"),
        ("25 lb plums, shed, note bruised, note soft", "note bruised", "note soft"),
        ("25 lb plums, shed, paid 3, paid 4", "paid 3", "paid 4"),
        ("25 lb plums, shed, $3, paid 4", "$3", "paid 4"),
        (
            "25 lb plums, shed, best before 2027-01-01, use by 2027-02-01",
            "best before 2027-01-01",
            "use by 2027-02-01",
        ),
    ],
)
def test_the_second_of_two_is_never_kept_for_the_first(sentence, one, other):
    read = propose(sentence, today=TODAY)
    assert read.thing is None
    (fault,) = read.faults
    assert repr(one) in fault
    assert repr(other) in fault
    assert "both say" in fault
    assert "write" in fault  # what to do instead


@pytest.mark.parametrize(
    ("sentence", "place"),
    [
        ("3 bags peas, freezer 1, bin 3", "freezer 1 bin 3"),
        ("3 bags peas, bin 3, freezer 1", "freezer 1 bin 3"),
        ("3 bags peas in freezer 1, bin 3", "freezer 1 bin 3"),
        ("3 bags peas, deep freeze, June, lower drawer", "deep freeze lower drawer"),
        ("25 lb plums, pantry, shelf B", "pantry shelf B"),
        ("25 lb plums, Pantry, pantry", "pantry"),
    ],
)
def test_a_bin_or_shelf_belongs_to_the_place_that_it_is_in(sentence, place):
    assert thing(sentence).place == place


def test_the_same_said_again_is_no_second():
    read = thing("12 eggs, fridge, June, june, from Ann, from ann")
    assert (read.place, read.day, read.supplier) == ("fridge", "2026-06", "ann")
