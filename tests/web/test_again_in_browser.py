"""Second thoughts in a real browser: keys for a wet hand, columns side by side."""

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from stillroom.planning.dayplan import DayPlan
from stillroom.records.days import open_records
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.web.conftest import served

Open = Callable[..., Page]
SMALL = """() => [...document.querySelectorAll(
    'main button, main a.key, main a.card, main input:not([type=hidden]), ' +
    'main select, main label.tickbox, main summary')]
  .filter(e => e.offsetParent && e.type !== 'checkbox')
  .filter(e => getComputedStyle(e).pointerEvents !== 'none')  // a heading, no key
  .filter(e => !e.matches('.whole-key'))  // high as its minutes
  .map(e => [e.tagName, e.textContent.trim(), e.getBoundingClientRect().height])
  .filter(([, , h]) => h < 47.5)"""


class SetClock:
    def __init__(self, at: dt.datetime) -> None:
        self.at = at

    def now(self) -> dt.datetime:
        return self.at


@pytest.fixture
def kitchen(
    tmp_path: Path, demo_plan: DayPlan, demo_shop: Shop
) -> Iterator[tuple[str, SetClock, dt.datetime]]:
    zone = dt.timezone(dt.timedelta(hours=2))
    begins = dt.datetime.combine(demo_plan.day.date, demo_plan.day.starts, zone)
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(demo_shop, records=records)
        app.state.clock = clock = SetClock(begins)
        with served(app) as address:
            yield address, clock, begins


@pytest.mark.parametrize("width", [390, 1280])
def test_from_the_stove_to_a_new_plan_and_back(open_page: Open, kitchen, width: int):
    address, clock, begins = kitchen
    page = open_page(width, 900, java_script_enabled=False)
    page.goto(f"{address}/stove")
    page.get_by_role("button", name="Begin the day").click()
    clock.at = begins + dt.timedelta(minutes=60)
    page.goto(f"{address}/stove")
    page.get_by_role("link", name="Plan the rest again").click()
    expect(page.locator("h1")).to_have_text("Plan the rest again")
    page.locator("#more-1").fill("25")
    page.locator("#plan-again").click()
    expect(page.locator("p.sentence")).to_contain_text("Done at")
    shown = page.locator(".both .lane.person h3").filter(visible=True)
    names = shown.all_inner_texts()
    assert len(names) >= 2
    assert names[0].endswith(", was")
    assert names[1] == names[0].replace(", was", ", is")
    page.locator("#take").click()
    expect(page.get_by_text("Planned again at")).to_be_visible()
    assert page.url.endswith("/stove")


def test_without_network_the_form_stays_with_what_is_said_and_says_so(
    open_page: Open, kitchen
):
    address, clock, begins = kitchen
    page = open_page(320, 740)
    page.goto(f"{address}/stove")
    page.get_by_role("button", name="Begin the day").click()
    expect(page.locator("#begin")).to_have_count(0)
    clock.at = begins + dt.timedelta(minutes=60)
    page.goto(f"{address}/again")
    page.locator("input[name='not-begun']").last.check()
    page.context.set_offline(True)
    said = page.locator(".stayed")
    page.get_by_role("link", name="Leave it as it is").click()
    expect(said).to_contain_text("This page stays, with what you typed")
    page.locator("#more-1").fill("25")
    page.locator("#plan-again").click()
    expect(said).to_contain_text("The rest was not planned again: go on by the plan")
    expect(said).to_be_in_viewport()
    expect(page.locator("p:has(#plan-again) + .stayed")).to_be_visible()
    expect(page.locator("#more-1")).to_have_value("25")
    expect(page.locator("input[name='not-begun']").last).to_be_checked()
    page.context.set_offline(False)
    expect(said).to_have_count(0)
    page.locator("input[name='not-begun']").last.uncheck()
    page.locator("#plan-again").click()
    expect(page.locator("#take")).to_be_visible()
    page.context.set_offline(True)
    page.locator("#take").click()
    expect(said).to_contain_text("the one before it still holds")
    page.context.set_offline(False)
    page.locator("#take").click()
    expect(page.get_by_text("Planned again at")).to_be_visible()


def test_a_page_of_the_kitchen_without_network_keeps_what_is_typed(
    open_page: Open, kitchen
):
    address, _, _ = kitchen
    page = open_page(320, 740)
    page.goto(f"{address}/what-if")
    page.locator("main input:not([type=hidden]):visible").first.fill("7")
    page.context.set_offline(True)
    page.locator("main form button:visible").first.click()
    expect(page.locator(".stayed")).to_contain_text("what you typed stands here still")
    page.context.set_offline(False)


@pytest.mark.parametrize("width", [641, 820, 1024, 1280])
def test_both_plans_of_a_person_are_read_on_a_tablet(
    open_page: Open, kitchen, width: int
):
    """Six columns for three people were half an inch each, a letter to the line."""
    address, clock, begins = kitchen
    page = open_page(width, 900)
    page.goto(f"{address}/stove")
    page.get_by_role("button", name="Begin the day").click()
    expect(page.locator("#begin")).to_have_count(0)
    clock.at = begins + dt.timedelta(minutes=60)
    page.goto(f"{address}/again")
    page.locator("#more-1").fill("25")
    page.locator("#plan-again").click()
    expect(page.locator("#take")).to_be_visible()
    lanes = page.locator(".both .person").filter(visible=True)
    wide = lanes.evaluate_all("all => all.map(e => e.clientWidth)")
    assert min(wide) > 75
    torn = lanes.locator("h3").evaluate_all(
        "all => all.filter(e => e.scrollHeight > e.clientHeight + 1).length"
    )
    assert torn == 0
    names = page.locator(".whose").filter(visible=True)
    if len(wide) == 2:  # the others are one press away, and who is shown is marked
        mine = names.locator("[aria-current]").inner_text()
        assert lanes.locator("h3").all_inner_texts() == [f"{mine}, was", f"{mine}, is"]
        names.locator("a:not([aria-current])").first.click()
        assert mine not in lanes.locator("h3").first.inner_text()
    else:
        assert names.count() == 0


@pytest.mark.parametrize("width", [390, 1280])
def test_keys_are_large_enough_and_no_page_scrolls_sideways(
    open_page: Open, kitchen, width: int
):
    address, clock, begins = kitchen
    page = open_page(width, 900)
    page.goto(f"{address}/stove")
    page.get_by_role("button", name="Begin the day").click()
    expect(page.locator("#begin")).to_have_count(0)
    clock.at = begins + dt.timedelta(minutes=60)
    for path in ("/again", "/what-if"):
        page.goto(address + path)
        assert page.evaluate(SMALL) == []
        assert page.evaluate(
            "document.documentElement.scrollWidth <= document.documentElement"
            ".clientWidth"
        )
    page.goto(f"{address}/again")
    page.locator("#more-1").fill("25")
    page.locator("#plan-again").click()
    expect(page.locator("#take")).to_be_visible()
    assert page.evaluate(SMALL) == []
    moved = page.locator("#moves tbody tr").first
    was, by = (
        moved.locator(f"[data-label={of}]").bounding_box() for of in ("was", "by")
    )
    assert was is not None
    assert by is not None
    if width < 640:
        assert was["height"] == by["height"] < 40  # "was:" and its hour in one line
    card = page.locator(".person.chosen .block:visible").first
    card.locator(".whole-key").click()
    whole = page.locator(".whole:popover-open")
    expect(whole).to_contain_text(card.locator("b").first.inner_text())
    whole.get_by_role("button", name="Close").click()
    assert page.evaluate(
        "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
    )
