"""Cut off at the stove: the board stays, a tap waits with its time, and counts once."""

import datetime as dt
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from stillroom.planning.dayplan import DayPlan
from stillroom.records.ledger import Recorded
from stillroom.running.clock import WallClock
from stillroom.running.codec import from_entry
from tests.web.test_stove_in_browser import Stove, begin, look_now, shown_s, stove

__all__ = ["stove"]  # a fixture

PHONE = (360, 740)


def entries(stove: Stove) -> tuple[Recorded, ...]:
    return stove.records.ledger.read(f"run/{stove.plan.day.date}")


def kinds(stove: Stove) -> list[str]:
    return [entry.kind for entry in entries(stove)]


def cut(page: Page) -> BrowserContext:
    page.context.set_offline(True)
    return page.context


class Ahead:
    """The kitchen's clock, some minutes ahead of the true one."""

    minutes = 0.0

    def now(self) -> dt.datetime:
        return WallClock().now() + dt.timedelta(minutes=self.minutes)


def ahead(page: Page, stove: Stove, minutes: float) -> None:
    """Both clocks go on by so much; what the page asked for comes due."""
    page.clock.fast_forward(round(minutes * 60_000))
    if not isinstance(stove.app.state.clock, Ahead):
        stove.app.state.clock = Ahead()
    stove.app.state.clock.minutes += minutes


def test_a_tap_without_network_waits_with_its_time_and_is_booked_once_and_late(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)
    before = kinds(stove)
    cut(page)
    page.locator("#done-1").dblclick()
    expect(page.locator("h1")).to_be_visible()
    expect(page.locator("[data-until-ms]")).to_be_visible()
    expect(page.locator("#apart")).to_be_visible()
    expect(page.locator(".hand .waits")).to_contain_text("waits on this device")
    expect(page.locator("#done-1")).to_be_hidden()
    expect(page.locator("#hand-1")).to_be_focused()  # and not the top of the page
    expect(page.locator("#late")).to_contain_text("1 entry waits on this device")
    was = shown_s(page)
    page.wait_for_timeout(1_300)
    assert shown_s(page) < was
    assert kinds(stove) == before
    page.context.set_offline(False)
    expect(page.locator("#late")).to_contain_text("marked late")
    expect(page.locator("#apart")).to_be_hidden()
    page.wait_for_timeout(4_000)  # what was to be sent soon again, was
    assert kinds(stove) == [*before, "step-done"]
    event, entry = from_entry(entries(stove)[-1]), entries(stove)[-1]
    assert event.late
    assert 1 < (entry.recorded_at - entry.occurred_at).total_seconds() < 30
    expect(page.locator(".waits")).to_have_count(0)


def test_the_press_that_finds_the_network_gone_leaves_the_board(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)
    stove.stop()  # the page does not know it yet
    page.locator("#boil-lost-load-1").click()
    expect(page.locator("#load-1")).to_contain_text("waits on this device")
    expect(page.locator("#load-1 .big")).to_have_text("lost")
    expect(page.locator("#load-1")).to_contain_text("the whole")
    stove.start()
    look_now(page)
    expect(page.locator("#late")).to_contain_text("marked late")
    assert kinds(stove)[-1] == "boil-lost"
    expect(page.locator("h1")).to_contain_text("lost its boil")


