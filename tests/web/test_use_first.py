"""The page of what to eat first says how much is not on it."""

from stillroom.stock.commands import Receive
from stillroom.stock.handle import handle
from tests.stock.kitchen import MORNING, thing
from tests.web.test_stock import client, records

__all__ = ["client", "records"]


def test_what_stood_too_long_is_said_beside_the_list(client, records):
    for sentence in (
        "5 lb ground beef, counter, 22 November 2026",
        "9 lb plums, fridge",
    ):
        asked = Receive(things=(thing(sentence),), at=MORNING)
        handle(asked, ledger=records.ledger)
    page = client.get("/stock/first").text
    assert page.count("<li><b>") == 1
    assert "ground beef" not in page
    assert "1 lot of food on hand is not on this list" in page
