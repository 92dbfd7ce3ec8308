"""Whatever is typed or sent: a clear no, and nothing of it in the record."""

import uuid
from pathlib import Path
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import open_records
from stillroom.stock.handle import STREAM
from stillroom.web.app import build_app
from tests.cli.running import run
from tests.stock.test_rows_follow import tables
from tests.web.conftest import ADDRESS
from tests.web.test_stock import Clock, Shop

TEXTS = (
    "",
    " ",
    "\x00",
    "plums\x00",
    "\udcff",
    "plums \ud800",
    "\u202eslmulp",
    "plu\u200bms",
    "plums\u2066",
    "e\u0301" * 90,
    "\U0001fad9",
    "\ufdfa" * 50,
    "=1+1",
    "@cmd",
    "'; DROP TABLE lot; --",
    "%s%n{0}",
    "L26M25-1",
    "L99Z99-99",
    "26M25" + "\u0661",
    "-1",
    "0",
    "1e999",
    "NaN",
    "inf lb",
    "1/0 lb",
    "99999999999999999999999 lb",
    "0.00000000001 lb",
    "3 furlongs",
    "\u0661\u0662 lb",
    "x" * 100_000,
    "9" * 100_000,
    "25 lb plums, cellar, 31 February",
    "25 lb plums, cellar, 12 June 2099",
    "-25 lb plums, cellar",
    "0 lb plums, cellar",
    "1000000000000 lb plums, cellar",
    "25 lb plums, set aside",
)
FIELDS = ("lot", "place", "quantity", "to", "sentence", "seals", "seen", "deed")
DEEDS = (
    {"deed": "add", "sentence": "25 lb plums, cellar"},
    {"deed": "eaten", "lot": "pears", "quantity": "1 lb"},
    {"deed": "move", "lot": "pears", "quantity": "1 lb", "to": "pantry"},
    {"deed": "count", "lot": "pears", "quantity": "1 lb"},
    {"deed": "check", "lot": "pears", "seals": "7 good"},
)


def surrogates(text: str) -> bool:
    """Whether no form and no address can carry it at all."""
    return any("\ud800" <= sign <= "\udfff" for sign in text)


def some_for(where: str) -> tuple[str, ...]:
    """Return all texts for a file; for a server those that it may read otherwise."""
    return TEXTS[:14] if "://" in where else TEXTS


@pytest.fixture
def kept(database: str) -> str:
    assert (
        run("stock", "add", "25 lb pears, cellar", "--yes", "--db", database).code == 0
    )
    return database


def test_no_page_fails_or_books_what_was_not_confirmed(kept: str):
    before = tables(kept)
    with open_records(kept) as records:
        app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
        app.state.clock = Clock()
        client = TestClient(app, base_url=ADDRESS)
        for text in some_for(kept):
            if surrogates(text):
                continue
            for deed in DEEDS:
                for field in (*deed, "place"):
                    typed = {**deed, field: text}
                    if len(text) < 10_000:
                        answer = client.get("/stock/ask", params=typed)
                        assert answer.status_code in (200, 400, 422), (typed, answer)
                answer = client.post("/stock/book", data={**deed, "token": text})
                assert answer.status_code in (400, 413), text[:40]
            for page in ("/stock/lot/", "/stock/recall/", "/stock/steps/"):
                if text.strip() and len(text) < 1000 and "/" not in text:
                    answer = client.get(page + quote(text))
                    assert answer.status_code in (200, 400, 404, 422), text[:40]
        assert records.ledger.last(STREAM) == 1
    assert tables(kept) == before


def test_what_is_confirmed_is_booked_whole_or_not(kept: str):
    with open_records(kept) as records:
        app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
        app.state.clock = Clock()
        client = TestClient(app, base_url=ADDRESS, follow_redirects=False)
        for text in some_for(kept):
            if surrogates(text):
                continue
            for deed in DEEDS:
                field = next(name for name in reversed(FIELDS) if name in deed)
                for name in {field, "lot", "to"} & deed.keys():
                    last = records.ledger.last(STREAM)
                    token = uuid.uuid4().hex
                    answer = client.post(
                        "/stock/book", data={**deed, name: text, "token": token}
                    )
                    assert answer.status_code in (303, 400, 413, 422), (name, text[:40])
                    booked = records.ledger.last(STREAM) - last
                    assert booked == (answer.status_code == 303)
    assert run("check", "--db", kept).code == 0


def test_no_command_fails_or_half_books(kept: str, tmp_path: Path):
    before = tables(kept)
    for text in some_for(kept):
        if "\x00" in text or len(text) > 50_000 or text[:1] == "-":
            continue  # no shell can pass it on, or it is taken for an option
        for words in (
            ("use", text, "1 lb"),
            ("use", "pears", text),
            ("use", "pears", "1 lb", "--at", text or "nowhere"),
            ("out", text, "1 lb", "--as", "sold"),
            ("move", text, "pantry"),
            ("count", text, "1 lb"),
            ("trace", text),
            ("recall", text, "--why", "soft"),
            ("history", text or "none"),
            ("steps", text),
            ("check", text, "--seals", "1 good"),
            ("label", text),
            ("hold", text),
            ("add", text, "--yes"),
            ("made", text, "--yes"),
        ):
            found = run("stock", *words, "--db", kept)
            assert found.code in (0, 2, 3), (words, found.code)
            if found.code == 0 and words[0] != "history":
                pytest.fail(f"{words} was done: {found.out}")
            assert found.err.strip() or found.out.strip(), words
    assert tables(kept) == before


def test_ten_megabytes_are_refused_at_once(kept: str, tmp_path: Path):
    big = tmp_path / "big.csv"
    big.write_bytes(b"what,quantity,place\n" + b"plums,1 lb,cellar\n" * 600_000)
    before = tables(kept)
    found = run("stock", "add", "--csv", str(big), "--yes", "--db", kept)
    assert found.code == 2
    said = " ".join(found.err.split())
    assert "a CSV file has at most 1 MB" in said
    assert "Nothing was booked" in said
    assert tables(kept) == before
