"""The stock as it is kept at the terminal, in a real file."""

import re

import pytest

from stillroom.cli.commands import stock_to_day
from stillroom.measures import CUP_M3
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.records.days import open_records, seed_demo
from tests.cli.running import Said, run

JUICE = "14 bags redcurrant juice, 4 cups each, freezer 2, June"


@pytest.fixture
def stock(tmp_path):
    """Run a command of the stock on a record of its own, in which nothing is yet."""
    open_records(tmp_path / "farm.db").close()

    def stock_(*words: str) -> Said:
        return run("stock", *words, "--db", str(tmp_path / "farm.db"))

    return stock_


def test_a_sentence_is_shown_and_only_yes_books_it(stock):
    shown = stock("add", JUICE)
    assert "14 bags (56 cups)" in shown.out
    assert "Nothing was booked" in shown.out
    assert stock("--json").json == {"on_hand": []}
    assert "number 1" in stock("add", JUICE, "--yes").out
    (row,) = stock("--json").json["on_hand"]
    assert (row["place"], row["unit"], row["each"]) == ("freezer 2", "ul", 946_353)
    assert row["quantity"] == 14 * 946_353


def test_a_place_is_found_by_a_part_of_its_name(stock):
    for place in ("freezer bin 3", "freezer bin 31", "pantry", "pantry shelf 2"):
        stock("add", f"2 cups plum juice, {place}", "--yes")

    def at(place: str) -> set[str]:
        return {r["place"] for r in stock("--at", place, "--json").json["on_hand"]}

    assert at("bin 3") == {"freezer bin 3"}
    assert at("Freezer") == {"freezer bin 3", "freezer bin 31"}
    assert at("pantry") == {"pantry"}  # a place of that very name
    assert at("bin 4") == set()
    assert "freezer bin 31" not in stock("first", "--at", "bin 3").out


@pytest.mark.parametrize("parted", ["-", " ", "", " - "])
@pytest.mark.parametrize("mark", ["L", "l ", ""])
def test_a_lot_code_is_known_however_it_is_typed(stock, mark, parted):
    stock("add", JUICE, "--yes")
    (row,) = stock("--json").json["on_hand"]
    front, back = row["lot"].removeprefix("L").lower().split("-")
    typed = f"{mark}{front}{parted}{back}"
    assert stock("trace", typed, "--json").json["lot"]["lot"] == row["lot"]
    wrong = stock("trace", typed[:-1] + ("2" if typed[-1] != "2" else "3"))
    assert wrong.code == 2
    assert "wrong character" in wrong.err


@pytest.mark.parametrize(
    "said", [("--at", "freezer"), ("--thing", "plum juice"), ("--json",)]
)
def test_what_no_command_heeds_is_refused_before_its_name(stock, said):
    """ "stock --at freezer out" took a jar from the pantry; --json printed no JSON."""
    stock("add", "2 cups plum juice, pantry", "--yes")
    out = stock(*said, "out", "plum juice", "1 cup", "--as", "eaten")
    assert out.code == 2
    assert f"before 'out' nothing heeds {said[0]}" in out.err
    assert "eaten" not in stock("history").out


def test_drawing_more_than_there_is_asks_to_count(stock):
    stock("add", JUICE, "--yes")
    said = stock("use", "redcurrant juice", "15 bags")
    assert said.code == 3
    assert "count again?" in said.err
    refused = stock("use", "redcurrant juice", "15 bags", "--json")
    assert refused.code == 3


def test_february_shelf_count_spoiled_and_missed_checks(stock):
    # S8: 34 in the book, 31 on the shelf; spoiled ones are movements with a cause.
    stock("add", "34 half-pints plum jelly, pantry", "--yes")
    said = stock("count", "plum jelly", "31", "--why", "nobody knows")
    assert "the record had 34 half-pints, 3 half-pints fewer now" in " ".join(
        said.out.split()
    )
    stock("out", "plum jelly", "7", "--as", "spoiled", "--why", "lids up at six weeks")
    (row,) = stock("--json").json["on_hand"]
    assert row["quantity"] == 24
    history = " ".join(stock("history").out.split())
    assert "lids up at six weeks" in history
    assert "nobody knows" in history


def test_a_file_is_booked_whole_or_not_at_all(stock, tmp_path):
    file = tmp_path / "in.csv"
    file.write_text("quantity,what,place\n25 lb,pears,cellar\n3 bags,=1+1,freezer\n")
    said = stock("add", "--csv", str(file), "--yes")
    assert said.code == 2
    assert "line 3, what" in said.err
    assert stock("--json").json == {"on_hand": []}
    file.write_text("quantity,what,place\n25 lb,pears,cellar\n60,lids,drawer\n")
    assert "2 rows" in stock("add", "--csv", str(file), "--yes").out
    assert len(stock("--json").json["on_hand"]) == 2


