"""How far the shelf goes, of a thing by its name: a slip in it is asked."""

import pytest

from stillroom.records.days import open_records
from tests.cli.running import Said, run

MADE = ("made", "8 half-pints plum jelly, pantry", "--process", "10")


@pytest.fixture
def stock(tmp_path):
    """Run a command of the stock on a record in which there is plum jelly."""
    open_records(tmp_path / "farm.db").close()

    def stock_(*words: str) -> Said:
        return run("stock", *words, "--db", str(tmp_path / "farm.db"))

    assert stock_(*MADE, "--elevation", "310m", "--yes").code == 0
    return stock_


@pytest.mark.parametrize("more", [(), ("--json",)])
def test_a_slip_in_the_name_is_asked_and_never_answered_with_none(stock, more):
    said = stock("cover", "plum jely", *more)
    assert said.code == 3
    assert "is plum jelly meant?" in " ".join(said.err.split())


def test_a_lot_code_is_the_name_of_its_lot(stock):
    (row,) = stock("--json").json["on_hand"]
    (found,) = stock("cover", row["lot"], "--json").json["cover"]
    assert found["what"] == "plum jelly"


def test_who_asks_for_printed_plans_of_what_is_not_in_jars_is_told_where_they_are(
    stock,
):
    asked = ("cover", "pears", "--persons", "4")
    plans = 'stillroom year "pears" --persons 4'
    said = stock(*asked)
    assert said.code == 3
    assert plans in " ".join(said.err.split())
    stock("add", "25 lb pears, cellar", "--yes")
    said = stock(*asked)
    assert said.code == 0
    assert "No jars of pears are on hand, and none were eaten." in said.out
    assert plans in " ".join(said.out.split())
