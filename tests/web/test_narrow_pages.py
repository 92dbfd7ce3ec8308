"""On the narrowest phone no page scrolls sideways, and no word is torn in two."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from tests.web.test_stove_in_browser import Stove, begin, stove

__all__ = ["stove"]  # a fixture

Open = Callable[..., Page]
NARROW = 320

TORN = """() => {
  const torn = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let text = walk.nextNode(); text; text = walk.nextNode()) {
    const of = text.parentElement;
    if (!of.checkVisibility() || of.closest("pre, textarea, script, style, svg")) continue;
    for (const word of text.data.matchAll(/[\\p{L}\\p{N}]+/gu)) {
      const range = document.createRange();
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const boxes = [...range.getClientRects()].filter((box) => box.width);
      if (text.data[word.index - 1] === "\u00ad") boxes.splice(0, boxes.length - 1);
      const tops = boxes.map((box) => box.top);
      if (Math.max(...tops) - Math.min(...tops) > boxes[0]?.height / 2)
        torn.push(`${word[0]} in ${of.tagName}`);
    }
  }
  return torn;
}"""  # noqa: E501
CUT = """() => [...document.querySelectorAll("main *, header *, footer *")].filter(
    (e) => e.checkVisibility() && e.children.length === 0 && e.textContent.trim()
      && !e.closest("svg, pre, .unseen, .scrolls")
      && (e.getBoundingClientRect().right > innerWidth + 1
        || e.getBoundingClientRect().left < -1)
  ).map((e) => e.outerHTML.slice(0, 90))"""


def faults_of(page: Page) -> list[str]:
    page.evaluate("document.fonts.ready")
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    wide = page.evaluate("document.documentElement.scrollWidth")
    return [
        *([f"scrolls to {wide} px"] if wide > NARROW else []),
        *page.evaluate(TORN),
        *page.evaluate(CUT),
    ]


def test_every_load_and_batch_of_the_day_fits(open_page: Open, demo_site: str) -> None:
    page = open_page(NARROW, 640)
    page.goto(f"{demo_site}/day")
    links = page.locator("#loads a, #batches a").evaluate_all(
        "all => [...new Set(all.map(a => a.getAttribute('href')))]"
    )
    assert sum("/load/" in link for link in links) > 3
    found = {}
    for link in links:
        page.goto(f"{demo_site}{link}")
        if faults := faults_of(page):
            found[link] = faults
    assert found == {}


def test_a_begun_stove_fits(stove: Stove, open_page: Open) -> None:
    page = open_page(NARROW, 640)
    page.goto(stove.address)
    assert faults_of(page) == []
    begin(page, stove)
    assert faults_of(page) == []
    page.get_by_role("button", name="Begin").first.click()
    page.goto(stove.address)
    assert faults_of(page) == []


@pytest.mark.parametrize(
    "path",
    [
        *("/stock", "/stock/after", "/stock/made", "/stock/own", "/stock/from"),
        "/stove/broke",
        *("/stove/wrong", "/again", "/day/before"),
    ],
)
def test_pages_beside_a_begun_stove_fit(
    stove: Stove, open_page: Open, path: str
) -> None:
    page = open_page(NARROW, 640)
    begin(page, stove)
    page.goto(stove.address.replace("/stove", path))
    assert faults_of(page) == []


def fit_twice_as_large(page: Page) -> None:
    """Hold that nothing scrolls sideways, once the page is laid out anew."""
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    fits = "() => document.documentElement.scrollWidth <= 390"
    page.wait_for_function(fits, timeout=10_000)


@pytest.mark.parametrize("path", ["/day", "/book", "/kitchen", "/what-if", "/learned"])
def test_letters_twice_as_large_fit_a_phone(
    open_page: Open, demo_site: str, path: str
) -> None:
    """Old eyes set the letters of their phone to twice their size."""
    page = open_page(390, 844)
    page.goto(f"{demo_site}{path}")
    fit_twice_as_large(page)


def test_cards_and_fields_fit_with_letters_twice_as_large(
    open_page: Open, demo_site: str, stove: Stove
) -> None:
    page = open_page(390, 844)
    page.goto(f"{demo_site}/day")
    kept = page.locator("#loads a, #batches a").evaluate_all(
        "all => [...new Set(all.map(a => a.getAttribute('href')))]"
    )
    begin(page, stove)
    own = stove.address.replace("/stove", "/stock/own")
    cards = [f"{demo_site}{link}" for link in (kept[0], kept[-1])]
    for address in (stove.address, own, *cards):
        page.goto(address)
        fit_twice_as_large(page)


def test_the_scan_sees_a_torn_word_and_what_is_cut(
    open_page: Open, demo_site: str
) -> None:
    page = open_page(NARROW, 640)
    page.goto(f"{demo_site}/book")
    assert faults_of(page) == []
    heading = page.locator("h1")
    heading.evaluate("h => { h.style = 'width: 1em; word-break: break-all' }")
    assert any(fault.endswith(" in H1") for fault in faults_of(page))
    heading.evaluate("h => { h.style = 'position: relative; left: 300px' }")
    assert any("<h1" in fault for fault in faults_of(page))