def test_a_file_that_was_booked_is_not_booked_once_more(stock, tmp_path):
    """It doubled all that came in, without a word."""
    file = tmp_path / "in.csv"
    rows = "quantity,what,place,day\n25 lb,pears,cellar,\n60,lids,drawer,\n"
    file.write_text(rows)
    assert stock("add", "--csv", str(file), "--yes").code == 0
    stock("use", "pears", "5 lb")
    for added in ("", "9 lb,plums,cellar,\n"):  # whole, and with a row more
        file.write_text(rows + added)
        said = stock("add", "--csv", str(file), "--yes")
        assert said.code == 3
        err = " ".join(said.err.split())
        assert "2 rows of the file are in the record already" in err
        assert "25 lb (11.34 kg) of pears, cellar" in err
        assert "write its own day or a note" in err
        assert len(stock("--json").json["on_hand"]) == 2
    file.write_text("quantity,what,place,day\n25 lb,pears,cellar,yesterday\n")
    assert stock("add", "--csv", str(file), "--yes").code == 0
    assert len(stock("--json").json["on_hand"]) == 3


def test_what_was_taken_back_of_a_file_may_be_booked_again(stock, tmp_path):
    file = tmp_path / "in.csv"
    file.write_text("quantity,what,place\n25 lb,pears,cellar\n")
    stock("add", "--csv", str(file), "--yes")
    assert stock("mend", "1", "--why", "the wrong farm").code == 0
    assert stock("add", "--csv", str(file), "--yes").code == 0


def test_a_jam_that_nobody_processed_stays_on_hold(stock):
    # S7: sealed is not processed.
    made = stock("made", "15 half-pints gooseberry jam, pantry", "--load", "1", "--yes")
    assert "sealed is not processed" in made.out
    said = stock("out", "gooseberry jam", "1", "--as", "sold")
    assert said.code == 3
    assert "sealed is not processed" in said.err
    assert stock("soon").code == 0


def test_a_trace_and_a_recall_go_both_ways(stock):
    stock("add", "25 lb sugar, pantry, from the mill", "--yes")
    stock(
        "made",
        "8 half-pints plum jelly, pantry",
        "--from",
        "sugar=7 lb",
        *("--process", "10", "--elevation", "2150ft", "--yes"),
    )
    found = stock("trace", "sugar", "--json").json
    assert [each["what"] for each in found["made_of_it"]] == ["plum jelly"]
    jar = found["made_of_it"][0]["lot"]
    assert stock("trace", jar, "--json").json["inputs"][0]["supplier"] == "the mill"
    came = stock("trace", "--from", "The Mill", "--json").json
    assert [each["lot"] for each in came["made_of_it"]] == [jar]
    said = stock("trace", "--from", "the mill").out
    assert "What came from the mill" in said
    assert "8 half-pints of plum jelly" in said
    assert "nothing that came from 'Zeb'" in stock("trace", "--from", "Zeb").err
    assert stock("trace").code == stock("trace", jar, "--from", "Zeb").code == 2
    assert stock("recall", "sugar").code == 2  # why?
    sheet = stock("recall", "sugar", "--why", "glass in the sack").out
    for words in ("glass in the sack", "pantry: 8 half-pints", "the mill: sugar"):
        assert words in sheet
    assert stock("out", jar, "1", "--as", "eaten").code == 3


def test_a_trace_and_a_recall_of_beans_say_what_is_known_and_what_to_do(stock):
    how = ("--process", "20", "--canner", "dial-gauge", "--gauge", "8 psi")
    at = ("--pack", "hot", "--elevation", "3400ft", "--yes")
    stock("made", "8 pints green beans, pantry", *how, *at)
    said = " ".join(stock("trace", "green beans").out.split())
    assert "it was made here, and none was named" in said
    assert "it came in as it is" not in said
    sheet = " ".join(stock("recall", "green beans", "--why", "low gauge").out.split())
    assert "Taste none of it, not even to find out." in sheet
    assert "Discard it untasted, jars and all, where no animal reaches it." in sheet


def test_a_number_below_zero_is_told_in_words(stock):
    stock("add", "8 half-pints plum jelly, pantry", "--yes")
    for words in (
        ("add", "-3 bags plums, freezer"),
        ("count", "plum jelly", "-3"),
        ("out", "plum jelly", "-1", "--as", "eaten"),
    ):
        said = stock(*words)
        assert said.code == 2
        assert "A quantity is above zero" in said.err
    assert stock("count", "plum jelly", "--", "-3").code == 2
    assert "No such option" in stock("count", "plum jelly", "3", "--wy", "x").err
    assert stock("--json").json["on_hand"][0]["quantity"] == 8


