"""Every hostile text on the pages of lots made, counts, mishaps and recalls."""

import uuid
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import Records, open_records
from stillroom.stock.commands import Receive
from stillroom.stock.handle import STREAM, handle
from stillroom.stock.lotcode import printed
from stillroom.web.app import build_app
from tests.running.a_run import RUN, Kitchen
from tests.stock.kitchen import MORNING, thing
from tests.stock.test_hostile_input import TEXTS, surrogates
from tests.web.conftest import ADDRESS
from tests.web.test_stock import Clock, Shop

SAID = [text for text in TEXTS if not surrogates(text)]
NO = (400, 404, 413, 422)


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with open_records(tmp_path / "stillroom.db") as opened:
        Kitchen(opened.ledger).begin().can("canner/1")
        asked = Receive(things=(thing("34 half-pints plum jelly, pantry"),), at=MORNING)
        handle(asked, ledger=opened.ledger)
        yield opened


@pytest.fixture
def client(records: Records) -> TestClient:
    app = build_app(Shop(), port=8765, records=records)  # type: ignore[arg-type]
    app.state.clock = Clock()
    return TestClient(app, base_url=ADDRESS, follow_redirects=False)


def forms(code: str) -> list[tuple[str, dict[str, str]]]:
    """Each posting page with fields that would be booked as they stand."""
    at = MORNING.isoformat()
    return [
        (
            "/stock/late",
            {"deed": "eaten", "lot": code, "quantity": "1", "at": at, "to": "Ida"},
        ),
        (
            "/stock/late",
            {"deed": "count-shelf", "place": "pantry", f"n.{code}": "3", "at": at},
        ),
        ("/stock/count/book", {"place": "pantry", f"n.{code}": "3"}),
        (
            "/stock/made/book",
            {
                "run": RUN,
                "load": "canner/1",
                "batch": "plum jelly 1",
                "number": "8",
                "place": "pantry",
            },
        ),
        (
            "/stove/broke/book",
            {
                "run": RUN,
                "load": "canner/1",
                "batch": "plum jelly 1",
                "crack": "ring",
            },
        ),
        ("/stove/doubt", {"run": RUN, "number": "1", "doubt": "wrong time"}),
        (f"/stock/recall/{code}", {"why": "soft lids"}),
        ("/stock/book", {"deed": "note", "lot": code, "why": "w", "about": "other"}),
        ("/stock/book", {"deed": "label", "lot": code, "hand": "written"}),
        ("/stock/book", {"deed": "hold", "lot": code, "doubt": "wrong time"}),
        (
            "/stock/book",
            {
                "deed": "process",
                "lot": code,
                "on": "yesterday",
                "began": "22:00",
                "ended": "22:11",
                "who": "Bram",
            },
        ),
    ]


def lasts(records: Records) -> tuple[int, int]:
    return records.ledger.last(STREAM), records.ledger.last(RUN)


def test_as_they_stand_the_forms_would_be_booked(client, records):
    """Else the tests below would show nothing."""
    code = printed("26M25" + "1M")
    for path, fields in forms(code)[:8]:
        before = lasts(records)
        answer = client.post(path, data={**fields, "token": uuid.uuid4().hex})
        assert answer.status_code in (200, 303), (path, answer.text)
        assert lasts(records) != before, path


def test_no_field_makes_a_page_fail_or_books_with_a_no(client, records):
    code = printed("26M25" + "1M")
    for path, fields in forms(code):
        for name in fields:
            for text in SAID:
                before = lasts(records)
                sent = {**fields, name: text, "token": uuid.uuid4().hex}
                answer = client.post(path, data=sent)
                told = (path, name, text[:40], answer.status_code)
                assert answer.status_code in (200, 303, *NO), told
                if answer.status_code in NO:
                    assert lasts(records) == before, told
                    assert answer.text, told


def test_no_field_without_its_name_of_ours_books_anything(client, records):
    code = printed("26M25" + "1M")
    before = lasts(records)
    for path, fields in forms(code):
        for text in SAID:
            answer = client.post(path, data={**fields, "token": text})
            assert answer.status_code in NO, (path, text[:40])
    assert lasts(records) == before


@pytest.mark.parametrize(
    "path",
    [
        "/stock/made?run=",
        "/stove/broke?run=",
        "/stove/broke?load=",
        "/stove/broke?done=",
        "/stove/wrong?run=",
        "/stock/count?place=",
        "/stock/count?booked=",
        "/stock/first?place=",
        "/stock/cover?persons=",
        "/stock/cover?weeks=",
        "/stock/after?booked=",
        "/stock/picture/",
    ],
)
def test_no_address_makes_a_page_fail(client, records, path):
    before = lasts(records)
    for text in SAID:
        if len(text) > 10_000 or ("/picture/" in path and not text.strip()):
            continue
        answer = client.get(path + quote(text))
        assert answer.status_code in (200, *NO), (path, text[:40])
    assert lasts(records) == before