def test_a_whole_process_without_network_is_booked_at_its_own_hours(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    page.clock.install()
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").click()
    expect(page.locator("#begin")).to_have_count(0)
    cut(page)
    look_now(page)
    expect(page.locator("#apart")).to_be_visible()
    card = page.locator("#load-1")
    page.locator("#full-boil-load-1").click()
    expect(card.get_by_role("alert")).to_contain_text("Is it load 1")
    assert page.evaluate("localStorage['stillroom-late'] ?? '[]'") == "[]"
    page.get_by_role("button", name="Yes, start the clock of load 1").click()
    expect(card.locator(".big")).to_have_text(re.compile(r"^\d+:\d\d$"))
    expect(card).to_contain_text("process clock runs")
    sentence = r"^Load 1 · .*: \d+ min at a full boil, from [\d:]+ until [\d:]+\.$"
    expect(page.locator("h1")).to_have_text(re.compile(sentence))
    minutes = int(card.get_attribute("data-process-min") or 0)
    ahead(page, stove, minutes + 0.1)
    expect(card).to_contain_text("jars stay in until")
    expect(page.locator("h1.cannot-wait")).to_contain_text("jars stay in until")
    expect(card.locator("[data-tap=lifted]:visible")).to_have_count(0)
    ahead(page, stove, 5.1)
    expect(page.locator("h1.cannot-wait")).to_contain_text("may come out now")
    card.get_by_role("button", name="Lifted out").click()
    expect(card).to_contain_text("Lifted out")
    expect(page.locator("h1")).to_have_text("No clock runs.")
    assert kinds(stove) == ["day-begun"]
    there = stove.app.state.clock.now()
    shows = [f"{m:%-H:%M}" for m in (there, there - dt.timedelta(minutes=1))]
    assert page.locator(".wall").inner_text() in shows
    page.context.set_offline(False)
    expect(page.locator("#late")).to_contain_text("marked late")
    expect(page.locator("h2", has_text="Out of the canner")).to_be_visible()
    assert kinds(stove) == ["day-begun", "full-boil-reached", "load-lifted"]
    boil, lift = (entry.occurred_at for entry in entries(stove)[1:])
    assert (lift - boil).total_seconds() >= 60 * (minutes + 5)
    expect(page.locator("main")).to_contain_text("tapped where there was no network")


@pytest.fixture
def under_pressure(tmp_path: Path, demo_plan: DayPlan) -> Iterator[Stove]:
    """The demo day's processes turned into pressure ones, which is invented."""
    batches = tuple(
        replace(b, process=replace(b.process, method="dial-gauge", pressure_psi=12.0))
        for b in demo_plan.batches
        if b.process is not None
    )
    stove = Stove(replace(demo_plan, batches=batches), tmp_path / "pressure.db")
    stove.start()
    yield stove
    stove.stop()


def test_a_lid_under_pressure_waits_for_its_vent_without_network_too(
    under_pressure: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    page.clock.install()
    page.goto(under_pressure.address)
    page.get_by_role("button", name="Begin the day").click()
    page.locator("#full-boil-load-1").click()
    page.locator("#sure").click()
    card = page.locator("#load-1")
    expect(card).to_contain_text("process clock runs")
    minutes = int(card.get_attribute("data-process-min") or 0)
    rest = int(card.get_attribute("data-rest-min") or 0)
    cut(page)
    look_now(page)
    expect(page.locator("#apart")).to_be_visible()
    ahead(page, under_pressure, minutes + 0.1)
    expect(card).to_contain_text("When no pressure is left, open the vent and wait 10")
    ahead(page, under_pressure, rest + 0.1)
    expect(card).to_contain_text("then lift the lid, its far side first")
    expect(page.locator("h1.cannot-wait")).to_contain_text(
        "may come out now if no pressure is left and the vent has been open for 10 min."
    )


def test_a_vent_clock_goes_on_without_network_and_is_booked_at_its_own_hours(
    under_pressure: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    page.clock.install()
    page.goto(under_pressure.address)
    page.get_by_role("button", name="Begin the day").click()
    expect(page.locator("#begin")).to_have_count(0)
    cut(page)
    look_now(page)
    expect(page.locator("#apart")).to_be_visible()
    card = page.locator("#load-1")
    page.locator("#venting-load-1").click()
    expect(card).to_contain_text("of 10 min of steady steam, from")
    expect(card.locator(".big")).to_have_text(re.compile(r"^(10:00|9:\d\d)$"))
    expect(card.locator("[data-tap=venting]:visible")).to_have_count(0)
    ahead(page, under_pressure, 10.1)
    expect(card.locator(".big")).to_have_text("close")
    expect(page.locator("h1.cannot-wait")).to_contain_text(
        "steam has streamed for 10 min: close the vent, bring it to 12 psi"
    )
    ahead(page, under_pressure, 4)
    card.locator("[data-tap=full-boil]:visible button").click()
    card.get_by_role("button", name="Yes, start the clock of load 1").click()
    expect(card).to_contain_text("process clock runs")
    assert kinds(under_pressure) == ["day-begun"]
    page.context.set_offline(False)
    expect(page.locator("#late")).to_contain_text("marked late")
    expect(card).to_contain_text("vented 10 min by its clock")
    assert kinds(under_pressure) == ["day-begun", "venting-begun", "full-boil-reached"]


@pytest.mark.usefixtures("at_noon")
def test_a_tap_that_no_longer_fits_is_told_and_stays(
    stove: Stove, open_page: Callable[..., Page]
):
    phone, tablet = open_page(*PHONE), open_page()
    begin(phone, stove)
    tablet.goto(stove.address)
    step = tablet.locator(".hand .verb").first.inner_text()
    cut(phone)
    phone.locator("#done-1").click()
    tablet.locator("#done-1").click()
    expect(tablet.locator(".hand .verb").first).not_to_have_text(step)
    expect(phone.locator(".waits")).to_be_visible()
    before = kinds(stove)
    phone.context.set_offline(False)
    said = phone.locator("#late")
    expect(said).to_contain_text("Not booked (Done")
    expect(said).to_contain_text("on another device already")
    assert kinds(stove) == before
    phone.reload()
    expect(said).to_contain_text("on another device already")
    phone.get_by_role("button", name="I have read it: take it off").click()
    expect(said).to_be_hidden()


def test_a_tap_that_waits_can_be_taken_off(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)
    cut(page)
    head = page.locator("h1").inner_text()
    page.locator("#boil-lost-load-1").click()
    card = page.locator("#load-1")
    expect(card).to_contain_text("waits on this device")
    expect(page.locator("h1.cannot-wait")).to_contain_text("the whole")
    page.get_by_role("button", name="Take it back", exact=True).click()
    expect(card).not_to_contain_text("waits")
    expect(page.locator("h1")).to_have_text(head)
    expect(card.locator(".big")).to_have_text(re.compile(r"^\d+:\d\d$"))
    page.context.set_offline(False)
    expect(page.locator("#apart")).to_be_hidden()
    assert "boil-lost" not in kinds(stove)


@pytest.mark.parametrize("press", ["A jar broke", "Plan the rest again", "Kitchen"])
def test_what_cannot_wait_leaves_the_page_and_says_to_write_the_minute(
    stove: Stove, open_page: Callable[..., Page], press: str
):
    page = open_page(*PHONE)
    begin(page, stove)
    cut(page)
    page.get_by_role("link", name=press).first.click()
    expect(page.locator(".stayed")).to_contain_text("There is no network.")
    expect(page.locator(".stayed")).to_contain_text("Write down")
    expect(page.locator("[data-until-ms]")).to_be_visible()
    page.context.set_offline(False)
    page.get_by_role("link", name=press).first.click()
    page.wait_for_url(lambda url: not url.endswith("/stove"))


def test_a_day_is_not_begun_without_network(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    page.goto(stove.address)
    cut(page)
    page.locator("#begin").click()
    expect(page.locator(".stayed")).to_contain_text("The day has not been begun")
    page.context.set_offline(False)
    page.locator("#begin").click()
    expect(page.locator("#begin")).to_have_count(0)
    assert kinds(stove) == ["day-begun"]


def test_a_wifi_that_answers_with_its_own_page_has_not_taken_the_tap(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)
    welcome = "<!doctype html><h1>Welcome to the cafe</h1>"
    page.route("**/stove/*", lambda route: route.fulfill(body=welcome))
    page.locator("#done-1").click()
    expect(page.locator("#late")).to_contain_text("Not taken yet (Done")
    expect(page.locator("[data-until-ms]")).to_be_visible()
    assert "step-done" not in kinds(stove)
    page.unroute("**/stove/*")
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#late")).to_contain_text("marked late")
    assert kinds(stove).count("step-done") == 1


def test_a_lost_answer_is_not_a_second_booking(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)

    def lose(route: Route) -> None:
        route.fetch()  # the kitchen hears it, and nobody hears the kitchen
        route.abort()

    page.route("**/stove/boil-lost", lose)
    page.locator("#boil-lost-load-1").click()
    expect(page.locator("#late")).to_contain_text("booked before")
    expect(page.locator("h1")).to_contain_text("lost its boil")
    assert kinds(stove).count("boil-lost") == 1
    assert not from_entry(entries(stove)[-1]).late


def test_a_tap_goes_behind_those_of_its_load_that_still_wait(
    stove: Stove, open_page: Callable[..., Page]
):
    """
    The network is back, and what waited is just being sent.

    The board shows the boil lost, and its key for the new one. Ahead of the lost boil
    that was refused: the clock runs.
    """
    page = open_page(*PHONE)
    begin(page, stove)
    cut(page)
    page.locator("#boil-lost-load-1").click()
    expect(page.locator("#load-1 .big")).to_have_text("lost")
    late: list[Route] = []
    page.route("**/stove/late", lambda route: late.append(route))
    page.context.set_offline(False)
    look_now(page)
    expect(page.locator("#apart")).to_be_hidden()
    page.wait_for_timeout(300)
    assert late
    page.locator("#load-1 [data-tap=full-boil]:visible button").click()
    if page.locator(".asked-here button").count():
        page.locator(".asked-here button").first.click()
    page.wait_for_timeout(500)
    assert kinds(stove)[-1] == "full-boil-reached"
    while late:
        late.pop().continue_()
    page.unroute("**/stove/late")
    expect(page.locator(".waits")).to_have_count(0)
    expect(page.locator("#load-1")).to_contain_text("process clock runs")
    assert kinds(stove)[-2:] == ["boil-lost", "full-boil-reached"]
    assert "has changed since" not in page.locator("main").inner_text()


def test_what_was_booked_stays_on_a_board_that_cannot_be_drawn_anew(
    stove: Stove, open_page: Callable[..., Page]
):
    """
    The network comes for a moment and goes again, before the board could follow.

    The lost boil is booked by then. The board went back to what the kitchen drew last:
    the old clock ran on, and would have called the jars ready.
    """
    page = open_page(*PHONE)
    begin(page, stove)
    cut(page)
    page.locator("#boil-lost-load-1").click()
    expect(page.locator("#load-1 .big")).to_have_text("lost")
    page.route("**/stove?while=*", lambda route: route.abort())
    page.context.set_offline(False)
    expect(page.locator("#late")).to_contain_text("marked late")
    page.wait_for_timeout(800)
    assert kinds(stove)[-1] == "boil-lost"
    expect(page.locator("#load-1 .big")).to_have_text("lost")
    expect(page.locator(".waits")).to_have_count(0)
    expect(page.locator("#apart")).to_be_visible()
    page.locator("#load-1 [data-tap=full-boil]:visible button").click()
    if page.locator(".asked-here button").count():
        page.locator(".asked-here button").first.click()
    expect(page.locator("#load-1")).to_contain_text("process clock runs")
    page.unroute("**/stove?while=*")
    look_now(page)
    expect(page.locator("#apart")).to_be_hidden()
    expect(page.locator(".waits")).to_have_count(0)
    expect(page.locator("#load-1")).to_contain_text("process clock runs")
    assert kinds(stove)[-2:] == ["boil-lost", "full-boil-reached"]
    assert "has changed since" not in page.locator("main").inner_text()


def test_a_browser_that_keeps_nothing_says_to_write_it_down(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)
    page.evaluate(
        "() => { Storage.prototype.setItem = () => { throw new Error('full') } }"
    )
    cut(page)
    page.locator("#done-1").click()
    expect(page.locator(".stayed")).to_contain_text("This browser can keep nothing")
    page.context.set_offline(False)
    expect(page.locator("#apart")).to_be_hidden()
    with page.expect_response("**/stove/*"):
        page.locator("#done-1").click()
    expect(page.locator("#done-1")).to_be_visible()
    page.wait_for_timeout(1_000)  # what would be sent a second time, was
    assert kinds(stove).count("step-done") == 1


def test_jars_that_nobody_said_were_filled_are_asked_about_where_they_arrive(
    stove: Stove, open_page: Callable[..., Page]
):
    """A page closed while it asked the kitchen has asked nobody."""
    page = open_page(*PHONE)
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").click()
    expect(page.locator("#begin")).to_have_count(0)
    page.evaluate(
        """() => {
          const form = document.querySelector("#load-1 [data-tap='full-boil']");
          const now = new Date();
          localStorage["stillroom-late"] = JSON.stringify([{
            token: "0".repeat(32), at: now.toISOString(), tapped: now.getTime(),
            clock: "9:50:12", what: "Full boil now: load 1", tap: "full-boil",
            of: form.closest("[data-of]").dataset.of,
            fields: [...new FormData(form), ["tap", "full-boil"]],
          }]);
        }"""
    )
    page.reload()
    expect(page.locator("#late")).to_contain_text("any jar of load 1 is filled")
    assert kinds(stove) == ["day-begun"]
    page.get_by_role("button", name="Yes, start the clock of load 1, from").click()
    # the device draws its clock at once: the kitchen answers after it
    expect(page.locator("#late")).to_contain_text("Booked:")
    expect(page.locator("[data-until-ms]")).to_be_visible()
    assert kinds(stove) == ["day-begun", "full-boil-reached"]


def test_a_look_that_began_before_a_tap_does_not_draw_over_its_answer(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)
    slow: list[Route] = []

    def hold(route: Route) -> None:
        if slow or route.request.method != "GET":
            route.continue_()
        else:
            slow.append(route)

    before = page.request.get(stove.address).text()
    page.route("**/stove?while=*", hold)
    look_now(page)
    page.wait_for_timeout(200)
    assert slow
    page.locator("#boil-lost-load-1").click()
    expect(page.locator("h1")).to_contain_text("lost its boil")
    slow[0].fulfill(body=before, content_type="text/html")
    page.wait_for_timeout(1_000)
    expect(page.locator("h1")).to_contain_text("lost its boil", timeout=100)


REFUSED = """Object.defineProperty(window, "localStorage", {
  get() { throw new DOMException("refused", "SecurityError"); }});"""


def test_a_browser_that_refuses_its_store_counts_taps_and_says_to_write_down(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    page.add_init_script(REFUSED)
    begin(page, stove)
    was = shown_s(page)
    page.wait_for_timeout(1_300)
    assert shown_s(page) < was
    words = page.locator("#done-1").text_content() or ""
    page.locator("#done-1").click()
    # the next step is there: a press before that is the same press again
    expect(page.locator("#done-1")).not_to_have_text(words)
    assert "step-done" in kinds(stove)
    cut(page)
    page.locator("#done-1").click()
    expect(page.locator(".stayed")).to_contain_text("This browser can keep nothing")
    expect(page.locator("[data-until-ms]")).to_be_visible()


def test_what_stands_in_the_store_and_is_no_entry_stops_no_clock(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    page.add_init_script("localStorage['stillroom-late'] ??= '{half an ent'")
    begin(page, stove)
    was = shown_s(page)
    page.wait_for_timeout(1_300)
    assert shown_s(page) < was


def in_the_same_canner(page: Page) -> str:
    """The name of a load that waits for the canner of load 1."""
    canner = page.locator("#load-1").get_attribute("data-canner")
    other = page.locator(f"li[data-canner='{canner}']").first
    return other.get_attribute("data-name") or ""


@pytest.mark.parametrize("known", [True, False])
def test_a_canner_that_holds_jars_starts_no_second_clock_without_network(
    stove: Stove, open_page: Callable[..., Page], known: bool
):
    page = open_page(*PHONE)
    page.clock.install()
    begin(page, stove)
    other = in_the_same_canner(page)
    key = page.locator(f"#full-boil-{other.replace(' ', '-')}")
    minutes = int(page.locator("#load-1").get_attribute("data-process-min") or 0)
    if known:
        cut(page)
        look_now(page)
        expect(page.locator("#apart")).to_be_visible()
    else:
        stove.stop()
    key.click()
    expect(page.locator(".stayed")).to_contain_text("still holds load 1")
    assert page.evaluate("localStorage['stillroom-late'] ?? '[]'") == "[]"
    if not known:
        stove.start()
        return
    ahead(page, stove, minutes + 5.1)
    page.locator("#load-1").get_by_role("button", name="Lifted out").click()
    key.click()
    page.get_by_role("button", name=f"Yes, start the clock of {other}").click()
    waits = page.locator(f"#{other.replace(' ', '-')} .waits")
    expect(waits).to_contain_text("until")
    ahead(page, stove, minutes + 1)
    expect(waits).to_contain_text("jars stay in until")  # and no longer the process
    page.context.set_offline(False)
    expect(page.locator("#late")).to_contain_text("marked late")
    expect(page.locator(".waits")).to_have_count(0)
    assert kinds(stove)[-2:] == ["load-lifted", "full-boil-reached"]


def test_an_answer_that_is_no_board_leaves_no_error_behind(
    stove: Stove, open_page: Callable[..., Page]
):
    page = open_page(*PHONE)
    begin(page, stove)
    page.locator("#load-1 [name=seen]").first.evaluate("one => { one.value = 'x' }")
    page.locator("#boil-lost-load-1").click()
    expect(page.locator("#main")).to_contain_text("is no number")
    page.context.set_offline(True)
    look_now(page)
    page.evaluate("dispatchEvent(new Event('online'))")
    page.wait_for_timeout(1_000)