def test_a_place_that_is_not_known_is_answered_with_those_that_are(stock):
    stock("add", "8 half-pints plum jelly, pantry", "--yes")
    stock("add", "60 lids, drawer", "--yes")
    said = stock("--at", "attic").out
    assert "Nothing of that is on hand. There is something at pantry, drawer." in said


def test_a_question_is_asked_without_a_full_stop_behind_it(stock):
    stock("add", "8 half-pints plum jelly, pantry", "--yes")
    said = stock("trace", "plum jely").err
    assert "is plum jelly meant?" in said
    assert "?." not in said


def test_pieces_are_called_by_their_name_and_days_are_written_out(stock):
    stock("add", "60 lids, drawer, 2 June 2026, best before 2031-06-30", "--yes")
    stock("add", "12 half-pint jars, shed, 2 June 2026", "--yes")
    made = ("--from", "lids=8", "--from", "half-pint jars=1", "--process", "10")
    stock("made", "8 half-pints plum jelly, pantry", *made, "--yes")
    traced = stock("trace", "plum jelly").out
    assert "- 8 lids L" in traced
    assert "- 1 half-pint jar L" in traced
    assert " of lids" not in stock("history").out
    assert "2 June 2026, best until 30 June 2031" in " ".join(stock().out.split())
    assert "2 June 2026, not written down: lids" in stock("steps", "plum jelly").out


def test_a_check_of_nothing_leaves_a_program_its_object(stock):
    stock("made", "8 half-pints plum jelly, pantry", "--process", "10", "--yes")
    assert "nothing was said of seals or set" in stock("check", "plum jelly").out
    assert stock("check", "plum jelly", "--json").json == {"booked": []}


@pytest.mark.parametrize("words", [("first",), ("steps", "plum jelly")])
def test_a_list_on_paper_leaves_a_program_its_object(stock, tmp_path, words):
    stock("add", "8 half-pints plum jelly, pantry", "--yes")
    paper = tmp_path / "list.pdf"
    on_paper = stock(*words, "--out", str(paper), "--json")
    assert on_paper.json == stock(*words, "--json").json
    assert paper.read_bytes().startswith(b"%PDF")


def test_a_check_prints_what_is_published_for_failed_jars(stock):
    stock("made", "8 half-pints plum jelly, pantry", "--process", "10", "--yes")
    said = stock("check", "plum jelly", "--seals", "7", "good", "1", "failed")
    assert "Jars that have not sealed" in said.out
    assert "This holds within 24 h" in said.out
    assert re.search(r"23 h 59 min are\s+left|24 h 00 min are\s+left", said.out)
    wrong = stock("check", "plum jelly", "--seals", "7", "fine")
    assert wrong.code == 2


def test_the_day_is_planned_from_what_is_on_hand(stock, tmp_path):
    with open_records(tmp_path / "farm.db") as records:
        seed_demo(records, demo_day_text())  # invented
    stock("add", JUICE, "--yes")
    stock("use", "redcurrant juice", "2 cups")
    stock("add", "25 lb sugar, pantry, best before 2027-03-31", "--yes")
    stock("add", "60 lids, drawer", "--yes")
    stock("add", "31 half-pints plum jelly, pantry", "--yes")
    assert "Saved as revision 2" in stock("to-day", "--yes").out
    with open_records(tmp_path / "farm.db") as records:
        shelf = read_day(records.days.current() or "").shelf
    assert [(lot.what, lot.count, lot.bags, lot.frozen) for lot in shelf[:4]] == [
        ("redcurrant juice", None, 0, True),  # the open bag; by what most fruit keeps
        ("redcurrant juice", None, 13, True),
        ("sugar", None, 0, False),
        ("lids", 60, 0, False),
    ]
    assert shelf[1].volume_m3 == pytest.approx(52 * float(CUP_M3), rel=1e-12)
    # of all else the stock knows nothing, so it stays as it was
    before = read_day(demo_day_text()).shelf
    had = ("sugar", "lids")
    assert shelf[4:] == tuple(lot for lot in before if lot.what not in had)


