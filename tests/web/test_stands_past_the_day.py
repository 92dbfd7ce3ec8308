"""Goods in a dryer or a crock: booked with their day, closed when it is said."""

import datetime as dt
from dataclasses import replace

import pytest
from starlette.testclient import TestClient

from stillroom.records.days import Records
from stillroom.refusal import Refused
from stillroom.running.commands import FinishStep
from stillroom.stock.commands import Check, Label, Take
from stillroom.stock.events import Hand, Way
from stillroom.stock.handle import KeptStock, stock_of
from stillroom.stock.lotcode import printed
from stillroom.stock.making import holds
from tests.running.a_run import START, Kitchen, batch
from tests.web.forms import forms, send, words
from tests.web.test_lots_made import client, records

__all__ = ["client", "records"]  # fixtures

DRIED = replace(
    batch(1, 2),
    id="dried apples 1",
    product="dried apples",
    food="dried fruit",
    jar="quart",
    canned=False,
    pot="",
    boil_step="",
    boil_min=None,
    closes="start",
    stands="in the dryer",
)
KRAUT = replace(
    DRIED,
    id="sauerkraut 1",
    product="sauerkraut",
    place="refrigerator",
    closes="weigh_down",
    stands="in the crock",
)


def begun(records: Records, made) -> Kitchen:
    kitchen = Kitchen(records.ledger)
    kitchen.begin(batch(1, 8), batch(2, 7), made)
    return kitchen


def booked(client: TestClient, records: Records, made) -> str:
    kitchen = begun(records, made).later(20)
    kitchen.do(FinishStep(batch=made.id, step=made.closes, at=kitchen.at))
    send(
        client,
        "/stock/made/book",
        forms(client.get("/stock/made").text, "/stock/made/book")[0],
    )
    lots = stock_of(records.ledger).lots
    (code,) = (code for code, lot in lots.items() if lot.what == made.product)
    return code


@pytest.mark.parametrize("made", [DRIED, KRAUT], ids=lambda made: made.product)
def test_what_stands_past_the_day_is_not_filled_and_closed(client, records, made):
    kitchen = begun(records, made)
    page = words(client.get("/stock/made").text)
    assert "Filled and closed" not in page
    kitchen.later(20).do(FinishStep(batch=made.id, step=made.closes, at=kitchen.at))
    page = words(client.get("/stock/made").text)
    assert f"It stands {made.stands}, and is booked on hold" in page
    assert "Filled and closed" not in page
    assert f"Put {made.stands}" in page
    assert "Out of the canner" not in page


@pytest.mark.parametrize("made", [DRIED, KRAUT], ids=lambda made: made.product)
def test_it_has_no_label_and_is_not_sold_until_it_is_said_to_be_closed(
    client, records, made
):
    code = booked(client, records, made)
    kept, at = KeptStock(records.ledger), START + dt.timedelta(hours=2)
    assert "it stands " + made.stands in " ".join(holds(stock_of(records.ledger), code))
    with pytest.raises(Refused, match=made.stands):
        kept.handle(Label(lot=code, hand=Hand.WRITTEN, at=at, token="label it now"))
    for way in (Way.SOLD, Way.GIVEN):
        with pytest.raises(Refused, match=f"{made.stands}.*say how many"):
            kept.handle(
                Take(
                    lot=code,
                    quantity="1",
                    way=way,
                    at=at,
                    token=f"{way} it now",
                    to="Ada",
                )
            )
    page = client.get("/stock/after").text
    assert "Label printed" not in words(page)
    asked = {"deed": "sold", "lot": printed(code), "quantity": "1", "back": "/stock"}
    no = words(client.get("/stock/ask", params=asked).text)
    assert "say how many jars that gave: the page of the day after" in no
    lot = words(client.get(f"/stock/lot/{printed(code)}").text)
    assert "Filled and closed" not in lot
    assert f"Put {made.stands}" in lot


@pytest.mark.parametrize(
    ("made", "key"),
    [
        (DRIED, "2 quarts: dry and closed in jars"),
        (KRAUT, "2 quarts: done fermenting and packed in jars"),
    ],
    ids=lambda one: getattr(one, "product", ""),
)
def test_one_key_says_that_it_is_closed_and_then_it_gets_its_label(
    client, records, made, key
):
    code = booked(client, records, made)
    page = client.get("/stock/after").text
    assert key in words(page)
    send(client, "/stock/book", forms(page, "/stock/book")[0])
    assert holds(stock_of(records.ledger), code) == ()
    page = words(client.get("/stock/after").text)
    assert key not in page
    assert "Label printed" in page
    lot = words(client.get(f"/stock/lot/{printed(code)}").text)
    assert key.split(": ")[1].capitalize() in lot
    assert "Seals" not in lot


def test_another_number_is_not_taken_for_what_was_booked(client, records):
    code = booked(client, records, DRIED)
    kept, at = KeptStock(records.ledger), START + dt.timedelta(days=1)
    with pytest.raises(Refused, match="count"):
        kept.handle(Check(lot=code, good=3, at=at, token="three of two"))
    assert holds(stock_of(records.ledger), code)


def test_an_entry_of_before_says_nothing_of_a_dryer_and_still_reads(client, records):
    code = booked(client, records, replace(DRIED, stands=""))
    assert holds(stock_of(records.ledger), code) == ()
