"""The pages in a real browser, clicked as a keeper would. Invented days only."""

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from playwright.sync_api import Page, expect

from stillroom.book.words import SOFT_HYPHEN
from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.planning.words.lanes import LaneKind
from stillroom.planning.words.sheet import Sheet, day_sheet
from stillroom.web.app import build_app
from stillroom.web.planner import Planned
from stillroom.web.shop import Shop
from tests.web.conftest import MemoryStore, served

Open = Callable[..., Page]
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def sheet(demo_plan: Planned) -> Sheet:
    assert isinstance(demo_plan, DayPlan)
    assert isinstance(demo_plan.answer, Answer)
    assert demo_plan.problem is not None
    return day_sheet(demo_plan.problem, demo_plan.answer.timetable)


def overflow_px(page: Page) -> int:
    return int(page.evaluate("() => document.documentElement.scrollWidth - innerWidth"))


def test_the_drawn_day_and_the_list_say_the_same(
    open_page: Open, demo_site: str, sheet: Sheet
) -> None:
    page = open_page()
    page.goto(f"{demo_site}/day")
    drawn: Counter[tuple[str, str]] = Counter()
    for lane in page.locator(".lane.person").all():
        who = lane.locator("h3").inner_text()
        titles = lane.locator("b").all_inner_texts()
        drawn.update((who, title.replace(SOFT_HYPHEN, "")) for title in titles)
    listed: Counter[tuple[str, str]] = Counter()
    process_clocks = 0
    for row in page.locator("#list tbody tr").all():
        cells = row.locator("td").all_inner_texts()
        title = row.locator("td b").first.inner_text()
        process_clocks += cells[5] == "process clock"
        if cells[2] not in ("nobody", "whoever is near"):
            listed[cells[2], title] += 1
    assert sum(listed.values()) > 20
    assert {(w, t.strip("· ")): n for (w, t), n in drawn.items()} == dict(listed)
    assert page.locator(".canner .ink-process").count() == process_clocks
    assert page.locator("#list tbody tr").count() == len(sheet.entries)


@pytest.mark.parametrize("width", [641, 820, 1280])
def test_what_is_to_be_done_has_the_widest_column_of_the_list(
    open_page: Open, demo_site: str, width: int
) -> None:
    """On a tablet it was an inch wide, beside a wide column with nothing in it."""
    page = open_page(width, 900)
    page.goto(f"{demo_site}/day")
    cells = "#list tbody tr:first-child td:not(.tick)"
    wide = page.locator(cells).evaluate_all("all => all.map(e => e.clientWidth)")
    _, _, what, *_ = wide[:5]
    assert what == max(wide)
    assert what > (0.4 if width > 800 else 0.3) * sum(wide[:5])
    spilt = page.locator("#list td").evaluate_all(
        "all => all.filter(e => e.scrollWidth > e.clientWidth + 1)"
        ".map(e => e.textContent)"
    )
    assert spilt == []


BROKEN_NUMBERS = """() => {
  const broken = [];
  const list = document.querySelector("#list");
  const walk = document.createTreeWalker(list, NodeFilter.SHOW_TEXT);
  for (let text = walk.nextNode(); text; text = walk.nextNode()) {
    if (!text.parentElement.checkVisibility()) continue;
    for (const number of text.data.matchAll(/[0-9]+\\s[0-9]+\\/[0-9]+/g)) {
      const range = document.createRange();
      range.setStart(text, number.index);
      range.setEnd(text, number.index + number[0].length);
      const tops = [...range.getClientRects()].map((box) => box.top);
      if (Math.max(...tops) - Math.min(...tops) > 5)
        broken.push(text.data.slice(number.index, number.index + 30));
    }
  }
  return broken;
}"""


@pytest.mark.parametrize("width", [320, 390, 641, 700, 760, 820, 900, 960, 1280])
def test_no_line_of_the_list_ends_within_a_number(
    open_page: Open, demo_site: str, width: int
) -> None:
    """A line that ends with "4", and "1/2 cups sugar" on the next, is half a cup."""
    page = open_page(width, 900)
    page.goto(f"{demo_site}/day")
    page.evaluate("document.fonts.ready")
    page.locator("#list details").evaluate_all("all => all.forEach(d => d.open = true)")
    assert "1/2 cups" in page.locator("#list").inner_text()
    assert page.evaluate(BROKEN_NUMBERS) == []


