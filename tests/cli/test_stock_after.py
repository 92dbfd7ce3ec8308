"""``stock made --from-run``, ``after``, ``hold``, ``process``, ``label`` and sheets."""

import datetime as dt
import json
import re
from pathlib import Path

import pytest

from stillroom.planning.day_file.dayfile import demo_day_text
from stillroom.records.days import open_records
from stillroom.running.clock import WallClock
from tests.cli.running import run
from tests.running.a_run import Kitchen


@pytest.fixture
def db(tmp_path: Path) -> str:
    file = tmp_path / "stillroom.db"
    open_records(file).close()
    return str(file)


@pytest.fixture
def run_db(db: str) -> str:
    """A record with a run of September whose first load is out."""
    with open_records(db) as records:
        Kitchen(records.ledger).begin().fill("plum jelly 1").can("canner/1")
    return db


def stock(*words: str, db: str):
    return run("stock", *words, "--db", db)


def made(db: str, *more: str) -> str:
    """Eight half-pints of plum jelly, today; its code as on the jar."""
    said = stock(
        *("made", "8 half-pints plum jelly, pantry", "--elevation", "2150ft"),
        *("--yes", *more),
        db=db,
    )
    assert said.code == 0, said.err
    return re.search(r"L\w{5}-\w+", said.out)[0]


def test_from_run_shows_asks_and_books_each_lot_once(run_db):
    shown = stock("made", "--from-run", db=run_db)
    assert shown.code == 0, shown.err
    assert "Nothing was booked. Add --yes" in shown.out
    assert "its process was not started" in shown.out
    asked = " ".join(shown.out.split())
    assert "Only what was lifted out of a load had its process." in asked
    assert 'stillroom stock made "NUMBER half-pints plum jelly, kitchen"' in asked
    booked = stock("made", "--from-run", "2026-09-12", "--yes", db=run_db)
    assert "Write these lot codes on the lids" in booked.out
    assert "Count again?" in booked.out
    assert booked.out.count("Booked as number") == 2
    again = stock("made", "--from-run", "--yes", db=run_db)
    assert "No lot is ready to be booked" in again.out
    assert stock("made", "--from-run", "--yes", "--json", db=run_db).json == {
        "booked": []
    }


def test_from_run_tells_a_metric_kitchen_in_litres(run_db):
    text = demo_day_text().replace('"2,150 ft"', '"655 m"')
    with open_records(run_db) as records:
        records.days.save(text, "written in metres")
    shown = " ".join(stock("made", "--from-run", db=run_db).out.split())
    assert "1.18 L (5 cups) of plum juice" in shown


def test_from_run_asks_whether_jars_came_out_in_time(db):
    with open_records(db) as records:
        kitchen = Kitchen(records.ledger).begin().fill("plum jelly 1")
        kitchen.can("canner/1", minutes=15 + 9 * 60)
    shown = " ".join(stock("made", "--from-run", db=db).out.split())
    assert "In time? Of plum jelly 1 its jars could come out since" in shown
    assert "If they stayed in the canner overnight, refrigerate them" in shown


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("made",), 2, "or give --from-run"),
        (("made", "8 half-pints jam, pantry", "--from-run"), 2, "or give --from-run"),
        (("made", "--from-run", "harvest"), 2, "is no day"),
        (("made", "--from-run", "2031-01-01"), 2, "no run is kept of 2031-01-01"),
        (("made", "--from-run"), 2, "no run is kept here yet"),
        (("hold", "L26M25-23G", "--as", "wrong-time"), 3, "has no lot"),
        (("hold", "walnuts", "--as", "cold"), 2, "wrong-time"),
        (("process", "walnuts"), 2, "only with its start, its end and who saw it"),
        (("label", "walnuts"), 3, "has no lot"),
        (("cover", "--new-in", "-3"), 2, "from 0 to 104"),
        (("first", "--most", "0"), 2, "from 1 to 500"),
        (("steps", "walnuts"), 3, "has no lot"),
    ],
)
def test_what_cannot_be_read_says_what_to_do(db, words, code, said):
    no = stock(*words, db=db)
    assert no.code == code, no.err
    assert said in no.err


