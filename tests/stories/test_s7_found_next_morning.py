"""
The same jam, in the record: filled 21:40, found 07:15, and what may come of it.

Fifteen half-pints in two batches of one load that was never put on its clock, through
the pages, with a clock of its own (all invented).
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import Records, open_records
from stillroom.stock.cover import covers
from stillroom.stock.handle import stock_of
from stillroom.web.app import build_app
from tests.running.a_run import RUN, ZONE, Kitchen, batch, load
from tests.web.conftest import ADDRESS
from tests.web.forms import forms, send, words
from tests.web.test_stock import Clock, Shop

FILLED = dt.datetime(2026, 9, 12, 21, 40, tzinfo=ZONE)
FOUND = dt.datetime(2026, 9, 13, 7, 15, tzinfo=ZONE)
BOTH = (load(1, ("berry jam 1", 8)), load(2, ("berry jam 2", 7)))


class Farm:
    """The record, the pages over it, and their clock."""

    def __init__(self, records: Records, fruit: str = "gooseberry jam") -> None:
        self.records = records
        app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
        self.clock = Clock()
        app.state.clock = self.clock
        self.client = TestClient(app, base_url=ADDRESS)
        kitchen = Kitchen(records.ledger)
        kitchen.at = FILLED - dt.timedelta(minutes=40)
        batches = [
            replace(batch(n, jars), id=f"berry jam {n}", product=fruit, food="jam")
            for n, jars in ((1, 8), (2, 7))
        ]
        kitchen.begin(*batches, loads=BOTH)
        kitchen.fill("berry jam 1").fill("berry jam 2")
        assert kitchen.at == FILLED
        self.clock.at = FOUND

    def book_as_never_processed(self) -> None:
        page = self.client.get("/stock/made").text
        assert "Not out yet: canner run?" in page
        assert "its process was not started" in page
        for fields in forms(page, "/stock/made/book"):
            assert send(self.client, "/stock/made/book", fields).status_code == 200

    def board(self) -> str:
        day = RUN.rpartition("/")[2]
        return words(self.client.get(f"/stove?day={day}").text)

    def after(self) -> str:
        return self.client.get("/stock/after").text

    @property
    def codes(self) -> list[str]:
        stock = stock_of(self.records.ledger)
        return [code for code, lot in stock.lots.items() if "jam" in lot.what]


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with open_records(tmp_path / "stillroom.db") as opened:
        yield opened


@pytest.fixture
def farm(records: Records) -> Farm:
    farm = Farm(records)
    farm.book_as_never_processed()
    return farm


def test_fifteen_jars_in_two_lots_on_hold(farm: Farm):
    stock = stock_of(farm.records.ledger)
    assert sum(stock.balance(code) for code in farm.codes) == 15
    assert len(farm.codes) == 2
    text = words(farm.after())
    assert "sealed is not processed" in text
    assert "at kitchen, on hold" in text


def test_nine_hours_and_thirty_five_minutes_and_the_strict_reply_first(farm: Farm):
    text = words(farm.after())
    # The second batch was closed at 21:40, the first 20 min earlier.
    assert "9 h 35 min since" in text
    assert "9 h 55 min since" in text
    assert "14 h 25 min left" in text
    assert text.index("after 2 h discard") < text.index("refrigerate or freeze")
    assert "Univ. of Nebraska-Lincoln Extension" in text
    assert "never for the stand" in text


def test_never_pantry_count_label_or_stand(farm: Farm):
    stock = stock_of(farm.records.ledger)
    assert covers(stock, FOUND) == ()
    assert "gooseberry" not in words(farm.client.get("/stock/first").text)
    count = farm.client.get("/stock/count", params={"place": "kitchen, on hold"}).text
    assert "no pantry stock, not counted" in count
    assert 'name="n.' not in count
    for deed, more in (
        ("sold", {"quantity": "1", "to": "stand"}),
        ("given", {"quantity": "1", "to": "Ida"}),
        ("label", {"hand": "written"}),
        ("move", {"to": "pantry shelf B"}),
    ):
        typed = {"deed": deed, "lot": farm.codes[0], **more}
        no = farm.client.get("/stock/ask", params=typed)
        assert no.status_code == 422, deed
    page = farm.after()
    assert "Label printed" not in page


def test_own_use_from_the_cold_or_discard(farm: Farm):
    move = {"deed": "move", "lot": farm.codes[0], "to": "refrigerator"}
    asked = farm.client.get("/stock/ask", params=move)
    send(farm.client, "/stock/book", forms(asked.text, "/stock/book")[0])
    eat = {"deed": "eaten", "lot": farm.codes[0], "quantity": "1"}
    assert farm.client.get("/stock/ask", params=eat).status_code == 200
    eat["lot"] = farm.codes[1]  # still in the kitchen
    assert farm.client.get("/stock/ask", params=eat).status_code == 422
    spoil = {"deed": "spoiled", "lot": farm.codes[1], "quantity": "7"}
    assert farm.client.get("/stock/ask", params=spoil).status_code == 200


def test_it_is_never_called_safe_nor_heated_short_of_the_whole_process(farm: Farm):
    text = words(farm.after()).lower()
    assert "safe" not in text
    assert "reheat" not in text
    assert "reprocess." not in text


def test_the_stove_asks_no_more_once_they_are_booked(records: Records):
    """It went on to say "Cannot wait" and "load 2 is still to come" for three days."""
    farm = Farm(records)
    board = farm.board()
    assert "book them as never processed" in board
    farm.book_as_never_processed()
    board = farm.board()
    assert "never processed" not in board
    assert "Full boil now" not in board
    assert "is still to come" not in board


def test_one_load_of_two_that_is_booked_is_gone_alone(records: Records):
    farm = Farm(records)
    page = farm.client.get("/stock/made").text
    never = [one for one in forms(page, "/stock/made/book") if "never" in dict(one)]
    assert len(never) == 2
    send(farm.client, "/stock/made/book", never[0])
    board = farm.board()
    assert "book them as never processed" in board
    assert "Load 1 ·" not in board
    assert "Load 2 ·" in board


def test_figs_have_one_choice(records: Records):
    farm = Farm(records, "fig jam")
    farm.book_as_never_processed()
    text = words(farm.after())
    assert "Discard it untasted" in text
    assert "Freeze." not in text
    assert "refrigerate or freeze" not in text
    eat = {"deed": "eaten", "lot": farm.codes[0], "quantity": "1"}
    assert farm.client.get("/stock/ask", params=eat).status_code == 422


def test_a_process_that_took_place_is_taken_in_with_start_end_and_who(farm: Farm):
    def typed(**more: str):
        # the form of the first batch's lot, whose jars were closed at 21:20
        (fields,) = [
            f
            for f in forms(farm.after(), "/stock/book")
            if ("deed", "process") in f
            and any(
                k == "lot" and v.replace("-", "")[1:] == farm.codes[0] for k, v in f
            )
        ]
        kept = [(k, v) for k, v in fields if k not in more]
        return send(farm.client, "/stock/book", [*kept, *more.items()])

    assert typed(began="21:55", ended="22:06", who="").status_code == 422
    assert typed(began="21:55", ended="", who="Bram").status_code == 400
    assert "on hold" in farm.after().lower()
    done = typed(began="21:55", ended="22:06", who="Bram")
    assert done.status_code == 200
    assert "typed in late" in words(done.text)
    text = words(farm.after())
    assert "11 min, typed in late: 21:55 to 22:06, seen by Bram; 10 min are due" in text
    stock = stock_of(farm.records.ledger)
    assert stock.processed(farm.codes[0]).minutes == 11
    assert stock.processed(farm.codes[1]) is None


def test_the_next_evening_list_asks_whether_the_canner_was_run():
    plan = plan_the_day(read_day(demo_day_text()), seconds=1)
    assert any(
        line.startswith("Was every load processed?") for line in plan.evening_before
    )
    assert any(
        "Was every load processed?" in after.later.text for after in plan.afterwards
    )
    assert RUN  # the same day's own list is on the page of the day after


def test_the_day_after_asks_for_loads_that_are_not_booked(records: Records):
    farm = Farm(records)
    text = words(farm.after())
    assert "Was every load processed?" in text
    assert "load 2 (berry jam 2)" in text