def test_minutes_are_heights_and_every_block_holds_a_line(
    open_page: Open, demo_site: str, sheet: Sheet
) -> None:
    page = open_page()
    page.goto(f"{demo_site}/day")
    minute_px = int(
        re.search(r"minute-(\d+)", page.locator(".sheet").get_attribute("class") or "")[
            1
        ]  # type: ignore[index]
    )
    blocks = page.evaluate(
        """() => [...document.querySelectorAll(".person .block, .canner .block")]
        .map(b => ({
            minutes: +b.className.match(/for-(\\d+)/)[1],
            height: b.getBoundingClientRect().height,
            words: b.querySelector(".words").getBoundingClientRect().height,
            line: parseFloat(getComputedStyle(b).lineHeight),
        }))"""
    )
    lanes = [lane for lane in sheet.lanes if lane.kind != LaneKind.FIRE]
    assert 0 < len(blocks) <= sum(len(lane.blocks) for lane in lanes)
    for block in blocks:
        assert block["height"] == pytest.approx(block["minutes"] * minute_px - 1, abs=1)
        assert block["words"] >= block["line"] - 0.5


def test_what_must_not_be_left_says_which_pot_it_is(
    open_page: Open, demo_site: str
) -> None:
    page = open_page()
    page.goto(f"{demo_site}/day")
    held = page.locator(".lane.person .ink-held")
    assert held.count() > 0
    for block in held.all():
        words, pot = block.locator(".words"), block.locator(".pot")
        shown, name = words.bounding_box(), pot.bounding_box()
        assert shown is not None
        assert name is not None
        assert pot.inner_text()
        assert name["y"] + name["height"] <= shown["y"] + shown["height"] + 1


def test_a_phone_shows_one_person_and_the_clocks(
    open_page: Open, demo_site: str, sheet: Sheet
) -> None:
    people = [lane.name for lane in sheet.lanes if lane.kind == LaneKind.PERSON]
    canners = [lane.name for lane in sheet.lanes if lane.kind == LaneKind.CANNER]
    page = open_page(**PHONE)
    page.goto(f"{demo_site}/day#drawn")  # which unfolds it
    heads = page.locator(".lane h3:visible")
    expect(heads).to_have_text([people[0], *canners])
    page.locator(".whose").get_by_role("link", name=people[1]).click()
    expect(page).to_have_url(re.compile(rf"who={people[1]}"))
    expect(heads).to_have_text([people[1], *canners])


@pytest.mark.parametrize("width", [320, 390, 768, 1024])
def test_no_page_scrolls_sideways(open_page: Open, demo_site: str, width: int) -> None:
    page = open_page(width=width)
    page.goto(f"{demo_site}/day")
    batch = page.locator("#batches a").first.get_attribute("href")
    load = page.locator("#loads a").first.get_attribute("href")
    assert overflow_px(page) <= 0
    for path in (batch, load, "/book", "/kitchen", "/kitchen/file",
                 "/book/process?product=plum+jelly&jar=quart"):  # fmt: skip
        page.goto(f"{demo_site}{path}")
        assert overflow_px(page) <= 0, path


@pytest.mark.parametrize(
    "path",
    ["/day", "/kitchen", "/book/process", "/book", "/then", "/book/trouble"],
)
@pytest.mark.parametrize("letters", ["the house's", "the machine's own"])
def test_every_key_is_large_enough_for_a_wet_hand(
    open_page: Open, demo_site: str, path: str, letters: str
) -> None:
    page = open_page(**PHONE)
    if letters == "the machine's own":  # as a page looks until its letters are there
        page.route("**/*.woff2", lambda route: route.abort())
    page.goto(f"{demo_site}{path}")
    small = page.evaluate(
        """() => [...document.querySelectorAll(
            "a, button, summary, input:not([type=hidden]):not([type=checkbox]), select"
        )].filter(e => e.checkVisibility() && !e.matches(".skip, p a:not(.key)"))
        .filter(e => e.getBoundingClientRect().height < 47.5)
        .map(e => e.outerHTML.slice(0, 80))"""
    )
    assert small == []


