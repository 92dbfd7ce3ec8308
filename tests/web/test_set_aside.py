"""Jars whose seal failed: what is offered for them is what is published for them."""

import re
from collections.abc import Callable

from playwright.sync_api import Page, expect

from stillroom.stock.handle import stock_of
from tests.web.conftest import served
from tests.web.forms import forms, words
from tests.web.test_every_lid_sealed import farm
from tests.web.test_every_lid_sealed import open_page as pages

__all__ = ["farm", "pages"]  # fixtures


def keys_at(page: str, place: str) -> list[str]:
    (entry,) = re.findall(
        rf'<details class="entry" id="[^"]*-{place}">.*?</details>', page, re.DOTALL
    )
    return re.findall(r'name="deed" value="([a-z]+)">', entry)


def test_no_key_offers_to_eat_sell_or_give_what_did_not_seal(pages, farm):
    jelly = next(iter(farm.stock.lots))
    farm.later(13)
    farm.check(jelly, 7, 1, seen=None)
    client, _ = pages(1)
    offered = keys_at(client.get("/stock").text, "set-aside")
    assert offered[0] == "spoiled"
    assert not {"eaten", "sold", "given", "tasted"} & {*offered}


def test_jars_to_discard_are_booked_so_from_the_day_after(pages, farm):
    """After 24 h it said "Discard", and there was no key to say that it was done."""
    jelly = next(iter(farm.stock.lots))
    farm.later(13)
    farm.check(jelly, 6, 2, seen=None)
    client, records = pages(20)
    page = client.get("/stock/after").text
    assert "The 2 set aside are discarded" in words(page)
    (form,) = (f for f in forms(page, "/stock/ask") if ("deed", "spoiled") in f)
    asked = client.get("/stock/ask", params=dict(form))
    assert "Spoiled: 2 half-pints of plum jelly" in words(asked.text)
    (sure,) = forms(asked.text, "/stock/book")
    client.post("/stock/book", data=dict(sure))
    assert stock_of(records.ledger).places(jelly) == {"pantry": 6}


def test_one_jar_that_was_set_aside_is_one(pages, farm):
    jelly = next(iter(farm.stock.lots))
    farm.later(13)
    farm.check(jelly, 7, 1, seen=None)
    client, _ = pages(20)
    page = words(client.get("/stock/after").text)
    assert "The one set aside is discarded" in page
    assert "set aside are discarded" not in page


def test_while_there_is_a_choice_the_page_leads_to_where_it_is_said(
    pages, farm, open_page: Callable[..., Page]
):
    jelly = next(iter(farm.stock.lots))
    farm.later(13)
    farm.check(jelly, 6, 2, seen=None)
    client, _ = pages(1)
    with served(client.app) as address:
        page = open_page(390, 844)
        page.goto(f"{address}/stock/after")
        assert page.get_by_text("are discarded").count() == 0
        page.get_by_role("link", name="Say what became of them").click()
        entry = page.locator("details[id$=-set-aside]")
        expect(entry.get_by_role("button", name="Move")).to_be_in_viewport()
        expect(entry.locator("summary").first).to_be_in_viewport()
