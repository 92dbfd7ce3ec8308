"""The shelf of the form, taken from the stock; all of it is invented."""

import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.records.days import Records, open_records
from stillroom.stock.commands import Make, Receive, Take
from stillroom.stock.events import Batch, Kind, Way
from stillroom.stock.handle import handle, stock_now
from stillroom.web import shelf_taken
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.stock.kitchen import MORNING, thing
from tests.web.conftest import ADDRESS, remembered
from tests.web.forms import Fields, send, words


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with open_records(tmp_path / "stillroom.db") as opened:
        opened.days.save(new_day_text(), "begun")
        yield opened


@pytest.fixture
def client(records: Records) -> Iterator[TestClient]:
    shop = Shop(records.days, seconds=0.5, planner=remembered)
    yield TestClient(build_app(shop, port=8765, records=records), base_url=ADDRESS)
    shop.plan_within(60)


def book(records: Records, sentence: str) -> None:
    handle(Receive(things=(thing(sentence),), at=MORNING), ledger=records.ledger)


def typed(page: str) -> Fields:
    """What the whole form would send, ticks and choices too."""
    form = page.split('<form method="post" action="/kitchen">')[1]
    fields = re.findall(r'<input [^>]*?name="([^"]+)" value="([^"]*)"([^>]*)>', form)
    sent = [
        (name, value)
        for name, value, more in fields
        if f'name="{name}" value="{value}" checked' in form
        or not re.search(rf'type="checkbox"[^>]*name="{re.escape(name)}"', form)
    ]
    for name, options in re.findall(
        r'<select id="[^"]+" name="([^"]+)"[^>]*>(.*?)</select>', form, re.S
    ):
        chosen = re.search(r'value="([^"]*)" selected', options)
        sent.append((name, chosen[1] if chosen else ""))
    return sent


def shelf(page: str) -> list[str]:
    return re.findall(r'name="shelf\[\d+\]:is" value="([^"]*)"', page)


def test_the_form_takes_what_is_on_hand_and_keeps_what_stock_never_had(
    client: TestClient, records: Records
) -> None:
    before = records.days.current()
    book(records, "5 bags plum juice, 4 cups each, freezer, today")
    page = client.get("/kitchen?shelf=stock").text
    assert shelf(page) == [
        *("plum juice", "sugar", "regular powdered pectin"),
        *("half-pint jars", "lids"),
    ]
    assert 'value="5 bags of 4 cups"' in page
    said = words(page.split('id="taken"')[1].split("</div>")[0])
    assert "1 line comes from Stock." in said
    assert "Stock knows nothing of sugar, regular powdered pectin, half-pint" in said
    assert records.days.current() == before  # shown, and not saved


def test_what_is_used_up_goes_from_the_form_and_is_named(
    client: TestClient, records: Records
) -> None:
    book(records, "5 lb sugar, pantry, today")
    (code,) = stock_now(records.ledger).on_hand()
    take = Take(lot=code, quantity="5 lb", way=Way.SPOILED, at=MORNING)
    handle(take, ledger=records.ledger)
    page = client.get("/kitchen?shelf=stock").text
    assert "sugar" not in shelf(page)
    assert "Stock has none to use of sugar: no longer on this shelf." in words(page)
    assert "Stock has nothing that a batch could draw on." in words(page)


def test_the_key_in_the_form_keeps_all_else_that_was_typed(
    client: TestClient, records: Records
) -> None:
    book(records, "5 bags plum juice, 4 cups each, freezer, today")
    fields = typed(client.get("/kitchen").text)
    fields = [
        (name, "19 qt" if name == "kitchen.pots[1]:volume" else value)
        for name, value in fields
    ]
    page = send(client, "/kitchen", [*fields, ("do", "take-stock")]).text
    assert 'value="19 qt"' in page
    assert 'value="5 bags of 4 cups"' in page
    sent = send(client, "/kitchen", [*typed(page), ("do", "save")])
    assert sent.url.path == "/day"
    day = read_day(records.days.current() or "")
    juice = day.shelf[0]
    assert (juice.what, juice.bags, juice.frozen) == ("plum juice", 5, True)
    assert stock_now(records.ledger).on_hand()  # planning a day draws nothing


def test_pages_without_a_record_offer_no_stock(shop: Shop) -> None:
    client = TestClient(build_app(shop, port=8765), base_url=ADDRESS)
    page = client.get("/kitchen?shelf=stock").text
    assert "take-stock" not in page
    assert 'id="taken"' not in page


def test_what_the_form_has_no_lines_for_is_said(
    client: TestClient, records: Records, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shelf_taken, "MOST", 7)
    for n in range(1, 9):
        book(records, f"{n} lb plums, cellar, today")
    page = client.get("/kitchen?shelf=stock").text
    assert len(shelf(page)) <= 7
    assert "lots of plums stay in the stock, what keeps longest." in words(page)


def test_what_stood_too_long_to_be_eaten_is_left_out_and_said(
    client: TestClient, records: Records
) -> None:
    pesto = thing("4 cups pesto, refrigerator", kind=Kind.HALF_MADE)
    day = dt.date(2026, 6, 1)
    asked = Make(thing=pesto, inputs=(), batch=Batch(), on=day, at=MORNING)
    handle(asked, ledger=records.ledger)
    book(records, "10 lb sugar, pantry")
    page = client.get("/kitchen?shelf=stock").text
    assert "sugar" in shelf(page)
    assert "pesto" not in shelf(page)
    assert "Left out, for it stood too long to be eaten: pesto L26" in words(page)