def test_what_is_past_eating_does_not_come_to_the_day_and_is_said(stock, tmp_path):
    with open_records(tmp_path / "farm.db") as records:
        seed_demo(records, demo_day_text())  # invented
    pesto = ("made", "4 cups pesto, refrigerator", "--on", "2026-01-05", "--yes")
    assert stock(*pesto).code == 0
    assert "Left out, for it stood too long" in stock("to-day", "--yes").err
    stock("add", "25 lb sugar, pantry", "--yes")
    said = " ".join(stock("to-day", "--yes").out.split())
    assert "Left out, for it stood too long to be eaten: pesto L26A05-1" in said
    with open_records(tmp_path / "farm.db") as records:
        shelf = read_day(records.days.current() or "").shelf
    assert "pesto" not in {lot.what for lot in shelf}


def test_a_day_saved_while_the_shelf_waits_for_a_yes_stays(
    stock, tmp_path, monkeypatch
):
    with open_records(tmp_path / "farm.db") as records:
        seed_demo(records, demo_day_text())  # invented
    stock("add", JUICE, "--yes")
    other = demo_day_text() + "# hers\n"

    def yes_after_a_while(yes: bool, json_: bool) -> bool:
        with open_records(tmp_path / "farm.db") as pages:
            pages.days.save(other, "kitchen form")
        return True

    monkeypatch.setattr(stock_to_day, "agreed", yes_after_a_while)
    said = stock("to-day")
    assert said.code == 3
    assert "day has moved on: seen up to number 1, now at number 2" in " ".join(
        said.err.split()
    )
    with open_records(tmp_path / "farm.db") as records:
        assert records.days.current() == other


@pytest.mark.parametrize(
    "words",
    [
        ("use", "L26M25-1X", "1"),
        ("use", "", "1"),
        ("use", "juice", "-3 bags"),
        ("count", "juice", "\u202e3"),
        ("mend", "1", "--why", "=cmd()"),
        ("add", "3 lb sugar, cellar, 1 January 2090", "--yes"),
        ("add", "x" * 100_000, "--yes"),
        ("add", "--csv", "/nowhere.csv"),
        ("move", "juice", "\x00"),
        ("trace", "nothing"),
        ("made", "8 half-pints jam, pantry", "--from", "sugar", "--yes"),
        ("made", "8 half-pints jam, pantry", "--on", "1 June 2090", "--yes"),
        ("made", "8 half-pints jam, pantry", "--out", "25:99", "--yes"),
    ],
)
def test_nonsense_is_answered_and_books_nothing(stock, words):
    said = stock(*words)
    assert said.code in (2, 3)
    assert said.err
    assert stock("--json").json == {"on_hand": []}


@pytest.mark.parametrize(
    ("day", "due"),
    [
        (demo_day_text(), "not known (the height of the kitchen was not said)"),
        (demo_day_text().replace("invented = true\n", ""), "10 min"),
    ],
)
def test_the_height_of_an_invented_kitchen_says_no_process_due(tmp_path, day, due):
    with open_records(tmp_path / "farm.db") as records:
        seed_demo(records, day)
    words = ("8 half-pints plum jelly, pantry", "--process", "10", "--yes")
    said = run("stock", "made", *words, "--db", str(tmp_path / "farm.db"))
    assert f"process due    {due}" in said.out


@pytest.mark.parametrize("said", [("--process", "40"), ("--load", "1")])
@pytest.mark.parametrize("what", ["rice", "oats", "dried tomatoes"])
def test_what_was_in_a_canner_is_no_dry_good_whatever_its_name(stock, what, said):
    made = stock("made", f"4 pints {what}, pantry", *said, "--yes")
    assert "On hold" in made.out
    assert stock("out", what, "1", "--as", "sold").code == 3


def test_what_is_carried_and_booked_late_says_when(stock):
    stock("add", "4 cups plum juice, freezer", "--yes")
    words = ("move", "plum juice", "fridge")
    for more, why in (
        (("--on", "yesterday"), "say the hour too"),
        (("--on", "tomorrow", "--clock", "9:00"), "is no day"),
        (("--clock", "noonish"), "is no clock time"),
    ):
        said = stock(*words, *more)
        assert said.code == 2
        assert why in " ".join(said.err.split())
    assert stock(*words, "--on", "yesterday", "--clock", "22:05").code == 0
    (row,) = stock("--json").json["on_hand"]
    assert row["place"] == "fridge"
    assert "22:05" in stock("history").out


def test_jars_that_stood_too_long_are_said_to_be_held_before_they_are_booked(stock):
    beans = (
        *("made", "7 pints green beans, pantry", "--process", "20", "--pack", "raw"),
        *("--canner", "dial-gauge", "--gauge", "12 psi", "--elevation", "2150ft"),
        *("--filled", "9:00", "--out", "13:30", "--on", "1 November 2026"),
    )
    held = "They will be on hold: green beans had 20 min, begun 3 h 30 min"
    said = " ".join(stock(*beans, "--began", "12:30").out.split())
    assert held in said
    assert "Nothing was booked." in said
    assert held not in " ".join(stock(*beans, "--began", "9:30").out.split())