def test_from_the_day_to_a_batch_and_to_its_load(
    open_page: Open, demo_site: str
) -> None:
    page = open_page()
    page.goto(demo_site)
    page.locator("#batches a").first.click()
    expect(page.get_by_role("heading", name="What goes in")).to_be_visible()
    mark = page.locator("#recipe details.source")
    assert "looked up" not in mark.inner_text()
    mark.locator("summary").click()
    expect(mark.get_by_text("looked up: its text was seen")).to_be_visible()
    page.locator("#loads a").first.click()
    expect(page.get_by_role("heading", name="The published process")).to_be_visible()


def test_the_process_form_answers_and_refuses(open_page: Open, site: str) -> None:
    page = open_page()
    page.goto(site)
    page.get_by_role("link", name="Book").click()
    page.get_by_role("link", name="Look a process up").click()
    expect(page.get_by_label("Height of the kitchen")).to_have_value("2150 ft")
    page.get_by_label("What is in the jars").fill("plum jelly")
    page.get_by_role("button", name="Look it up").click()
    answer = page.locator("#answer")
    expect(answer).to_contain_text("10 min")  # as published for 1,001 to 6,000 ft:
    expect(answer).to_contain_text("1,001 to 6,000 ft")  # USDA Complete Guide, Guide 7
    page.get_by_label("Jar", exact=True).select_option("quart")
    page.get_by_role("button", name="Look it up").click()
    expect(answer).to_contain_text("No:")
    expect(answer).to_contain_text("Instead:")
    expect(page.get_by_label("What is in the jars")).to_have_value("plum jelly")


def day_is_planned(page: Page) -> None:
    """The waiting page looks again by itself until the plan is there."""
    expect(page.locator("#sheet")).to_be_visible(timeout=60_000)


def test_the_kitchen_form_by_hand(open_page: Open, site: str, shop: Shop) -> None:
    page = open_page(java_script_enabled=False)  # nothing may need a script
    page.goto(f"{site}/day")
    day_is_planned(page)
    before = page.locator("#sheet h3").all_inner_texts()
    assert "Keeper" in before
    page.get_by_role("link", name="Kitchen").click()

    page.get_by_role("button", name="another pot").click()
    page.locator('[name="kitchen.pots[2]:name"]').fill("copper dream")
    page.locator('[name="kitchen.pots[2]:volume"]').fill("twelve-ish")
    page.locator('[name="people[1]:name"]').fill("Wren")
    page.get_by_role("button", name="Save and plan the day").first.click()

    beside = page.locator('.field:has([name="kitchen.pots[2]:volume"]) .fault')
    expect(beside).to_contain_text("twelve-ish")
    expect(page.locator('[name="kitchen.pots[2]:volume"]')).to_have_value("twelve-ish")
    expect(page.locator('[name="people[1]:name"]')).to_have_value("Wren")
    assert "copper dream" not in shop.day_text()

    page.locator('[name="kitchen.pots[2]:volume"]').fill("12 qt")
    page.get_by_role("button", name="Save and plan the day").first.click()
    day_is_planned(page)
    assert "Wren" in page.locator("#sheet h3").all_inner_texts()
    assert 'volume = "12 qt"' in shop.day_text()

    page.get_by_role("link", name="Kitchen").click()
    page.get_by_role("button", name="take copper dream out").click()
    page.get_by_role("button", name="Save and plan the day").first.click()
    day_is_planned(page)
    assert "copper dream" not in shop.day_text()


def test_the_enter_key_saves_and_adds_nothing(
    open_page: Open, site: str, shop: Shop
) -> None:
    page = open_page()
    page.goto(f"{site}/kitchen")
    page.locator('[name="people[1]:name"]').fill("Wren")
    page.locator('[name="people[1]:name"]').press("Enter")
    page.wait_for_url("**/day")
    assert '"Wren"' in shop.day_text()


def test_the_dark_form_swaps_paper_and_ink(open_page: Open, demo_site: str) -> None:
    seen = {}
    for scheme in ("light", "dark"):
        page = open_page(color_scheme=scheme)
        page.goto(f"{demo_site}/day")
        seen[scheme] = page.evaluate(
            "() => getComputedStyle(document.body).backgroundColor.match(/\\d+/g)"
        )
    assert sum(map(int, seen["light"])) > 600 > 300 > sum(map(int, seen["dark"]))


