"""A picture of a lot, from the phone to its page."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from stillroom.records.pictures import LARGEST
from stillroom.stock.commands import Receive
from stillroom.stock.handle import handle, stock_of
from stillroom.stock.lotcode import printed
from stillroom.web.app import build_app
from tests.records.test_pictures import JPEG, png
from tests.stock.kitchen import MORNING, thing
from tests.web.conftest import served
from tests.web.forms import words
from tests.web.test_stock import Shop, client, records

__all__ = ["client", "records"]


@pytest.fixture
def code(records) -> str:
    asked = Receive(things=(thing("3 half-pints plum jelly, pantry"),), at=MORNING)
    stock, _ = handle(asked, ledger=records.ledger)
    return printed(next(iter(stock.lots)))


def send(client, code: str, raw: bytes, name: str = "../../etc/passwd.jpg"):
    return client.post(
        f"/stock/lot/{code}/picture", files={"picture": (name, raw, "image/svg+xml")}
    )


def test_it_is_kept_beside_the_record_and_shown_on_the_lot(client, records, code):
    for _ in range(2):
        page = send(client, code, JPEG)
        assert page.status_code == 200
    (name,) = stock_of(records.ledger).pictures(code.replace("-", "")[1:])
    shown = client.get(f"/stock/picture/{name}")
    assert shown.content == JPEG
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    assert f'src="/stock/picture/{name}"' in page.text
    assert (Path(records.where).parent / "stillroom-pictures" / name).exists()


@pytest.mark.parametrize(
    ("raw", "status", "said"),
    [
        (b"", 400, "no picture was chosen"),
        (b"<svg onload=alert(1)>", 400, "no picture in JPEG"),
        (JPEG + b"x" * LARGEST, 400, "make it smaller"),
        (JPEG + b"x" * 10_000_000, 413, "too large"),
    ],
)
def test_what_is_no_picture_is_refused_in_words(
    client, records, code, raw, status, said
):
    no = send(client, code, raw)
    assert no.status_code == status
    assert said in words(no.text)
    assert stock_of(records.ledger).sequence == 1


def test_six_pictures_are_enough_and_a_mistaken_one_is_taken_back(
    client, records, code
):
    for i in range(6):
        assert send(client, code, JPEG + bytes([i])).status_code == 200
    no = send(client, code, JPEG + b"seventh")
    assert no.status_code == 422
    assert "has 6 pictures" in words(no.text)


def test_a_lot_that_is_not_there_has_no_picture(client, code):
    assert send(client, "L26M25-ZZZ", JPEG).status_code in (400, 422)
    assert client.get("/stock/picture/../stillroom.db").status_code == 404
    assert client.get(f"/stock/picture/{'0' * 32}.jpg").status_code == 404


def test_a_large_picture_of_a_phone_is_made_smaller_first(
    records, code, open_page: Callable[..., Page], tmp_path: Path
):
    large = tmp_path / "large.png"
    large.write_bytes(png(900, 900))
    assert large.stat().st_size > LARGEST
    app = build_app(Shop(), records=records)  # type: ignore[arg-type]
    with served(app) as address:
        page = open_page(390, 844)
        page.goto(f"{address}/stock/lot/{code}")
        page.get_by_label("A picture").set_input_files(large)
        field = page.get_by_label("A picture")
        expect(field).to_have_attribute("data-smaller", re.compile("to [0-9]+ bytes"))
        page.get_by_role("button", name="Keep it").click()
        picture = page.locator("img.picture")
        picture.scroll_into_view_if_needed()
        expect(picture).to_have_js_property("naturalWidth", 900)
    (name,) = stock_of(records.ledger).pictures(code.replace("-", "")[1:])
    assert re.fullmatch(r"[0-9a-f]{32}\.jpg", name)