def test_what_has_its_acid_by_the_jar_has_that_said_beside_its_process(stock):
    height = ("--elevation", "500ft", "--process", "45")
    figs = stock("made", "6 pints figs, pantry", *height).out
    assert "process due    45 min" in figs
    assert (
        "its acid       Acid goes into each jar: 1 tbsp of bottled lemon juice" in figs
    )
    assert "its acid" not in stock("made", "6 pints plums, pantry", *height).out


def test_jam_of_what_is_not_acid_has_the_acid_of_its_recipe_said_everywhere(stock):
    """Minutes alone released fig jam, and its lemon juice was never spoken of."""
    lemon = "1/2 cup of bottled lemon juice to 4 cups of fig"
    jars = ("--elevation", "500ft", "--process", "5")
    made = stock("made", "6 half-pints fig jam, pantry", *jars).out
    assert lemon in " ".join(made.split())
    stock("add", "6 half-pint jars fig jam, pantry", "--yes")
    held = " ".join(stock("out", "fig jam", "1", "--as", "eaten").err.split())
    assert "and that its acid went in" in held
    assert lemon in held


def test_a_count_of_more_than_there_ever_was_is_booked_and_asked_about(stock):
    stock("add", "12 bags plum juice, freezer 2", "--yes")
    assert "Mind" not in stock("count", "plum juice", "11").out
    more = " ".join(stock("count", "plum juice", "21").out.split())
    assert "the lot never had more than 12 bags" in more
    assert "stillroom stock mend 3 --why" in more


def test_what_stood_too_long_says_so_where_all_is_listed(stock):
    """It was on no list to eat, and stood in that of the shelf as any other."""
    day = ("--on", "2 March 2026", "--yes")
    stock("made", "4 half-pints garlic in oil, fridge", *day)
    stock("made", "2 crocks chicken soup, cellar", *day)
    stock("made", "2 half-pints pickled beets, fridge", *day)
    said = " ".join(stock().out.split())
    assert "eaten no more: it was" in said
    assert "eaten no more: it stood out of the cold for longer than 2 h" in said
    assert said.count("eaten no more") == 2
    soon = stock("soon", "--days", "3650", "--json").json
    assert {row["what"] for row in (*soon["soon"], *soon["unknown"])} == {
        "pickled beets"
    }
    stock("recall", "pickled beets", "--why", "a soft lid")
    soon = stock("soon", "--days", "3650", "--json").json
    assert soon["soon"] == soon["unknown"] == []
    stock("mend", "4", "--why", "another lot")
    assert [row["what"] for row in stock("first", "--json").json["first"]] == [
        "pickled beets"
    ]


def test_the_day_in_the_sentence_is_the_day_it_was_made(stock):
    """Jelly of June was booked as made today, with a date of best to go by it."""
    how = ("--process", "10", "--elevation", "310m", "--yes")
    assert (
        stock("made", "8 half-pints plum jelly, pantry, 12 June 2026", *how).code == 0
    )
    assert stock("made", "4 half-pints plum jelly, pantry 3 March 2026", *how).code == 0
    days = {row["day"] for row in stock("--json").json["on_hand"]}
    assert days == {"2026-06-12", "2026-03-03"}
    two = stock(
        "made", "2 pints plum jelly, pantry, 12 June 2026", "--on", "today", *how
    )
    assert "say one of them" in " ".join(two.err.split())
    packed = stock("made", "7 pints peaches (raw pack), pantry", *how)
    assert "its pack apart, raw" in " ".join(packed.err.split())
    for more in ("from Ida", "paid 3.50"):
        no = stock("made", f"2 pints plum jelly, pantry, {more}", *how)
        assert f"the sentence has '{more}'" in " ".join(no.err.split())
    assert len(stock("--json").json["on_hand"]) == 2


def test_beans_in_a_refrigerator_are_listed_with_their_hold_and_their_date(stock):
    """They stood there with neither."""
    booked = stock(
        *("made", "7 pints green beans, refrigerator", "--on", "yesterday", "--yes")
    )
    assert booked.code == 0, booked.err
    said = " ".join(booked.out.split())
    assert "On hold: it is not acid and had no process: 3 to 4 days" in said
    listed = " ".join(stock().out.split())
    assert "best until" in listed
    assert "ask your extension service" in listed
    assert "on hold: it is not acid" in listed