def test_on_paper_there_is_no_chrome_and_a_box_to_tick(
    open_page: Open, demo_site: str
) -> None:
    page = open_page()
    page.goto(f"{demo_site}/day")
    page.emulate_media(media="print")
    expect(page.locator("header.house")).to_be_hidden()
    expect(page.locator(".jumps")).to_be_hidden()
    expect(page.locator("#list td.tick").first).to_be_visible()
    expect(page.locator(".more-cautions li").first).to_be_visible()


def test_the_fold_of_the_cautions_shows_that_it_opens(
    open_page: Open, demo_site: str
) -> None:
    page = open_page(390, 844)
    page.goto(f"{demo_site}/day")
    sign = "e => getComputedStyle(e, '::before').content"
    fold = page.locator(".more-cautions summary").first
    assert "▸" in fold.evaluate(sign)
    fold.click()
    assert "▾" in fold.evaluate(sign)


def test_the_fonts_are_our_own(open_page: Open, demo_site: str) -> None:
    page = open_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{demo_site}/day", wait_until="networkidle")
    assert all(url.startswith(demo_site) for url in asked)
    assert page.evaluate(
        "() => ['1em Hyperlegible', '1em Literata'].every(f => document.fonts.check(f))"
    )
    assert sum(url.endswith(".woff2") for url in asked) >= 2


def test_on_a_phone_the_sheet_cuts_no_word_without_a_sign(
    open_page: Open, demo_site: str
) -> None:
    page = open_page(**PHONE)
    page.goto(f"{demo_site}/day?who=Tilda")
    cut = page.evaluate(
        """() => [...document.querySelectorAll(".person.chosen .words, .canner .words")]
        .filter(w => w.getBoundingClientRect().height > 0)
        .filter(w => {
            const s = getComputedStyle(w), line = parseFloat(s.lineHeight);
            const lines = Math.round(w.clientHeight / line);
            // as many whole lines as it shows; beyond them the clamp sets its sign
            return w.scrollWidth > w.clientWidth + 1
                || !(lines <= parseInt(s.webkitLineClamp));
        }).map(w => w.innerText)"""
    )
    assert cut == []
    shown = page.evaluate(
        """() => [...document.querySelectorAll(".person.chosen .words")]
        .filter(w => w.getBoundingClientRect().height > 0).length"""
    )
    assert shown > 10  # the sheet is unfolded where somebody's column is asked for


def test_on_a_phone_any_place_of_the_day_file_is_as_wide_as_the_page(
    open_page: Open, demo_site: str
) -> None:
    page = open_page(**PHONE)
    page.goto(f"{demo_site}/what-if")
    field, chosen, row = (
        page.locator(where).first.bounding_box()["width"]  # type: ignore[index]
        for where in ("#other-1", "#key-1", "fieldset .row")
    )
    assert field > 0.95 * row
    assert chosen > 0.95 * row  # "Corwin comes at (now 8:30)" was cut before the hour
    assert overflow_px(page) <= 0


@pytest.mark.parametrize("size", [{}, PHONE])
def test_each_step_on_a_card_of_one_minute_is_read_whole(
    open_page: Open, shop: Shop, size: dict[str, object]
) -> None:
    """All that was said of "boil hard 1 min" beside its pot was the pot."""
    plan = shop.plan_within(60)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    steps = tuple(
        replace(s, end_min=s.start_min + 1) for s in plan.answer.timetable.steps
    )
    table = replace(plan.answer.timetable, steps=steps)
    short = replace(plan, answer=replace(plan.answer, timetable=table))
    other = Shop(MemoryStore(new_day_text()), planner=lambda text, **_: short)
    with served(build_app(other)) as address:
        page = open_page(**size)
        page.goto(f"{address}/day#drawn")
        cards = page.evaluate(
            """() => [...document.querySelectorAll(".person .block")].map(b => {
                const foot = e =>
                    Math.max(...[...e.getClientRects()].map(r => r.bottom));
                const words = b.querySelector(".words");
                return {
                    minutes: +b.className.match(/for-(\\d+)/)[1],
                    top: b.getBoundingClientRect().top, foot: foot(words),
                    said: [...words.querySelectorAll("b")].map(foot),
                };
            })"""
        )
    assert sum(card["minutes"] == 1 for card in cards) > 5
    for card, below in pairwise(sorted(cards, key=lambda card: card["top"])):
        assert max(card["said"]) <= card["foot"] + 1
        assert card["foot"] <= below["top"] + 1


