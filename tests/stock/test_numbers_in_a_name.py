"""A number in a name is a second thing, or a number that was not read: it is asked."""

import pytest

from stillroom.stock.sentence import propose
from tests.stock.kitchen import MORNING, thing


def fault_of(said: str) -> str:
    read = propose(f"{said}, pantry", today=MORNING.date())
    assert read.thing is None
    (fault,) = read.faults
    return fault


@pytest.mark.parametrize(
    ("said", "other"),
    [
        ("5 kg sugar and 3 boxes pectin", "3 boxes pectin"),
        ("5 kg sugar and 60 lids", "60 lids"),
        ("25 lb pears & 3 bags plums", "3 bags plums"),
        ("two bags plums and one bag pears", "one bag pears"),
        ("two bags plums and a bag of pears", "a bag of pears"),
        ("12 jars jam and a dozen eggs", "a dozen eggs"),
        ("12 jars jam and some eggs", "some eggs"),
        ("60 quart jars and 60 lids", "60 lids"),
        ("3 dozen eggs and 2 lb butter", "2 lb butter"),
    ],
)
def test_a_second_thing_is_never_swallowed_by_the_name_of_the_first(said, other):
    fault = fault_of(said)
    assert f"has a second thing, {other!r}" in fault
    assert "an entry of each" in fault


@pytest.mark.parametrize(
    ("said", "word"),
    [
        *(("a hundred lids", "hundred"), ("two hundred lids", "hundred")),
        *(("a gross lids", "gross"), ("a gross of lids", "gross")),
        *(("two thousand lids", "thousand"), ("a score of eggs", "score")),
        ("an old dozen quart jars", "dozen"),
        ("two hundred pounds potatoes", "hundred"),
    ],
)
def test_a_number_that_was_written_out_is_never_one_of_it(said, word):
    fault = fault_of(said)
    assert f"has a number word, {word!r}, in its name" in fault
    assert "in digits" in fault


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("2 pints half and half", "half and half"),
        ("12 jars peach and plum jam", "peach and plum jam"),
        ("12 jars with lids and bands", "jars with lids and bands"),
        ("12 hundred-day corn ears", "hundred-day corn"),
        ("a dozen eggs", "eggs"),
    ],
)
def test_what_is_one_thing_by_its_name_stays_so(said, what):
    assert thing(f"{said}, fridge").what == what