def test_the_day_after_says_what_is_open_and_holds_count_hours(db):
    code = made(db, "--process", "10", "--load", "2")
    after = stock("after", db=db)
    assert "Seals: too early: look from" in after.out
    no = stock("label", code, db=db)
    assert no.code == 3
    assert "write its lot code on the lids" in no.err
    held = stock("hold", code, "--as", "water-below-the-lids", db=db)
    assert held.code == 0, held.err
    assert re.search(r"Water below the lids: .* (2 h 00|1 h 59) min left", held.out)
    lot = stock("after", "--json", db=db).json["loads"][0]["lots"][0]
    assert any("water stood below" in why for why in lot["on_hold"])
    assert lot["choices"]["troubles"][0]["do"] == "reprocess"
    sold = stock("out", code, "1", "--as", "sold", db=db)
    assert sold.code == 3


def test_a_process_typed_late_needs_all_three_and_is_marked(db):
    code = made(db, "--on", "yesterday", "--filled", "20:40")
    late = ("process", code, "--began", "20:55", "--ended", "21:06")
    assert stock(*late, db=db).code == 2
    no = stock(
        *("process", code, "--began", "22:50", "--ended", "23:06"),
        *("--on", "yesterday", "--who", "Bram"),
        db=db,
    )
    assert no.code == 3
    assert "had stood 2.2 h when that process began" in no.err
    done = stock(*late, "--on", "yesterday", "--who", "Bram", db=db)
    assert done.code == 0, done.err
    assert "seen by Bram (typed in late)" in " ".join(done.out.split())


@pytest.mark.parametrize(("ended", "is_short"), [("11:45", True), ("11:50", False)])
def test_a_process_typed_late_that_was_too_short_says_so_at_once(
    db, monkeypatch, ended, is_short
):
    """It was booked without a word, and its 2 h ran out before anybody looked."""
    noon = WallClock().now().replace(hour=12, minute=0, second=0, microsecond=0)
    monkeypatch.setattr(WallClock, "now", lambda _: noon)
    code = made(db, "--filled", "11:35")
    done = stock(
        *("process", code, "--began", "11:40", "--ended", ended, "--who", "Bram"),
        db=db,
    )
    said = " ".join(done.out.split())
    short = f"On hold: its process was {5 if is_short else 10} min, and 10 min are due"
    assert (short in said) is is_short
    assert ("1 h 45 min left, until 13:45" in said) is is_short
    assert ("Reprocess: Within 2 h" in said) is is_short
    assert "its seals have not been looked at" in said or is_short


def test_a_program_is_told_at_once_too_that_a_process_was_too_short(db, monkeypatch):
    """Its JSON held that it was booked, and nothing else."""
    noon = WallClock().now().replace(hour=12, minute=0, second=0, microsecond=0)
    monkeypatch.setattr(WallClock, "now", lambda _: noon)
    code = made(db, "--filled", "11:35")
    done = stock(
        *("process", code, "--began", "11:40", "--ended", "11:45", "--who", "Bram"),
        "--json",
        db=db,
    )
    assert done.json["booked"][0]["kind"] == "processed"
    (lot,) = done.json["lots"]
    assert lot["lot"] == code
    assert lot["on_hold"] == ["its process was 5 min, and 10 min are due"]
    until = dt.datetime.fromisoformat(lot["choices"]["until"])
    assert (until.hour, until.minute) == (13, 45)
    assert [t["do"] for t in lot["choices"]["troubles"]] == ["reprocess"]
    (said,) = stock("after", "--json", db=db).json["loads"][0]["lots"]
    assert (said["on_hold"], said["choices"]) == (lot["on_hold"], lot["choices"])


def test_a_program_that_books_jars_is_told_what_holds_them(db):
    done = stock(
        *("made", "7 pints green beans, pantry", "--elevation", "2150ft"),
        *("--yes", "--json"),
        db=db,
    )
    (lot,) = done.json["lots"]
    assert "it had no process: sealed is not processed" in lot["on_hold"][0]
    assert lot["choices"]["troubles"][0]["do"] == "reprocess"


def test_sheets_are_written_whole_or_not_at_all(db, tmp_path):
    code = made(db, "--process", "10")
    for words in (
        ("first",),
        ("steps", code),
        ("recall", code, "--why", "soft lids"),
    ):
        out = tmp_path / f"{words[0]}.pdf"
        done = stock(*words, "--out", str(out), "--page", "a4", db=db)
        assert done.code == 0, done.err
        assert out.read_bytes().startswith(b"%PDF")
        no = stock(*words, "--out", str(tmp_path / "no" / "x.pdf"), db=db)
        assert no.code == 2
        assert "cannot be written" in no.err


