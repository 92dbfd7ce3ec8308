"""Each key says what it is of, to who hears it and does not see where it stands."""

import collections
import re

from starlette.testclient import TestClient

from stillroom.stock.commands import Receive
from stillroom.stock.handle import handle
from stillroom.web.app import build_app
from tests.stock.kitchen import thing
from tests.web.conftest import ADDRESS
from tests.web.forms import words
from tests.web.test_every_lid_sealed import farm
from tests.web.test_every_lid_sealed import open_page as pages
from tests.web.test_stock import client, records

__all__ = ["client", "farm", "pages", "records"]  # fixtures


def doubled(page: str) -> list[str]:
    """Names that two keys have which are not the same key."""
    keys = re.findall(r"<button\b([^>]*)>(.*?)</button>", page, re.DOTALL)
    heard = (
        label[1] if (label := re.search(r'aria-label="([^"]+)"', tag)) else words(inner)
        for tag, inner in keys
    )
    return [name for name, often in collections.Counter(heard).items() if often > 1]


def test_on_the_stock_page_each_lot_has_its_keys(client, records):
    at = client.app.state.clock.at
    for what in ("60 lids", "25 lb sugar", "9 lb plums"):
        for place in ("pantry", "shed"):
            came = Receive(things=(thing(f"{what}, {place}"),), at=at)
            handle(came, ledger=records.ledger)
    page = client.get("/stock").text
    assert "Counted" in page
    assert doubled(page) == []


def test_the_day_after_names_the_lot_that_a_key_puts_on_hold(pages, farm):
    """Twelve keys were heard as "Wrong time", and each holds a whole load."""
    client, _ = pages(20)
    page = client.get("/stock/after").text
    assert page.count("Wrong time<") >= 2
    assert doubled(page) == []


def test_each_person_has_her_own_key_for_a_break(demo_shop):
    page = TestClient(build_app(demo_shop), base_url=ADDRESS).get("/kitchen").text
    assert "another break" in page
    assert [
        name for name in doubled(page) if "break" in name or "absence" in name
    ] == []


def test_a_card_of_the_day_says_of_which_batch_it_is(demo_shop):
    page = TestClient(build_app(demo_shop), base_url=ADDRESS).get("/day").text
    held = re.findall(
        r'aria-label="The whole card: (Boil hard[^"]*|Sugar in[^"]*)"', page
    )
    assert held
    assert all(re.search(r", [a-z ]+ \d+$", name) for name in held)
