"""Amounts as people say them, in the measure that they came in."""

import pytest

from stillroom.stock.amounts import Measure, Unit


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("7 l", "7.00 L (about 29 1/2 cups)"),
        ("750 ml", "750 mL (about 3 1/4 cups)"),
        ("15 ml", "1 tbsp"),
        ("7 1/2 cups", "7 1/2 cups"),
        ("3 quarts", "12 cups"),
        ("5 gallons", "80 cups"),
    ],
)
def test_what_was_measured_in_litres_is_told_in_litres(typed: str, said: str):
    loose = Measure(unit=Unit.UL)
    assert loose.words(loose.read(typed)) == said
