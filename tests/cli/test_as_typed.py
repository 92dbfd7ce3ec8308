"""Words as a tired person types them, without quotes, and in other words than ours."""

import datetime as dt
import re
from pathlib import Path

import click
import pytest

from stillroom.cli import booking
from stillroom.cli.as_typed import BOIL, lot_and_quantity
from stillroom.records.days import open_records
from stillroom.refusal import Unreadable
from stillroom.running.clock import WallClock
from tests.cli.running import run


@pytest.fixture(autouse=True)
def at_noon(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is said of 0:32 is past: an hour after midnight it would be to come."""

    class Noon(WallClock):
        def now(self) -> dt.datetime:
            return super().now().replace(hour=12, minute=0, second=0, microsecond=0)

    monkeypatch.setattr(booking, "WallClock", Noon)


@pytest.fixture
def db(tmp_path: Path) -> str:
    file = tmp_path / "stillroom.db"
    open_records(file).close()
    return str(file)


def stock(db: str, *words: str):
    return run("stock", *words, "--db", db)


def jelly(db: str, *more: str):
    words = ("made", "8 half-pints plum jelly, pantry", "--elevation", "2150ft")
    return stock(db, *words, "--process", "10 min", "--yes", *more)


def flat(text: str) -> str:
    return " ".join(text.split())


def test_minutes_may_have_their_unit(db):
    assert "10 min" in jelly(db).out
    for wrong in ("ten", "601", "10 h"):
        said = stock(db, "made", "8 pints jam, pantry", "--process", wrong, "--yes")
        assert said.code == 2
        assert "no number of minutes: write such as 10" in said.err


def test_a_clock_time_may_be_said_in_twelve_hours(db):
    made = jelly(db, "--filled", "8:10 am", "--out", "8.40 AM", "--on", "10 September")
    assert made.code == 0, made.err
    told = flat(run("stock", "after", "--db", db).out)
    assert "Out of the canner 8:40 on" in told
    assert "2:05 pm" in jelly(db, "--out", "13 pm").err


def test_an_afternoon_that_is_read_as_night_is_shown_how_it_is_written(db):
    made = jelly(db, "--out", "2:30", "--on", "10 September")
    assert "write 14:30 for the afternoon" in flat(made.out)


def test_what_left_is_booked_without_quotes_and_by_other_words(db):
    jelly(db)
    said = stock(db, "out", "plum", "jelly", "2", "half-pints", "--as", "ate")
    assert "eaten: 2 half-pints of plum jelly" in said.out
    assert "counted 5 half-pints" in stock(db, "count", "plum", "jelly", "5").out
    assert (
        "drawn: 1 half-pint" in stock(db, "out", "plum jelly", "1", "--as", "use").out
    )
    stock(db, "add", "3 bags plum juice, 5 cups each, freezer 2", "--yes")
    assert "drawn: 2 bags" in stock(db, "use", "plum", "juice", "2", "bags").out
    assert stock(db, "out", "plum jelly", "1", "--as", "lent").code == 2
    nothing = stock(db, "use", "plum", "juice", "please")
    assert "it was not said how much of 'plum juice please'" in flat(nothing.err)


def test_all_of_a_lot_leaves_and_what_stays_is_nothing(db):
    jelly(db)
    moved = flat(stock(db, "move", "plum", "jelly", "to", "the", "cellar").out)
    assert "moved 8 half-pints" in moved
    assert moved.endswith("at pantry to cellar")
    said = stock(db, "out", "plum", "jelly", "all", "--as", "spoiled")
    assert "spoiled: 8 half-pints of plum jelly" in said.out
    nowhere = stock(db, "move", "plum", "jelly", "cellar")
    assert "the place behind it" in flat(nowhere.err)


def test_what_was_wrong_with_a_load_may_be_said_with_a_space(db):
    jelly(db)
    held = stock(db, "hold", "plum jelly", "--as", "wrong time")
    assert "wrong time or pressure" in flat(held.out)


@pytest.mark.parametrize(
    ("words", "lot", "quantity"),
    [
        (("L26M28-14", "3"), "L26M28-14", "3"),
        (("apple butter", "2 pints"), "apple butter", "2 pints"),
        (("batch 2 jam", "1"), "batch 2 jam", "1"),
        (("pears", "½", "lb"), "pears", "½ lb"),
        (("pears", "none"), "pears", "none"),
        (("pears", "half"), "pears", "half"),
        (("plum", "jelly", "two"), "plum jelly", "two"),
        (("plum", "jelly", "a", "jar"), "plum jelly", "a jar"),
        (("plum", "jelly", "half", "a", "dozen"), "plum jelly", "half a dozen"),
        (("three", "bean", "salad", "one", "pint"), "three bean salad", "one pint"),
        (("pickled", "three", "bean", "salad", "2"), "pickled three bean salad", "2"),
        (("plum", "jelly", "all", "gone"), "plum jelly", "all gone"),
    ],
)
def test_a_lot_ends_where_a_number_begins(words, lot, quantity):
    assert lot_and_quantity(words) == (lot, quantity)


def test_a_lot_alone_is_asked_how_much():
    with pytest.raises(Unreadable, match="how much of 'pears'"):
        lot_and_quantity(("pears",))


@pytest.mark.parametrize("said", ["8 sealed", "all good", "All are sealed."])
def test_seals_are_said_in_other_words(db, said):
    jelly(db)
    booked = stock(db, "check", "plum jelly", said)
    assert "seals 8 good, 0 failed" in flat(booked.out)


def test_bad_is_failed_and_a_lid_that_popped_is_asked_about(db):
    jelly(db)
    assert stock(db, "check", "plum jelly", "7", "good", "1", "popped").code == 2
    assert stock(db, "check", "plum jelly", "all", "bad").code == 2
    said = stock(db, "check", "plum jelly", "7", "sealed", "1", "not")
    assert "7 good, 1 failed" in flat(said.out)


def test_a_soft_set_shows_at_once_what_is_published_for_it(db):
    jelly(db, "--on", "10 September", "--out", "9:00")
    said = stock(db, "check", "plum jelly", "8", "good", "--set", "soft")
    assert "Soft:" in said.out


def test_seals_that_were_due_long_ago_are_not_said_to_be_still_to_come(db):
    made = jelly(db, "--on", "10 September", "--out", "9:00")
    assert "Seals: check missed: it was due by" in flat(made.out)
    assert "12 to 24 h after the jars came out" not in flat(made.out)


@pytest.mark.parametrize("canner", ["dial", "dial gauge canner", "dial-gauge"])
def test_a_canner_is_named_as_the_book_names_it(db, canner):
    words = ("made", "7 quarts green beans, pantry", "--process", "25", "--pack", "raw")
    made = stock(db, *words, "--canner", "pressure", "--elevation", "900ft", "--yes")
    code = re.search(r"L\w{5}-\w+", made.out)[0]
    said = stock(db, "complete", code, "--canner", canner)
    assert "25 min at 11 psi are due" in flat(said.out)


@pytest.mark.parametrize(
    ("said", "seconds"),
    [
        ("1", 60),
        ("2 min", 120),
        ("30 s", 30),
        ("30sec", 30),
        ("1/2 min", 30),
        ("½", 30),
        ("0.5", 30),
        ("90 s", 90),
    ],
)
def test_the_boil_is_said_in_minutes_or_in_seconds(said, seconds):
    assert BOIL.convert(said, None, None) == seconds


@pytest.mark.parametrize("said", ["", "1/3", "0.25 min", "soon", "-1"])
def test_no_other_part_of_a_minute_is_rounded(said):
    with pytest.raises(click.BadParameter, match="is no number of minutes"):
        BOIL.convert(said, None, None)


def beets(db: str, *more: str):
    words = ("made", "7 pints beets, pantry", "--canner", "dial", "--yes")
    return stock(db, *words, "--elevation", "2150ft", *more)


def test_what_the_gauge_read_is_taken_and_asked_for_where_it_was_not_said(db):
    whole = flat(beets(db, "--process", "30", "--gauge", "12 psi").out)
    assert "process given 30 min at 12 psi process due 30 min at 12 psi" in whole
    assert "On hold: its seals" in whole
    low = flat(beets(db, "--process", "30", "--gauge", "11 psi").out)
    assert "30 min at 11 psi, and 12 psi is published for it at 2,150 ft" in low
    unsaid = flat(beets(db, "--process", "30").out)
    assert "nothing says what its gauge read, and 12 psi is published" in unsaid
    wrong = beets(db, "--process", "30", "--gauge", "15 lb weighted")
    assert wrong.code == 2
    assert "name the canner that it was, weighted-gauge" in flat(wrong.err)


def test_a_process_that_is_typed_in_late_brings_its_gauge(db):
    beets(db, "--filled", "0:01")
    said = stock(db, "process", "beets", "--began", "0:02", "--ended", "0:32",
                 "--who", "Ada", "--gauge", "11 psi")  # fmt: skip
    assert "30 min at 11 psi" in flat(said.out)
    after = flat(stock(db, "after").out)
    assert "Processed under too low a pressure: counts as never" in after


def tomatoes(db: str, *more: str) -> str:
    words = ("made", "7 pints crushed tomatoes, pantry", "--canner", "weighted-gauge")
    how = ("--elevation", "500ft", "--load", "1", "--filled", "0:01", "--pack", "hot")
    return re.search(r"L\w{5}-\w+", stock(db, *words, *how, *more, "--yes").out)[0]


def late(db: str, code: str, *more: str):
    times = ("--began", "0:02", "--ended", "0:12", "--who", "Ada")
    return stock(db, "process", code, *times, *more)


def test_short_minutes_of_a_high_pressure_go_with_no_lower_one(db):
    # printed: 20 min at 5 or 6 psi, 15 at 10, 10 at 15
    code = tomatoes(db, "--gauge", "15 psi")
    late(db, code, "--gauge", "5 psi")
    held = flat(stock(db, "after").out)
    assert "had 10 min at 5 psi, and 15 psi is published" in held
    gone = stock(db, "out", code, "1 jar", "--as", "given", "--to", "Bob")
    assert gone.code != 0


def test_a_gauge_that_read_too_little_holds_jars_in_the_cold_too(db):
    words = ("made", "7 pints beets, refrigerator", "--load", "1", "--yes")
    how = ("--canner", "dial-gauge", "--process", "30", "--elevation", "500ft")
    code = re.search(r"L\w{5}-\w+", stock(db, *words, *how, "--gauge", "5 psi").out)[0]
    gone = stock(db, "out", code, "1 pint", "--as", "given", "--to", "Bob")
    assert gone.code != 0


@pytest.mark.parametrize(
    "thing", ["dried beans and ham", "dried beef", "dried chicken noodle"]
)
def test_what_a_canner_was_loaded_with_is_no_dried_meat(db, thing):
    words = ("made", f"4 pints {thing}, pantry", "--load", "2", "--elevation", "500ft")
    code = re.search(r"L\w{5}-\w+", stock(db, *words, "--yes").out)[0]
    stock(db, "move", code, "refrigerator")
    assert stock(db, "out", code, "1 pint", "--as", "eaten").code != 0
