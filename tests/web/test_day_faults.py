"""A day that cannot be read, told on a page: the part of the form, and what to do."""

from __future__ import annotations

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import check_day, new_day_text
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.web.conftest import ADDRESS, MemoryStore, remembered


def without_a_shelf() -> str:
    """The small day, and nothing on its shelf."""
    text = re.sub(r"(?ms)^\[\[shelf\]\].*?(?=^\[\[?(?!shelf))", "", new_day_text())
    assert [fault.key for fault in check_day(text)] == ["shelf"]
    return text


def shown(text: str, address: str) -> str:
    app = build_app(Shop(MemoryStore(text), seconds=0.1, planner=remembered), port=8765)
    with TestClient(app, base_url=ADDRESS) as client:
        return client.get(address).text


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.mark.parametrize("address", ["/day", "/what-if"])
def test_a_day_without_a_shelf_is_told_by_the_form_and_leads_there(address):
    page = shown(without_a_shelf(), address)
    said = "The shelf : nothing stands here yet: press “another thing on the shelf”"
    assert said in plain(page)
    assert "[[shelf]]" not in page
    assert 'href="/kitchen#fault-shelf"' in page
    # the key and the place are there
    form = shown(without_a_shelf(), "/kitchen")
    assert 'id="fault-shelf"' in form
    assert ">another thing on the shelf<" in form


def test_the_terminal_keeps_the_words_of_the_file():
    (fault,) = check_day(without_a_shelf())
    assert fault.what == "this is missing; write a table [[shelf]]"


def test_a_field_of_one_row_is_named_and_what_the_form_has_not_is_left_to_the_file():
    text = new_day_text().replace('quantity = "', 'quantitee = "', 1)
    page = shown(text, "/day")
    assert 'href="/kitchen#fault-shelf%5B1%5D.quantity"' in page
    assert "The shelf, number 1: How much : this is not filled in yet" in plain(page)
    assert re.search(r'href="/kitchen/file">Line \d+, shelf\[1\]\.quantitee<', page)
    assert 'id="fault-shelf[1].quantity"' in shown(text, "/kitchen")


def test_what_is_no_file_at_all_is_mended_in_the_file():
    page = shown("[day\nname = 1\n", "/day")
    assert 'href="/kitchen/file">Line 1' in page