@pytest.mark.parametrize(
    "words", [("first",), ("steps", "CODE"), ("recall", "CODE", "--why", "soft lids")]
)
def test_a_sheet_takes_the_place_of_nothing_but_a_sheet(db, tmp_path, words):
    code = made(db, "--process", "10")
    words = tuple(code if word == "CODE" else word for word in words)
    before = Path(db).read_bytes()
    no = stock(*words, "--out", str(db), db=db)
    assert no.code == 2
    assert "is there already, is no PDF, and was left as it is" in no.err
    assert Path(db).read_bytes() == before  # and nothing is recalled
    out = tmp_path / "sheet.pdf"
    assert stock(*words, "--out", str(out), db=db).code == 0
    assert stock(*words, "--out", str(out), db=db).code == 0  # the newer sheet
    assert out.read_bytes().startswith(b"%PDF")


def test_the_recall_says_where_all_of_it_went(db):
    code = made(db, "--process", "10")
    stock("out", code, "1", "--as", "broken", "--why", "a knock", db=db)
    said = stock("recall", code, "--why", "soft lids", db=db)
    assert "8 half-pints = broken 1 half-pint + on hand 7 half-pints" in said.out
    assert "all accounted for" in " ".join(said.out.split())
    body = stock("recall", code, "--json", db=db).json
    assert body["accounts"][0]["unaccounted"] == 0
    assert body["why"] == "soft lids"


def test_cover_first_and_steps_speak_json(db):
    code = made(db, "--process", "10")
    cover = stock("cover", "--json", db=db).json["cover"][0]
    assert (cover["on_hand"], cover["a_week"]) == (8, None)
    assert "too short to say" in stock("cover", "--persons", "4", db=db).out
    first = stock("first", "--json", db=db).json["first"][0]
    assert first["lot"] == code
    steps = stock("steps", code, "--json", db=db).json
    assert steps["gaps"] == ["what went into it was not booked"]
    assert json.dumps(steps)


def test_a_note_is_kept_and_shown_with_the_lot(db):
    code = made(db, "--process", "10")
    done = stock("note", code, "tart,", "sets well", "--about", "tasting", db=db)
    assert done.code == 0, done.err
    assert "tart, sets well" in stock("trace", code, db=db).out
    assert stock("note", code, "=1+1", db=db).code == 2


def test_out_after_midnight_of_an_earlier_day_is_the_night_after_it(db):
    """Two days ago at 0:20, by the night in which that day at the stove ended."""
    today = dt.datetime.now().astimezone().date()
    on = today - dt.timedelta(days=2)
    words = ("--load", "1", "--process", "10", "--on", on.isoformat())
    shown = stock("made", "8 half-pints plum jelly, pantry", *words, "--out", "00:20",
                  "--elevation", "2150ft", db=db)  # fmt: skip
    night = (on + dt.timedelta(days=1)).isoformat()
    assert f"00:20 of {night}, in the night after" in shown.out
    made(db, *words, "--out", "00:20")
    made(db, *words[:1], "2", *words[2:], "--out", "00:20", "--filled", "00:02")
    made(db, *words[:1], "3", *words[2:], "--out", "04:00")
    loads = stock("after", "--json", db=db).json["loads"]
    out = {load["load"]: load["out_at"][:16] for load in loads}
    assert out == {1: f"{night}T00:20", 2: f"{on}T00:20", 3: f"{on}T04:00"}


def put_up(what: str, *more: str, db: str):
    said = ("--elevation", "310m", "--yes", *more)
    done = stock("made", f"7 quarts {what}, pantry", *said, db=db)
    assert done.code == 0, done.err
    return done


def test_a_short_process_shows_its_choices_and_hours_when_it_is_booked(db):
    out = put_up("figs", "--process", "40", db=db).out
    assert re.search(r"too short: counts as never: .* (2 h 00|1 h 59) min left", out)
    assert "Look at the seals" not in out
    assert re.search(r"(2 h 00|1 h 59) min left", stock("after", db=db).out)
    assert stock("out", "figs", "1", "--as", "eaten", db=db).code == 3


