"""A full disk is no mistake in what was typed: 503; sent again it counts once."""

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import Records, open_records
from stillroom.stock.handle import stock_of
from stillroom.web.app import build_app
from tests.simulation.faults import Fault, Faults
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


def test_what_was_typed_wrongly_is_still_400(client: TestClient):
    said = client.get("/stock/ask?deed=count&lot=x&quantity=many")
    assert said.status_code in (400, 422)
    assert "Not now" not in said.text
