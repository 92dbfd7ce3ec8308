"""Until when something keeps its quality, and who says so."""

import datetime as dt
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import open_records
from stillroom.stock.coming import lot_of
from stillroom.stock.day_shelf import day_shelf
from stillroom.stock.first import use_first
from stillroom.stock.keeps import FROM_MEMORY, keeps
from stillroom.stock.on_hand import on_hand
from stillroom.web.app import build_app
from tests.cli.running import run
from tests.stock.kitchen import Farm, thing


def kept(sentence: str):
    what = thing(sentence)
    return keeps(lot_of(what, "26M2511X"), what.place)


def test_frozen_fruit_has_a_date_and_it_is_said_to_be_from_memory():
    found = kept("6 lb gooseberries, freezer 1, 3 July 2026")
    assert found.until == dt.date(2027, 3, 3)  # the low end of 8 to 12 months
    assert found.source.how_known == "memory"
    assert found.mark == f" ({FROM_MEMORY})"


@pytest.mark.parametrize(
    "sentence",
    [
        "14 bags redcurrant juice, 4 cups each, freezer 2, June 2026",  # no fruit
        "2 lb pork, freezer 1, July 2026",
        "6 lb gooseberries, fridge, July 2026",  # no such row is in the book
        "6 lb gooseberries, freezer 1",  # when it was frozen is not known
    ],
)
def test_what_is_printed_of_fruit_in_the_freezer_is_said_of_nothing_else(sentence: str):
    assert kept(sentence).until is None
    assert kept(sentence).mark == ""


def test_a_frozen_vegetable_keeps_as_long_as_is_printed_with_its_pack():
    found = kept("6 lb green beans, freezer 1, 3 July 2026")
    assert found.until == dt.date(2027, 3, 3)  # 8 to 12 months, Univ. of Minnesota
    assert found.source.how_known == "looked_up"
    assert kept("6 lb green beans, fridge, 3 July 2026").until is None


def test_what_was_frozen_on_a_day_keeps_as_long_as_its_plan_has_said():
    """The plan had 8 to 12 months for the beans; Stock knew of no life in a freezer."""
    farm = Farm()
    frozen = {"food": "", "canned": False, "process_min": None, "due_min": None}
    farm.made("6 pints frozen green beans, freezer", on=dt.date(2026, 7, 3), **frozen)
    farm.made("2 pints lima stew, freezer", on=dt.date(2026, 7, 3), **frozen)
    lots = {row.lot.what: row.keeps for row in on_hand(farm.stock)}
    assert lots["frozen green beans"].until == dt.date(2027, 3, 3)
    assert lots["frozen green beans"].source.how_known == "looked_up"
    assert lots["lima stew"].until is None


def test_what_was_looked_up_or_written_down_has_no_such_mark():
    assert kept("20 lb onions, cellar, August 2026").mark == ""
    dated = kept("6 lb gooseberries, freezer 1, July 2026, best before 2027-01-05")
    assert (dated.until, dated.mark) == (dt.date(2027, 1, 5), "")


def test_the_first_to_expire_is_the_first_on_the_list():
    farm = Farm()
    farm.add("3 lb strawberries, freezer 1, June 2026")
    farm.add("6 lb gooseberries, freezer 1, May 2026")
    farm.add("20 lb onions, cellar, November 2026")
    named = [row.lot.what for row in on_hand(farm.stock)]
    assert named == ["gooseberries", "strawberries", "onions"]
    assert all(FROM_MEMORY in row.best for row in use_first(farm.stock, farm.at)[:2])


def test_no_date_from_memory_is_shown_without_its_mark(tmp_path: Path):
    db = tmp_path / "stillroom.db"
    sentence = "6 lb gooseberries, freezer 1, May 2026"
    run("stock", "add", sentence, "--yes", "--db", str(db))
    said = [
        run("stock", *words, "--db", str(db)).out
        for words in ((), ("soon", "--days", "3650"), ("first",))
    ]
    with open_records(db) as records:
        client = TestClient(build_app(None, records=records))  # type: ignore[arg-type]
        client.base_url = "http://127.0.0.1"
        said += [client.get(path).text for path in ("/stock", "/stock/first")]
    for words in said:
        together = " ".join(words.split())
        assert "January 2027" in together
        assert FROM_MEMORY in together


