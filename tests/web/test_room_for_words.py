"""Words have the room that they need: no half columns, no broken jar, no key adrift."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page

from tests.web.test_stove_in_browser import Stove, begin, stove

__all__ = ["stove"]  # a fixture

Open = Callable[..., Page]


def lines(words: Locator) -> float:
    """How many lines the words take, by their own height."""
    return float(
        words.evaluate(
            "e => { const words = document.createRange();"
            " words.selectNodeContents(e);"
            " const tops = [...words.getClientRects()].map(r => Math.round(r.top));"
            " return new Set(tops).size }"
        )
    )


@pytest.mark.parametrize(("width", "most"), [(360, 2), (1280, 1)])
def test_what_is_ticked_of_the_day_has_the_whole_width(
    open_page: Open, demo_site: str, width: int, most: int
) -> None:
    page = open_page(width, 800)
    page.goto(f"{demo_site}/kitchen")
    page.evaluate("document.fonts.ready")
    ticks = page.locator("#day .kind-flag")
    assert ticks.count() == 2
    for tick in ticks.all():
        assert lines(tick.locator("label")) <= most + 1  # its box has a height too
        words, box = tick.bounding_box(), tick.locator("input").bounding_box()
        assert words is not None
        assert box is not None
        assert words["x"] == box["x"]  # each at the margin, none beside the other
        assert words["height"] <= 24 * most + 48


def test_a_jar_of_the_yields_is_one_word(open_page: Open, demo_site: str) -> None:
    page = open_page(1280, 900)
    page.goto(f"{demo_site}/book/yields")
    page.evaluate("document.fonts.ready")
    jars = page.locator("tbody td:first-of-type")
    assert jars.count() > 50
    assert max(lines(jar) for jar in jars.all()) == 1
    assert page.evaluate("document.documentElement.scrollWidth") <= 1280


def test_every_load_that_is_still_to_come_has_its_key_at_the_right(
    stove: Stove, open_page: Open
) -> None:
    page = open_page(1280, 900)
    begin(page, stove)
    rows = page.locator("h2:text('Still to come') + ul > li")
    assert rows.count() > 5
    right = set()
    for row in rows.all():
        words = row.locator("span").first.bounding_box()
        key = row.locator("button").bounding_box()
        assert words is not None
        assert key is not None
        assert key["x"] >= words["x"] + words["width"]
        right.add(round(key["x"] + key["width"]))
    assert len(right) == 1


def test_on_a_phone_a_load_that_is_still_to_come_has_the_whole_width_for_its_words(
    stove: Stove, open_page: Open
) -> None:
    page = open_page(360, 740)
    begin(page, stove)
    row = page.locator("h2:text('Still to come') + ul > li").first
    words, key = (
        row.locator("span").first.bounding_box(),
        row.locator("button").bounding_box(),
    )
    assert words is not None
    assert key is not None
    assert words["width"] > 300
    assert key["y"] >= words["y"] + words["height"]


THIRD = """() => {
  const last = [...document.querySelectorAll(".canner")].at(-1);
  last.after(last.cloneNode(true));
}"""
BROKEN = """() => {
  const torn = [];
  for (const bold of document.querySelectorAll(".canner .block b, .canner h3, .person.chosen .block .words > *")) {
    const text = bold.firstChild;
    if (!bold.offsetParent) continue; // what a phone does not show
    const along = getComputedStyle(bold).writingMode === "vertical-rl" ? "left" : "top";
    for (const word of text.textContent.matchAll(/\\p{L}+/gu)) {
      const range = document.createRange();
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const boxes = [...range.getClientRects()];
      if (text.textContent[word.index - 1] === "\u00ad") boxes.splice(0, boxes.length - 1); // its hyphen's own
      const lines = new Set(boxes.map((box) => Math.round(box[along])));
      if (lines.size > 1) torn.push(word[0]);
    }
  }
  return torn;
}"""  # noqa: E501


@pytest.mark.parametrize("width", [320, 360, 412])
@pytest.mark.parametrize("canners", [2, 3])
def test_no_word_of_the_sheet_is_torn_on_a_phone(
    open_page: Open, demo_site: str, width: int, canners: int
) -> None:
    page = open_page(width, 780)
    page.goto(f"{demo_site}/day")
    page.evaluate("document.fonts.ready")
    page.locator("#sheet summary").click()
    assert page.locator(".canner").count() == 2
    if canners == 3:
        page.evaluate(THIRD)
    assert page.evaluate(BROKEN) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
