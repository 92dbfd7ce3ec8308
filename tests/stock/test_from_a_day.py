"""A day behind "from" is a day; a month that is a name too is asked."""

import pytest

from stillroom.stock.sentence import propose
from tests.stock.kitchen import MORNING, thing


@pytest.mark.parametrize(
    ("sentence", "day"),
    [
        ("14 bags redcurrant juice 4 cups each in freezer 2 from July", "2026-07"),
        ("14 bags redcurrant juice, freezer 2, from 12 June", "2026-06-12"),
        ("25 lb plums from 3 September, cellar", "2026-09-03"),
        ("25 lb plums from yesterday, cellar", "2026-11-24"),
    ],
)
def test_what_is_from_a_day_has_that_day_and_no_supplier(sentence, day):
    read = thing(sentence)
    assert (read.day, read.supplier) == (day, "")
    assert "from" not in read.what


@pytest.mark.parametrize(
    "sentence",
    [
        "14 bags redcurrant juice 4 cups each in freezer 2 from June",
        "25 lb plums from june, cellar",
        "25 lb plums, cellar, from May",
    ],
)
def test_a_month_that_somebody_may_be_called_by_is_asked(sentence):
    read = propose(sentence, today=MORNING.date())
    assert read.thing is None
    (fault,) = read.faults
    assert "may be the month, or somebody of that name" in fault
    assert "supplier" in fault


@pytest.mark.parametrize("said", ["supplier June", "bought from June", "by June"])
def test_who_is_called_by_a_month_is_still_a_supplier(said):
    read = thing(f"25 lb plums, cellar, {said}")
    assert (read.day, read.supplier) == ("", "June")
