"""A full disk is no mistake in what was typed: 503; sent again it counts once."""

import contextlib
import sqlite3
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.records.damaged import open_or_only_read
from stillroom.records.days import Records, open_records
from stillroom.refusal import Damaged
from stillroom.running.clock import WallClock
from stillroom.running.commands import BeginDay
from stillroom.running.handle import handle, run_id
from stillroom.stock.handle import handle as book
from stillroom.stock.handle import stock_of
from stillroom.web.app import build_app
from tests.learning.test_record import A_LOAD
from tests.simulation.faults import Fault, Faults
from tests.stock.kitchen import Receive, thing
from tests.web.conftest import ADDRESS
from tests.web.test_stock import JUICE, Clock, Shop, hidden


@pytest.fixture
def records(tmp_path: Path):
    with open_records(tmp_path / "stillroom.db") as opened:
        yield opened


@pytest.fixture
def client(records: Records) -> TestClient:
    app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
    app.state.clock = Clock()
    return TestClient(app, base_url=ADDRESS, raise_server_exceptions=False)


def full(records: Records, tmp_path: Path) -> Faults:
    faults = Faults(records._engine, tmp_path / "stillroom.db", tmp_path / "none")
    faults.arm(Fault("full", nth=1))
    return faults


def test_a_full_disk_is_said_as_such_and_the_reloaded_page_books_once(
    client: TestClient, records: Records, tmp_path: Path
):
    sent = hidden(client.get(f"/stock/ask?deed=add&sentence={JUICE}").text)
    faults = full(records, tmp_path)
    said = client.post("/stock/book", data=sent)
    assert said.status_code == 503
    assert "<h1>Not now</h1>" in said.text
    assert "the disk is full: free some space" in said.text
    assert "reload this page" in said.text
    assert "/kitchen" not in said.text.split("<h1>")[1].split("</main>")[0]
    assert stock_of(records.ledger).sequence == 0
    faults.arm(None)
    for _ in range(2):
        again = client.post("/stock/book", data=sent, follow_redirects=False)
        assert again.status_code == 303
    assert stock_of(records.ledger).sequence == 1


def test_so_it_is_of_a_count_on_the_shelf(
    client: TestClient, records: Records, tmp_path: Path
):
    sent = hidden(client.get(f"/stock/ask?deed=add&sentence={JUICE}").text)
    client.post("/stock/book", data=sent)
    lot = stock_of(records.ledger).event(1).lot.code
    form = {"place": "freezer 2", f"n.{lot}": "13 bags", "token": "a" * 32}
    faults = full(records, tmp_path)
    said = client.post("/stock/count/book", data=form)
    assert said.status_code == 503, said.text
    assert "the disk is full" in said.text
    faults.arm(None)
    assert client.post("/stock/count/book", data=form).status_code == 200
    assert stock_of(records.ledger).sequence == 2


def test_a_record_that_can_only_be_read_says_so(tmp_path: Path):
    with open_records(tmp_path / "stillroom.db") as records:
        records.ledger._only_read = "it is damaged: it can only be read"
        app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
        app.state.clock = Clock()
        client = TestClient(app, base_url=ADDRESS)
        sent = hidden(client.get(f"/stock/ask?deed=add&sentence={JUICE}").text)
        said = client.post("/stock/book", data=sent)
    assert said.status_code == 503
    assert "it can only be read" in said.text


@pytest.fixture
def damaged(tmp_path: Path):
    """Open a record on a day under way of which one page of the file is broken."""
    file, opened = tmp_path / "stillroom.db", []

    def pages(of: str) -> TestClient:
        at = WallClock().now()
        with open_records(file) as records:
            begin = BeginDay(loads=(A_LOAD,), at=at)
            handle(begin, run_id(at.date()), ledger=records.ledger)
            sugar = Receive(things=(thing("25 lb sugar, pantry"),), at=at)
            book(sugar, ledger=records.ledger)
        with contextlib.closing(sqlite3.connect(file)) as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            asked = "SELECT rootpage FROM sqlite_master WHERE name = ?"
            ((page,),) = connection.execute(asked, [of])
            ((size,),) = connection.execute("PRAGMA page_size")
        body = bytearray(file.read_bytes())
        body[(page - 1) * size : page * size] = b"\xff" * size
        file.write_bytes(body)
        records = open_or_only_read(file)
        opened.append(records)
        app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
        return TestClient(app, base_url=ADDRESS, raise_server_exceptions=False)

    yield pages
    for records in opened:
        records.close()


STOCK = ("/stock", "/stock/after", "/stock/first", "/stock/cover", "/stock/count")


def test_a_damaged_record_is_shown_as_far_as_it_can_be_read_and_says_so(damaged):
    """With a day under way each page wanted to tell it of the clock, and wrote."""
    client = damaged("lot_by_name")
    for path in (*STOCK, "/stove", "/kitchen"):
        said = client.get(path)
        assert said.status_code == 200, path
        assert "it can only be read" in said.text
        assert "What to do: stop, put it aside and restore" in said.text
    sent = hidden(client.get(f"/stock/ask?deed=add&sentence={JUICE}").text)
    said = client.post("/stock/book", data=sent)
    assert said.status_code == 503
    assert "<h1>The record is damaged</h1>" in said.text
    assert "Nothing of this was booked" in said.text


def test_a_page_that_cannot_be_read_says_what_is_damaged_and_what_to_do(damaged):
    client = damaged("event")
    for path in STOCK:
        said = client.get(path)
        assert said.status_code == 503, path
        assert "<h1>The record is damaged</h1>" in said.text
        assert "What to do: stop, put it aside and restore" in said.text
        assert "Not now" not in said.text


def test_what_was_damaged_since_it_was_opened_is_said_as_such(
    client: TestClient, monkeypatch
):
    def broken(*_: object) -> None:
        raise Damaged("stillroom.db is damaged: put it aside and restore your copy")

    monkeypatch.setattr("stillroom.stock.handle.brought_up", broken)
    said = client.get("/stock")
    assert said.status_code == 503
    assert "<h1>The record is damaged</h1>" in said.text
    assert "put it aside and restore your copy. What this page would" in said.text


def test_what_was_typed_wrongly_is_still_400(client: TestClient):
    said = client.get("/stock/ask?deed=count&lot=x&quantity=many")
    assert said.status_code in (400, 422)
    assert "Not now" not in said.text
