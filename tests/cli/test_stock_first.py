"""What to eat first, at the terminal: what is not on it is said."""

import pytest

from stillroom.records.days import open_records
from tests.cli.running import Said, run

MADE = ("made", "8 half-pints plum jelly, pantry", "--process", "10")


@pytest.fixture
def stock(tmp_path):
    """Run a command of the stock on a record of its own, in which nothing is yet."""
    open_records(tmp_path / "farm.db").close()

    def stock_(*words: str) -> Said:
        return run("stock", *words, "--db", str(tmp_path / "farm.db"))

    return stock_


def test_jars_on_hold_for_a_process_that_nobody_can_look_up_are_not_on_the_list(stock):
    assert stock(*MADE, "--yes").code == 0
    said = " ".join(stock("first").out.split())
    assert "best until" not in said
    assert "1 lot of food on hand is not on this list: on hold, recalled" in said
    assert "Nothing to eat" not in said
    assert stock("first", "--json").json == {"first": []}


def test_jars_whose_process_is_known_are_on_the_list(stock):
    assert stock(*MADE, "--elevation", "310m", "--yes").code == 0
    said = stock("first").out
    assert "best until" in said
    assert "not on this list" not in said
