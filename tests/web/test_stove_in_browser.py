"""The stove in a real browser: read from across the kitchen, true without a script."""

import datetime as dt
import re
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Page, expect

from stillroom.planning.dayplan import DayPlan
from stillroom.records.days import Records, open_records
from stillroom.running.commands import FinishStep
from stillroom.running.handle import handle, state_of
from stillroom.running.hands import hands
from stillroom.web.app import build_app
from stillroom.web.serve import listen

NUMERALS = re.compile(r"^\d+:\d\d$")


class Shop:
    def __init__(self, plan: object) -> None:
        self._plan = plan

    def day_text(self) -> str:
        return "the demo day, which is invented"

    def plan(self) -> object:
        return self._plan


@dataclass
class Stove:
    """Pages that can be stopped and started again over the same file."""

    plan: DayPlan
    file: Path
    port: int = 0

    def start(self) -> None:
        self.records: Records = open_records(self.file)
        listener = listen(self.port)
        self.port = listener.getsockname()[1]
        app = build_app(Shop(self.plan), records=self.records)  # type: ignore[arg-type]
        self.app = app
        self.server = uvicorn.Server(
            uvicorn.Config(
                app, log_level="error", lifespan="off", timeout_graceful_shutdown=1
            )
        )
        self.thread = threading.Thread(
            target=self.server.run, kwargs={"sockets": [listener]}
        )
        self.thread.start()
        while not self.server.started:
            time.sleep(0.01)

    def stop(self) -> None:
        self.server.should_exit = True
        self.thread.join(timeout=10)
        self.records.close()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}/stove"


@pytest.fixture
def stove(tmp_path: Path, demo_plan: DayPlan) -> Iterator[Stove]:
    kitchen = Stove(demo_plan, tmp_path / "stillroom.db")
    kitchen.start()
    yield kitchen
    kitchen.stop()


def begin(page: Page, stove: Stove) -> None:
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").click()
    page.locator("#full-boil-load-1").click()
    page.locator("#sure").click()  # it was not said that its jars are filled
    expect(page.locator("[data-until-ms]")).to_be_visible()


def shown_s(page: Page) -> int:
    minutes, seconds = page.locator("[data-until-ms]").inner_text().split(":")
    return 60 * int(minutes) + int(seconds)


@contextmanager
def pressed(page: Page, key: str, by: str) -> Iterator[None]:
    """The key under a finger that stays for a while, a mouse or the space bar."""
    page.locator(key).scroll_into_view_if_needed()
    box = page.locator(key).bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    if by == "space bar":
        page.locator(key).focus()
        page.keyboard.down(" ")
        yield
        page.keyboard.up(" ")
        return
    if by == "mouse":
        page.mouse.move(x, y)
        page.mouse.down()
        yield
        page.mouse.up()
        return
    finger = page.context.new_cdp_session(page)
    points = [{"x": x, "y": y}]
    finger.send(
        "Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": points}
    )
    yield
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def looked_in_on(stove: Stove, run: str) -> None:
    """The day is gone on with until somebody has a pot to look in on."""
    while True:
        state = state_of(run, ledger=stove.records.ledger)
        now = [one.now for one in hands(stove.plan, state) if one.now and one.now.step]
        if any(todo.look_in_min for todo in now):
            return
        for todo in now:
            said = FinishStep(
                batch=todo.batch, step=todo.step, at=dt.datetime.now(dt.UTC)
            )
            handle(said, run, ledger=stove.records.ledger)


def look_now(page: Page) -> None:
    """What the page does when it comes to the front again."""
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


@pytest.mark.parametrize(
    ("width", "height", "least_px"), [(1280, 800, 96), (768, 1024, 96), (390, 844, 64)]
)
def test_numerals_and_keys_are_large_enough(
    stove: Stove, open_page: Callable[..., Page], width: int, height: int, least_px: int
):
    page = open_page(width, height)
    begin(page, stove)
    sizes = page.locator(".big").evaluate_all(
        "all => all.map(one => parseFloat(getComputedStyle(one).fontSize))"
    )
    assert sizes
    assert min(sizes) >= least_px
    heights = page.locator(".taps .key").evaluate_all(
        "all => all.map(one => one.getBoundingClientRect().height)"
    )
    assert min(heights) >= 56
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    tops = (
        page.locator(".hand")
        .first.locator("button")
        .evaluate_all("all => all.map(one => one.getBoundingClientRect().top)")
    )
    assert len(tops) == 2
    assert tops[0] == tops[1]  # Begin and Done beside each other


