"""Where a recipe prints a longer process than its table, the longer one is taken."""

import pytest

from stillroom.book.printed_minutes import longer_of, printed_minutes
from stillroom.book.processes import process_for, processes
from stillroom.refusal import granted


@pytest.mark.parametrize(
    ("feet", "minutes"), [(0, 10), (1000, 10), (1001, 10), (6000, 10), (6001, 15)]
)
def test_pear_butter(feet, minutes):
    """Handbook: 10 min at sea level; leaflet: as apple butter, 5/10/15."""
    row = granted(process_for("pear butter", jar="pint", elevation_ft=feet))
    assert row.minutes == minutes
    said = any("prints 10 min at sea level" in c.text for c in row.cautions)
    assert said == (feet <= 1000)


def test_no_jar_is_sterilised_for_ten_minutes():
    row = granted(process_for("pear butter", jar="pint", elevation_ft=0))
    assert not any("sterilis" in c.text for c in row.cautions)


def test_other_butters_keep_their_row():
    assert granted(process_for("plum butter", jar="pint", elevation_ft=0)).minutes == 5


def test_it_never_shortens():
    for product in {printed.product for printed in printed_minutes()} | {
        "apple butter"
    }:
        for row in processes():
            longer, _ = longer_of(product, row.jar, row)
            assert longer.minutes >= row.minutes


@pytest.mark.parametrize(
    ("feet", "hot", "raw"),
    [(0, 10, 20), (3000, 15, 25), (3001, 20, 30), (6001, 25, 35)],
)
def test_whole_grapes(feet, hot, raw):
    """Guide 2 as reprinted: 10/15/20/25 hot, where a later table has 15 and 20."""
    for pack, minutes in (("hot", hot), ("raw", raw)):
        row = granted(
            process_for("whole grapes", jar="quart", elevation_ft=feet, pack=pack)
        )
        assert row.minutes == minutes