def test_beans_out_of_boiling_water_are_on_no_list_and_have_the_strict_reply(db):
    put = ("--process", "40", "--on", "2 March 2026")
    out = put_up("green beans", *put, db=db).out
    assert "Discard it untasted" in out
    assert "Look at the seals" not in out
    assert "Discard it untasted" in stock("after", db=db).out
    assert stock("first", "--json", db=db).json["first"] == []
    assert stock("soon", "--days", "900", "--json", db=db).json["soon"] == []
    said = stock("check", "green beans", db=db).out
    assert "Discard it untasted" in said
    assert "start again from a hot pack" not in said
    for way in ("eaten", "tasted", "sold"):
        assert stock("out", "green beans", "1", "--as", way, db=db).code == 3
    assert stock("move", "green beans", "stand", "--quantity", "2", db=db).code == 3


def test_jars_never_processed_are_not_told_to_be_looked_at(db):
    out = put_up("figs", "--filled", "21:40", "--on", "2 March 2026", db=db).out
    assert "Look at the seals" not in out
    assert "Discard it untasted" in out
    assert "check missed" not in stock(db=db).out
    assert "Out of the canner" not in stock("after", db=db).out


def test_times_that_cannot_be_are_refused_and_the_next_day_is_shown(db):
    words = ("made", "9 half-pints plum jelly, pantry", "--process", "10", "--yes")
    day = ("--elevation", "310m", "--on", "2 March 2026")
    no = stock(*words, *day, "--filled", "09:00", "--out", "09:05", db=db)
    assert no.code == 3
    assert "are 5 min, and its process alone was 10 min" in no.err
    no = stock(*words, *day, "--filled", "09:00", "--out", "08:00", db=db)
    assert no.code == 3
    assert "out of the canner  08:00 of the next day" in no.out
    assert stock("--json", db=db).json == {"on_hand": []}
    done = stock(*words, *day, "--filled", "23:40", "--out", "00:20", db=db)
    assert done.code == 0, done.err
    (load,) = stock("after", "--json", db=db).json["loads"]
    assert load["out_at"].startswith("2026-03-03T00:20")


def test_what_stood_for_weeks_is_told_in_days(db):
    made(db, "--process", "10", "--on", "2 February 2026", "--out", "10:00")
    said = stock("check", "plum jelly", "--seals", "7 good 1 failed", db=db).out
    assert re.search(r"Out of the canner for \d+ days,", said)
    assert re.search(r"Out for \d+ days", stock("check", "plum jelly", db=db).out)


def test_dry_goods_by_hand_are_not_called_unprocessed(db):
    said = stock("made", "3 quarts dried apples, pantry", "--yes", db=db)
    assert said.code == 0, said.err
    assert "process" not in said.out


def test_jars_kept_cold_after_their_process_want_their_seals_seen(db):
    said = stock(
        *("made", "4 half-pints plum jelly, refrigerator", "--process", "10"),
        *("--elevation", "2150ft", "--yes"),
        db=db,
    )
    assert "10 min" in said.out
    assert "its seals have not been looked at" in said.out


def test_jars_kept_cold_after_too_short_a_process_stay_in_the_cold(db):
    """They are kept by the cold, so that nothing is held; and go on no shelf."""
    said = stock(
        *("made", "4 half-pints plum jelly, refrigerator", "--process", "3"),
        *("--elevation", "2150ft", "--yes"),
        db=db,
    )
    assert said.code == 0
    assert "On hold" not in said.out
    moved = stock("move", "plum jelly", "pantry", db=db)
    assert moved.code == 3
    assert "had no whole process" in moved.err
    assert stock("out", "plum jelly", "1", "--as", "eaten", db=db).code == 0


def test_jars_in_doubt_have_no_date_in_json_as_they_have_none_in_words(db):
    made(db, "--process", "3")
    (row,) = stock("--json", db=db).json["on_hand"]
    assert row["best_until"] is None
    assert "its process is in doubt" in row["best_until_why"]
    made(db, "--process", "10")
    assert stock("--json", db=db).json["on_hand"][1]["best_until"]
    assert stock(db=db).out.count("best until") == 0  # no seal was looked at yet