@pytest.mark.parametrize(("width", "height"), [(390, 844), (320, 640)])
def test_what_each_has_to_do_now_is_seen_at_one_look_on_a_phone(
    stove: Stove, open_page: Callable[..., Page], width: int, height: int
):
    page = open_page(width, height)
    begin(page, stove)
    page.evaluate("scrollTo(0, 0)")
    now = page.locator(".who-now a")
    assert now.count() >= 2
    boxes = now.evaluate_all("all => all.map(one => one.getBoundingClientRect())")
    assert max(box["bottom"] for box in boxes) <= height
    assert min(box["height"] for box in boxes) >= 48
    for i, card in enumerate(page.locator(".hand").all()):
        said = now.nth(i).inner_text()
        assert card.locator(".who").inner_text() in said
        assert card.locator(".verb").first.inner_text() in said
    now.last.click()
    assert page.locator(".hand:target").locator(".who").inner_text() in (
        now.last.inner_text()
    )


def test_the_clock_counts_down_between_two_looks(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page()
    begin(page, stove)
    first = shown_s(page)
    expect(page.locator("[data-until-ms]")).not_to_have_text(
        f"{first // 60}:{first % 60:02d}", timeout=3000
    )
    assert first - 4 <= shown_s(page) < first


@pytest.mark.parametrize("off_s", [-427, 3600])
def test_a_device_whose_clock_is_wrong_shows_the_right_time(
    stove: Stove, open_page: Callable[..., Page], off_s: int
):
    begin(open_page(), stove)
    wrong = open_page()
    wrong.add_init_script(f"const now = Date.now; Date.now = () => now() + {off_s}e3;")
    wrong.goto(stove.address)
    time.sleep(0.6)  # two counts of its own
    clock = wrong.locator("[data-until-ms]")
    # read at once by the page, with the true time: what is asked of it one by one, and
    # its own way here, take seconds on a machine that has much to do
    shown, left_s = clock.evaluate(
        "(e, off) => [e.innerText, (e.dataset.untilMs - Date.now()) / 1000 + off]",
        off_s,
    )
    minutes, seconds = shown.split(":")
    assert abs(60 * int(minutes) + int(seconds) - left_s) < 10


def test_a_tap_on_one_device_reaches_the_other(
    stove: Stove, open_page: Callable[..., Page]
):
    here, there = open_page(), open_page(390, 844)
    begin(here, stove)
    there.goto(stove.address)
    here.locator("#boil-lost-load-1").click()
    expect(here.locator("h1")).to_contain_text("lost its boil")
    look_now(there)
    expect(there.locator("h1")).to_contain_text("lost its boil")


def test_a_board_of_another_day_draws_itself_and_not_the_one_with_jars_on_the_fire(
    stove: Stove, open_page: Callable[..., Page]
):
    """Two days are under way: a wet hand would tap the load of the other one."""
    page = open_page()
    begin(page, stove)
    date = stove.plan.day.date + dt.timedelta(days=1)
    day = replace(stove.plan.day, date=date)
    stove.app.state.shop = Shop(replace(stove.plan, day=day))
    page.goto(stove.address)
    page.locator("#begin").click()
    page.locator("#begin-beside").click()
    expect(page.locator(".beside-day")).to_contain_text("Another day is under way")
    page.goto(f"{stove.address}?day={date}")
    drawn = page.locator("#stove").get_attribute("data-now-ms")
    look_now(page)
    expect(page.locator("#stove")).not_to_have_attribute("data-now-ms", drawn or "")
    runs = page.locator("#stove input[name=run]").evaluate_all(
        "inputs => inputs.map(input => input.value)"
    )
    assert {*runs} == {f"run/{date}"}
    assert page.locator("[data-until-ms]").count() == 0


def test_without_the_server_it_counts_on_and_says_so_and_comes_back_the_same(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page()
    begin(page, stove)
    until = page.locator("[data-until-ms]").get_attribute("data-until-ms")
    stove.stop()
    look_now(page)
    expect(page.locator("#apart")).to_be_visible()
    before = shown_s(page)
    time.sleep(1.3)
    assert shown_s(page) < before
    stove.start()
    look_now(page)
    expect(page.locator("#apart")).to_be_hidden()
    assert page.locator("[data-until-ms]").get_attribute("data-until-ms") == until


@pytest.mark.parametrize("by", ["mouse", "finger", "space bar"])
def test_a_press_that_lasts_while_the_page_looks_is_taken(
    stove: Stove, open_page: Callable[..., Page], by: str
):
    """What was under the finger was redrawn, and the press went nowhere."""
    page = open_page(390, 844, has_touch=by == "finger")
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").click()
    expect(page.locator("#full-boil-load-1")).to_be_visible()
    with pressed(page, "#full-boil-load-1", by):
        with page.expect_response("**/stove?while=*"):
            look_now(page)
        page.wait_for_timeout(300)  # a look draws at once
    expect(page.locator("#asked")).to_be_visible()
    page.locator("#sure").click()
    before = page.locator("#stove").get_attribute("data-now-ms")
    look_now(page)  # and the page looks on
    expect(page.locator("#stove")).not_to_have_attribute("data-now-ms", before or "")


def test_a_finger_that_is_never_seen_lifted_does_not_stop_the_page(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(390, 844)
    begin(page, stove)
    page.mouse.move(5, 5)
    page.mouse.down()
    before = page.locator("#stove").get_attribute("data-now-ms")
    look_now(page)
    expect(page.locator("#stove")).not_to_have_attribute(
        "data-now-ms", before or "", timeout=15_000
    )


def test_a_palm_beside_the_finger_takes_no_press_away(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(390, 844)
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").click()
    with pressed(page, "#full-boil-load-1", "mouse"):
        for kind in ("pointerdown", "pointerup"):
            page.evaluate(
                f"dispatchEvent(new PointerEvent('{kind}', {{pointerId: 77}}))"
            )
        page.wait_for_timeout(300)  # longer than a click takes
        with page.expect_response("**/stove?while=*"):
            look_now(page)
        page.wait_for_timeout(1_000)  # a slow press
    expect(page.locator("#asked")).to_be_visible()


def test_a_pot_that_was_looked_in_on_is_called_out_again(
    stove: Stove, open_page: Callable[..., Page]
):
    # USERS 28: when do I stir?
    page = open_page(390, 844)
    begin(page, stove)
    looked_in_on(stove, page.locator("[name=run]").first.get_attribute("value") or "")
    page.goto(stove.address)
    place = page.locator("[data-look-in-min]").first
    due = place.locator(".due")
    key = place.get_by_role("button", name="Looked in: again in 5 min")
    expect(key).to_be_visible()
    expect(due).to_have_text("")
    key.click()
    in_five = re.compile(r"^Look in again in (5:00|4:5\d), at \d+:\d\d\.$")
    expect(due).to_have_text(in_five)
    first = due.inner_text()
    expect(due).not_to_have_text(first, timeout=3_000)  # it counts down
    page.reload()
    expect(due).to_have_text(in_five)
    page.evaluate(
        """() => {
            const kept = JSON.parse(localStorage.getItem("stillroom-look-in"));
            for (const of of Object.keys(kept)) kept[of] -= 6 * 60_000;
            localStorage.setItem("stillroom-look-in", JSON.stringify(kept));
        }"""
    )
    page.reload()
    expect(due).to_have_text(re.compile(r"^Look in now: it was due at \d+:\d\d\.$"))
    expect(due).to_have_attribute("role", "alert")
    expect(due).to_have_attribute("role", "timer")  # called out once
    look_now(page)
    key.click()
    expect(due).to_have_text(in_five)
    expect(place).not_to_have_class(re.compile("caution"))


def test_a_pot_to_look_in_on_has_no_key_where_there_is_no_script(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(java_script_enabled=False)
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").click()
    looked_in_on(stove, page.locator("[name=run]").first.get_attribute("value") or "")
    page.goto(stove.address)
    expect(page.get_by_text("Look in every few minutes").first).to_be_visible()
    expect(page.locator("[data-look-in-min]").first).to_be_hidden()


def test_all_of_it_works_without_a_script(stove: Stove, open_page: Callable[..., Page]):
    page = open_page(java_script_enabled=False)
    begin(page, stove)
    expect(page.locator("[data-until-ms]")).to_have_text(NUMERALS)
    page.locator("#boil-lost-load-1").click()
    expect(page.locator("h1")).to_contain_text("lost its boil")
    page.locator("#full-boil-load-1").click()
    expect(page.locator("[data-until-ms]")).to_have_text(NUMERALS)
    refresh = page.locator("meta[http-equiv=refresh]").get_attribute("content")
    assert refresh.startswith("10;url=/stove?while=")


def test_the_keys_of_a_question_are_large_enough_for_a_wet_hand(
    stove: Stove, open_page: Callable[..., Page]
):
    for width, height in ((390, 844), (1280, 900)):
        page = open_page(width, height)
        page.goto(stove.address)
        if page.locator("#begin").count():
            page.locator("#begin").click()
        page.get_by_role("button", name="Full boil now").first.click()
        keys = page.locator("#asked .key")
        expect(keys).to_have_count(2)
        for key in keys.all():
            box = key.bounding_box()
            assert box is not None
            assert box["height"] >= 56


def test_the_stove_on_paper_has_its_clocks_and_nothing_to_press(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page()
    begin(page, stove)
    page.emulate_media(media="print")
    expect(page.locator("#load-1 .big")).to_be_visible()
    assert page.locator("main button:visible, .clock .other:visible").count() == 0