@pytest.mark.parametrize("width", [320, 360, 390])
def test_on_a_phone_no_word_in_the_canners_columns_is_broken(
    open_page: Open, demo_site: str, width: int
) -> None:
    """ "Process" stood there as "proces" and "s"."""
    page = open_page(width=width, height=844)
    page.goto(f"{demo_site}/day#drawn")
    broken = page.evaluate(
        """() => [...document.querySelectorAll(".canner .words b")].flatMap(b => {
            const text = b.firstChild, range = document.createRange();
            return [...text.data.matchAll(/\\S+/g)].filter(word => {
                range.setStart(text, word.index);
                range.setEnd(text, word.index + word[0].length);
                return new Set([...range.getClientRects()].map(r => r.top)).size > 1;
            }).map(word => word[0]);
        })"""
    )
    assert page.locator(".canner .ink-process:visible").count() > 1
    assert broken == []


def test_a_press_on_a_short_card_shows_all_its_words(
    open_page: Open, demo_site: str, sheet: Sheet
) -> None:
    """On a phone "straight up, onto wood or a towel" ended in "onto woo..."."""
    page = open_page(**PHONE)
    lane = next(lane for lane in sheet.lanes if lane.kind == LaneKind.PERSON)
    lift = next(b for b in lane.blocks if b.title.startswith("Lift"))
    page.goto(f"{demo_site}/day?who={lane.name}")
    card = page.locator(".person.chosen .block").filter(has_text=lift.title).first
    whole = page.locator(".whole:popover-open")
    expect(whole).to_have_count(0)
    card.locator(".whole-key").click()
    for words in (lift.title, lift.detail, lift.end_sign, lift.where):
        assert words
        expect(whole).to_contain_text(words)
    whole.get_by_role("button", name="Close").click()
    expect(whole).to_have_count(0)
    page.emulate_media(media="print")
    expect(page.locator(".whole-key").first).to_be_hidden()


def test_every_card_of_the_sheet_has_all_its_words_one_press_away(
    open_page: Open, demo_site: str
) -> None:
    page = open_page()
    page.goto(f"{demo_site}/day")
    without = page.evaluate(
        """() => [...document.querySelectorAll(".sheet .block")].filter(block => {
            const whole = block.querySelector(".whole-key")?.popoverTargetElement;
            return ![...block.querySelectorAll(".words b")].every(
                b => whole?.textContent.includes(
                    b.textContent.replaceAll("\u00ad", "")));
        }).map(block => block.textContent)"""
    )
    assert page.locator(".sheet .block").count() > 20
    assert without == []


def test_on_a_phone_the_hours_of_the_chances_can_be_read(
    open_page: Open, demo_site: str
) -> None:
    page = open_page(**PHONE)
    page.goto(f"{demo_site}/odds")
    heights = page.locator("svg.odds text").evaluate_all(
        "all => all.map(one => one.getBoundingClientRect().height)"
    )
    assert heights
    assert min(heights) > 14  # they were 12: type of 10 px
    assert overflow_px(page) <= 0


def test_on_a_phone_each_figure_of_the_yields_says_what_it_is(
    open_page: Open, demo_site: str
) -> None:
    page = open_page(**PHONE)
    page.goto(f"{demo_site}/book/yields")
    cells = page.locator("tbody tr").first.locator("td")
    labels = [cell.get_attribute("data-label") for cell in cells.all()]
    assert labels == [None, "printed", "planned", "solids allow", "printed and solids"]


def test_on_a_phone_the_plan_by_hand_is_read_from_the_left_edge(
    open_page: Open, demo_site: str
) -> None:
    page = open_page(**PHONE)
    page.goto(f"{demo_site}/day")
    page.locator("#by-hand summary").click()
    lefts = page.locator("#by-hand tbody tr").evaluate_all(
        """rows => rows.map(row => row.children[2].getBoundingClientRect().left
            - row.getBoundingClientRect().left)"""
    )
    assert len(lefts) > 10
    assert max(lefts) < 1  # "nobody" and "Ada" pushed it to and fro
