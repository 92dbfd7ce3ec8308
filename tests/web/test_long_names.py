"""A name of one long word breaks on a phone, and pushes no page wide."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from stillroom.planning.day_file.dayfile import demo_day_text
from stillroom.records.days import open_records
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.web.conftest import remembered, served

Open = Callable[..., Page]
LETTERS = 45
WITH_STOCK = f"10 lb pears, cellar, today, from {'S' * LETTERS}, note {'n' * LETTERS}"


def with_long_names(text: str) -> str:
    """The same day; each thing and person in it has a name of 45 letters, no blank."""
    names: dict[str, str] = {}

    def long(found: re.Match[str]) -> str:
        number = len(names) + 1
        names.setdefault(found[1], f"W{number}".ljust(LETTERS, "abcdefg"[number % 7]))
        return f'name = "{names[found[1]]}"'

    text = re.sub(r'^name = "([^"]*)"', long, text, flags=re.M)
    return re.sub(
        r"^stands_on = .*",
        lambda line: re.sub(r'"([^"]*)"', lambda m: f'"{names[m[1]]}"', line[0]),
        text,
        flags=re.M,
    )


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The demo day with long names, kept in a record; it is invented."""
    with open_records(Path(tmp_path_factory.mktemp("long")) / "farm.db") as records:
        records.days.save(with_long_names(demo_day_text()), "typed")
        shop = Shop(records.days, seconds=1.0, planner=remembered)
        shop.plan_within(60)
        with served(build_app(shop, records=records)) as address:
            yield address


def wide_px(page: Page, address: str) -> int:
    page.goto(address)
    page.evaluate("document.fonts.ready")
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    return int(page.evaluate("document.documentElement.scrollWidth"))


@pytest.mark.parametrize("width", [320, 390])
def test_names_of_one_long_word_push_no_page_wide(
    open_page: Open, farm: str, width: int
) -> None:
    page = open_page(width, 800)
    page.goto(f"{farm}/stock")
    page.locator("#sentence").fill(WITH_STOCK)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Book it").click()
    expect(page.get_by_text("Booked").first).to_be_visible()
    page.goto(f"{farm}/stove")
    begin = page.get_by_role("button", name="Begin the day")
    if begin.count():  # once for both widths
        assert wide_px(page, f"{farm}/stove") == width
        begin.click()
        expect(page.locator("#plan-again")).to_be_visible()
    pages = ("day", "kitchen", "stove", "again", "stove/broke", "stock", "stock/from")
    too_wide = {
        name: wide
        for name in pages
        if (wide := wide_px(page, f"{farm}/{name}")) > width
    }
    assert too_wide == {}
    page.goto(f"{farm}/stock")
    lot = page.locator("a[href^='/stock/lot/']").first.get_attribute("href")
    assert wide_px(page, f"{farm}{lot}") == width