def test_a_day_is_not_planned_by_a_date_from_memory():
    farm = Farm()
    farm.add("6 lb gooseberries, freezer 1, May 2026")
    assert [lot.use_by for lot in day_shelf(farm.stock, farm.at)] == [None]


@pytest.mark.parametrize("what", ["tomatoes", "green beans", "pickling cucumbers"])
def test_vegetables_that_were_bought_or_given_are_used_first_too(what):
    farm = Farm()
    farm.add("10 lb sugar, pantry, from Hedda")
    farm.add("40 lb dried beans, pantry, from Hedda")
    farm.add(f"25 lb {what}, kitchen, from Hedda")
    assert [row.what for row in use_first(farm.stock, farm.at)] == [what]


@pytest.mark.parametrize(
    ("what", "until", "figure", "known"),
    [
        # Univ. of Georgia: fruit 6 months at 80 °F and 12 at 60 °F, vegetables half
        ("3 lb dried apples, pantry", dt.date(2027, 5, 1), "6 to 12", "looked_up"),
        ("2 lb dried peaches, shelf", dt.date(2027, 5, 1), "6 to 12", "looked_up"),
        ("2 lb dried onions, shelf", dt.date(2027, 2, 1), "3 to 6", "computed"),
        # Guide 6: refrigerated in its own brine 4 to 6 months
        (
            "2 pint jars fermented dill pickles, fridge",
            dt.date(2027, 3, 1),
            "4 to 6",
            "looked_up",
        ),
        # three weeks in the refrigerator, a year frozen
        (
            "3 half-pints plum freezer jam, fridge",
            dt.date(2026, 11, 22),
            "at most 21 days",
            "looked_up",
        ),
        (
            "3 half-pints plum freezer jam, freezer",
            dt.date(2027, 11, 1),
            "at most 12",
            "looked_up",
        ),
        ("3 pint jars tallow, fridge", dt.date(2027, 5, 1), "at most 6", "practice"),
    ],
)
def test_what_is_made_here_keeps_as_long_as_the_book_has_it(what, until, figure, known):
    """Stock knew of no life of them, and the plan that made them did."""
    found = kept(f"{what}, 1 November 2026")
    assert found.until == until
    assert figure in found.words
    assert found.source.how_known == known


@pytest.mark.parametrize(
    "sentence",
    [
        "3 lb dried apples, freezer, 1 November 2026",  # printed for a shelf
        "2 lb dried beef, pantry, 1 November 2026",
        "6 pint jars sauerkraut, fridge, 1 November 2026",  # no months are printed
        "2 lb dried fish, pantry, 1 November 2026",
    ],
)
def test_the_life_of_dried_fruit_is_said_of_nothing_else(sentence: str):
    assert kept(sentence).until is None


def test_freezer_jam_counts_its_weeks_in_the_refrigerator_from_the_freezer():
    """Five months frozen and moved today, it is good for three weeks from today."""
    farm = Farm()
    cold = {"food": "jam", "canned": False, "process_min": None, "due_min": None}
    farm.at = dt.datetime(2026, 7, 3, 12, 0, tzinfo=dt.UTC)
    farm.made("6 half-pints plum freezer jam, freezer", on=farm.at.date(), **cold)
    (row,) = on_hand(farm.stock, zone=dt.UTC)
    assert row.keeps.until == dt.date(2027, 7, 3)
    farm.later(24 * 150)
    farm.move(farm.last, "fridge", "2")
    lots = {row.place: row.keeps for row in on_hand(farm.stock, zone=dt.UTC)}
    assert lots["freezer"].until == dt.date(2027, 7, 3)
    assert lots["fridge"].until == farm.at.date() + dt.timedelta(days=21)


def test_beans_of_which_nobody_said_that_they_are_dry_do_not_keep_a_year():
    """Fresh ones, booked as "beans", were to be used up in a year."""
    assert kept("10 lb beans, cellar, 1 June 2026").until is None
    dry = kept("10 lb dried beans, cellar, 1 June 2026")
    assert dry.until == dt.date(2027, 6, 1)