def test_what_is_to_be_minded_is_said_of_what_is_made_too(db):
    said = stock("made", "2 quarts lye, shed", "--yes", db=db)
    assert "Mind: lye burns skin and eyes" in " ".join(said.out.split())


def flat(text: str) -> str:
    return " ".join(text.split())


def test_what_was_not_said_of_jars_is_added_later(db):
    said = stock(
        *("made", "7 quarts green beans, pantry", "--process", "25", "--yes"),
        *("--canner", "dial-gauge", "--pack", "raw"),
        db=db,
    )
    code = re.search(r"L\w{5}-\w+", said.out)[0]
    assert "its height above the sea with stillroom stock complete" in flat(said.out)
    no = stock("out", code, "1", "--as", "eaten", db=db)
    assert "how many are due is not known" in flat(no.err)
    assert stock("complete", code, db=db).code == 3
    done = stock("complete", code, "--elevation", "655m", db=db)
    assert done.code == 0, done.err
    added = (
        "raw pack, at 2,149 ft (655 m), canner: dial-gauge; 25 min at 12 psi are due"
    )
    assert added in flat(done.out)
    assert "On hold: its seals have not been looked at" in flat(done.out)
    assert stock("out", code, "1", "--as", "eaten", db=db).code == 0


def test_a_place_whose_name_leaves_nothing_open_is_not_said_to_have_been_cold(db):
    run("stock", "made", "4 pints pickled beets, refrigerator", "--yes", "--db", db)
    said = run("stock", "cold", "pickled beets", "--as", "freezer", "--db", db)
    assert said.code == 3
    assert "is one that may be cold or not" in flat(said.out + said.err)


def test_loads_that_nobody_booked_are_said_where_the_page_says_them(db, monkeypatch):
    with open_records(db) as records:
        kitchen = Kitchen(records.ledger).begin().fill("plum jelly 1").can("canner/1")
    at = kitchen.at + dt.timedelta(hours=10)
    monkeypatch.setattr("stillroom.cli.commands.stock_after.now", lambda: at)
    said = " ".join(stock("after", db=db).out.split())
    assert "Was every load processed?" in said
    assert "): its process was not started." in said
    assert "are not booked yet" in said
    assert "Nothing is open" not in said
    assert (
        "process was not started" in stock("after", "--json", db=db).json["not_booked"]
    )
    later = at + dt.timedelta(days=4)
    monkeypatch.setattr("stillroom.cli.commands.stock_after.now", lambda: later)
    assert "Nothing is open" in stock("after", db=db).out


def test_jars_that_came_in_say_which_acid_their_process_counts_on(db):
    """Its minutes alone took them off hold, and of the acid nothing was said there."""
    stock("add", "3 quart jars tomatoes, pantry, from Ida", "--yes", db=db)
    stock("add", "3 pint jars green beans, pantry, from Ida", "--yes", db=db)
    height = ("--elevation", "310m", "--who", "Ida")
    minutes = ("--process", "50", "--canner", "boiling-water", "--pack", "hot")
    which = ("--which", "crushed tomatoes")
    said = stock("put-up", "tomatoes", *minutes, *height, *which, db=db).out
    flat = " ".join(said.split())
    assert "2 tbsp or 1/2 tsp to a quart" in flat
    assert "stillroom stock mend 3 --why WORDS, and discard it untasted" in flat
    assert "It is not on hold" in flat
    beans = ("--process", "20", "--canner", "dial-gauge", "--gauge", "11 psi")
    plain = stock("put-up", "green beans", *beans, "--pack", "raw", *height, db=db)
    assert "It is not on hold" in plain.out
    assert "acid" not in plain.out
    stock("add", "3 pint jars salsa, pantry, from Ida", "--yes", db=db)
    which = ("--which", "choice salsa")
    salsa = stock("put-up", "salsa", *minutes, *height, *which, db=db).out
    assert "1 1/2 cups of bottled lemon or lime juice" in " ".join(salsa.split())
    assert stock("mend", "3", "--why", "no acid", db=db).code == 0
    assert stock("out", "tomatoes", "1", "--as", "eaten", db=db).code == 3
    shop = stock("put-up", "tomatoes", "--bought", "--who", "Ida", db=db).out
    assert "It is not on hold" in shop
    assert "acid" not in shop
