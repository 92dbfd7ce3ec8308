"""The stock on a phone: one thumb, no sideways scrolling, no script needed."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from stillroom.records.days import open_records
from stillroom.web.app import build_app
from tests.cli.running import run
from tests.web.conftest import served
from tests.web.test_stock import JUICE, Shop


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(Shop(), records=records)  # type: ignore[arg-type]
        with served(app) as address:
            yield address


def test_a_thumb_takes_in_uses_and_counts(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844, java_script_enabled=False)
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").click()
    expect(page.locator("#understood")).to_contain_text("14 bags (56 cups)")
    page.get_by_role("button", name="Book it").click()
    expect(page.locator("#booked")).to_contain_text("received 14 bags")
    page.locator("details.entry > summary").click()
    page.get_by_label("How much", exact=True).fill("2 bags")
    page.get_by_role("button", name=re.compile("^Use ?: L")).click()
    expect(page.locator("#says")).to_contain_text("drawn: 2 bags (8 cups)".capitalize())
    page.get_by_role("button", name="Book it").click()
    expect(page.locator("details.entry > summary")).to_contain_text("12 bags (48 cups)")
    page.locator("details.entry > summary").click()
    page.get_by_label("How much", exact=True).fill("99 bags")
    page.get_by_role("button", name=re.compile("^Use ?: L")).click()
    expect(page.get_by_role("alert")).to_contain_text("12 bags (48 cups)")


def test_a_thumb_takes_back_what_it_booked_by_mistake(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844, java_script_enabled=False)
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Book it").click()
    page.locator("details.entry > summary").click()
    page.get_by_label("How much", exact=True).fill("3 bags")
    page.get_by_role("button", name=re.compile("^Sold ?: L")).click()
    page.get_by_role("button", name="Book it").click()
    page.locator("#booked").get_by_role("link", name="Take it back").click()
    expect(page.locator("#says")).to_contain_text("Take back number 2: sold: 3 bags")
    expect(page.locator("#afterwards")).to_contain_text("14 bags (56 cups)")
    page.get_by_role("button", name="Take it back").click()
    expect(page.locator("#says")).to_be_visible()  # it waits for the reason
    page.get_by_label("What was wrong with it").fill("that was cider")
    for key in page.locator("button, main a").all():
        box = key.bounding_box()
        assert box is not None
        assert box["height"] >= 44, key.inner_text()
    page.get_by_role("button", name="Take it back").click()
    expect(page.locator("#booked")).to_contain_text("mended number 2: that was cider")
    expect(page.locator("details.entry > summary")).to_contain_text("14 bags (56 cups)")
    page.locator("details.entry > summary").click()
    page.get_by_role("link", name="Where it is from and went").click()
    expect(page.locator("#entries li")).to_have_count(3)
    page.locator("#entries").get_by_role("link", name="number 1").click()
    expect(page.locator("#says")).to_contain_text("Take back number 1: received 14")
    page.get_by_role("link", name="Leave it").click()
    expect(page).to_have_url(re.compile("/stock/lot/"))
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_a_count_with_one_slip_gives_back_all_that_was_typed(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    for said in ("20 half-pints jam, pantry", "9 quart jars pears, pantry"):
        page.goto(f"{address}/stock")
        page.get_by_label("What came in").fill(said)
        page.get_by_role("button", name="Read it").click()
        page.get_by_role("button", name="Book it").click()
        expect(page.locator("#booked")).to_be_visible()
    page.goto(f"{address}/stock/count?place=pantry")
    page.get_by_label("jam").fill("18")
    page.get_by_label("pears").fill("-8")
    page.get_by_role("button", name="Book this count").click()
    expect(page.locator("#late")).to_contain_text("less than nothing")
    expect(page.locator("#late")).not_to_contain_text("..")
    expect(page.get_by_label("jam")).to_have_value("18")
    expect(page.get_by_label("pears")).to_have_value("-8")
    page.get_by_label("pears").fill("8")
    page.get_by_role("button", name="Book this count").click()
    expect(page.locator("#late")).to_contain_text("1 quart fewer now")
    expect(page.locator("#late")).to_contain_text("2 half-pints fewer now")
    expect(page.locator("#late")).not_to_contain_text("Not booked")


def test_what_is_said_of_a_long_count_is_on_the_screen(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    for n in range(12):
        page.request.post(
            f"{address}/stock/book",
            form={
                "deed": "add",
                "sentence": f"{n + 2} half-pints jam {'abcdefghijkl'[n]}, pantry",
                "token": f"{n:032x}",
            },
        )
    page.goto(f"{address}/stock/count?place=pantry")
    last = page.locator("input[id^='n-']").last
    key, said = page.locator("#book-count"), page.locator("#late")
    last.fill("many")
    key.click()
    expect(said).to_contain_text("Not booked")
    expect(said).to_be_in_viewport()
    expect(last).to_have_value("many")
    page.context.set_offline(True)
    last.fill("1")
    key.click()
    expect(said).to_contain_text("1 entry waits")
    expect(said).not_to_contain_text("Not booked")
    expect(said).to_be_in_viewport()
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    page.context.set_offline(False)
    expect(said).to_contain_text("Booked:")
    expect(said).to_be_in_viewport()


def test_every_key_is_large_and_nothing_runs_off_the_phone(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Book it").click()
    page.locator("details.entry > summary").click()
    for key in page.locator("button, summary, main a").all():
        box = key.bounding_box()
        assert box is not None
        assert box["height"] >= 44, key.inner_text()
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 390


ROOM = """(select) => {
  const style = getComputedStyle(select);
  const pen = document.createElement("canvas").getContext("2d");
  pen.font = `${style.fontSize} ${style.fontFamily}`;
  const beside = parseFloat(style.paddingLeft) + parseFloat(style.paddingRight) + 18;
  const words = Math.max(...[...select.options].map((o) => pen.measureText(o.text).width));
  return select.clientWidth - beside - words;
}"""  # noqa: E501


def test_which_lot_is_spoiled_is_read_to_the_end_of_its_code(
    address: str, open_page: Callable[..., Page]
) -> None:
    """It is booked at one press: of two lots of one thing the code is what tells."""
    page = open_page(390, 844)
    for jars in (3, 4):
        page.goto(f"{address}/stock")
        page.get_by_label("What came in").fill(
            f"{jars} half-pints sour cherry jelly, pantry"
        )
        page.get_by_role("button", name="Read it").click()
        page.get_by_role("button", name="Book it").click()
        expect(page.locator("#booked")).to_contain_text("received")
    page.goto(f"{address}/stock/count?place=pantry")
    page.locator("details.entry > summary").click()
    assert page.get_by_label("Which").evaluate(ROOM) >= 0


def test_what_comes_in_while_cut_off_waits_on_the_phone_and_is_booked_once(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    page.goto(f"{address}/stock")
    page.context.set_offline(True)
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").dblclick()
    expect(page.locator("#late")).to_contain_text("1 entry waits on this device")
    page.context.set_offline(False)
    expect(page.locator("#late")).to_contain_text("Booked:")
    expect(page.locator("#shelf")).to_contain_text("14 bags (56 cups)")
    assert page.locator("details.entry").count() == 1


def test_with_the_kitchen_in_reach_what_came_in_is_shown_before_it_is_booked(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").click()
    expect(page.locator("#understood")).to_contain_text("14 bags (56 cups)")
    page.goto(f"{address}/stock")
    assert page.locator("details.entry").count() == 0


def test_a_key_of_a_lots_page_has_room_round_its_words(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Book it").click()
    page.locator("details.entry > summary").click()
    page.get_by_role("link", name="Where it is from").click()
    expect(page.locator(".key").first).to_be_visible()
    for key in page.locator(".key").all():
        inside = key.evaluate("e => parseFloat(getComputedStyle(e).paddingLeft)")
        assert inside >= 4, key.inner_text()


def test_an_entry_that_the_machine_cannot_take_holds_up_no_other(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    page.goto(f"{address}/stock")

    def fails(route: Route) -> None:
        if "plums" in (route.request.post_data or ""):
            route.fulfill(status=200, content_type="text/html", body="<h1>No</h1>")
        else:
            route.continue_()

    kitchen = page.context
    kitchen.route("**/stock/late", fails)
    kitchen.set_offline(True)
    for said in ("3 lb plums, pantry", "2 lb sugar, pantry"):
        page.get_by_label("What came in").fill(said)
        page.get_by_role("button", name="Read it").click()
    expect(page.locator("#late")).to_contain_text("2 entries wait")
    kitchen.set_offline(False)
    expect(page.locator("#late")).to_contain_text("received 2 lb")
    expect(page.locator("#late")).to_contain_text("Not taken yet (came in: 3 lb plums")
    expect(page.locator("#late")).to_contain_text("1 entry waits")
    page.close()
    kitchen.unroute("**/stock/late")
    page = kitchen.new_page()
    page.goto(f"{address}/stock")
    # a try of the page that is shut may yet have come through, and counts once
    taken = re.compile("received 3 lb|3 lb plums, pantry was booked before")
    expect(page.locator("#late")).to_have_text(taken)
    expect(page.locator("#late")).not_to_contain_text("Not taken yet")
    expect(page.locator("#shelf")).to_contain_text("3 lb")


def late_entry(page: Page, address: str) -> None:
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill("2 lb sugar, pantry")
    page.evaluate("Object.defineProperty(navigator, 'onLine', { value: false })")
    page.get_by_role("button", name="Read it").click()


def test_a_first_try_that_fails_as_the_network_comes_back_is_soon_made_again(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    tries: list[Route] = []

    def fails_twice(route: Route) -> None:
        tries.append(route)
        if len(tries) <= 2:  # once as it is typed in, once as the network comes back
            route.abort("internetdisconnected")
        else:
            route.continue_()

    page.route("**/stock/late", fails_twice)
    with page.expect_event("requestfailed"):
        late_entry(page, address)
    expect(page.locator("#late")).to_contain_text("1 entry waits")
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#late")).to_contain_text("Booked: received 2 lb")
    assert len(tries) == 3


def test_a_network_that_is_back_while_a_try_still_hangs_is_not_missed(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    tries: list[Route] = []

    def hangs_once(route: Route) -> None:
        tries.append(route)
        if len(tries) > 1:
            route.continue_()

    # no try is made by the clock: only what the page was asked meanwhile is left
    page.add_init_script("window.setTimeout = window.setInterval = () => 0")
    page.route("**/stock/late", hangs_once)
    late_entry(page, address)
    expect(page.locator("#late")).to_contain_text("1 entry waits")
    page.evaluate("dispatchEvent(new Event('online'))")
    assert len(tries) == 1
    tries[0].abort("internetdisconnected")
    expect(page.locator("#late")).to_contain_text("Booked: received 2 lb")


def test_what_waits_is_sent_from_the_lots_of_the_day_too(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    page.goto(f"{address}/stock/made")
    expect(page.locator("#late")).to_be_hidden()
    page.goto(f"{address}/stock")
    page.context.set_offline(True)
    page.get_by_label("What came in").fill("2 lb sugar, pantry")
    with page.expect_event("requestfailed", lambda of: "/stock/late" in of.url):
        page.get_by_role("button", name="Read it").click()
    expect(page.locator("#late")).to_contain_text("1 entry waits")
    # a page that is only left may yet hear of the network, and send it: it is shut
    away, page = page, page.context.new_page()
    away.close()
    page.context.set_offline(False)
    page.goto(f"{address}/stock/made")
    expect(page.locator("#late")).to_contain_text("Booked:")
    assert page.evaluate("localStorage.getItem('stillroom-late')") == "[]"


def book_twenty_jars(page: Page, address: str) -> None:
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill("20 half-pints jam, pantry")
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Book it").click()
    expect(page.locator("#booked")).to_be_visible()


def test_an_absurd_count_is_asked_about_on_the_phone(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    book_twenty_jars(page, address)
    page.goto(f"{address}/stock/count?place=pantry")
    page.get_by_label("jam").fill("99999")
    page.get_by_role("button", name="Book this count").click()
    expect(page.locator("h1")).to_have_text("Book it so?")
    expect(page.locator("#more")).to_contain_text("never had more than 20 half-pints")
    page.get_by_role("link", name="Leave it").click()
    expect(page.get_by_text("the record has 20 half-pints")).to_be_visible()
    expect(page.locator("#late")).to_be_hidden()


def test_a_press_that_lasts_while_what_waits_is_drawn_anew_is_taken(
    address: str, open_page: Callable[..., Page]
) -> None:
    """What waits is sent again by itself, and drew the key away under the finger."""
    page = open_page(390, 844)
    book_twenty_jars(page, address)
    page.route("**/stock/count/ask*", lambda route: route.fulfill(body="<h1>Away</h1>"))
    page.goto(f"{address}/stock/count?place=pantry")
    page.get_by_label("jam").fill("99999")
    page.get_by_role("button", name="Book this count").click()
    expect(page.locator("h1")).to_have_text("Away")
    page.goto(f"{address}/stock/after", wait_until="networkidle")
    key = page.get_by_role("button", name="Take it off this device")
    key.hover()
    page.mouse.down()
    with page.expect_response("**/stock/late"):
        page.evaluate("dispatchEvent(new Event('pageshow'))")
    page.wait_for_timeout(300)
    page.mouse.up()
    expect(page.locator("#late")).to_be_hidden()


def test_a_count_that_is_asked_about_is_kept_until_the_question_is_answered(
    address: str, open_page: Callable[..., Page]
) -> None:
    """It was taken off the phone before the question was on the screen."""
    page = open_page(390, 844)
    book_twenty_jars(page, address)
    # answered by itself until it is told to pass: a route taken off may answer still
    away = [True]

    def answer(route: Route) -> None:
        if away:
            route.fulfill(body="<h1>Away</h1>")
        else:
            route.continue_()

    page.route("**/stock/count/ask*", answer)
    page.goto(f"{address}/stock/count?place=pantry")
    page.get_by_label("jam").fill("99999")
    page.get_by_role("button", name="Book this count").click()
    expect(page.locator("h1")).to_have_text("Away")
    page.goto(f"{address}/stock/after")
    expect(page.locator("#late")).to_contain_text("never had more than 20 half-pints")
    away.clear()
    page.get_by_role("link", name="Is it so?").click()
    page.get_by_role("button", name="Book it").click()
    expect(page.locator("#booked")).to_contain_text("99979 half-pints more now")
    kept = "localStorage.getItem('stillroom-late')"
    for _ in range(100):  # taken off the phone by the script of the page, a little on
        if page.evaluate(kept) == "[]":
            break
        page.wait_for_timeout(100)
    assert page.evaluate(kept) == "[]"
    expect(page.locator("#late")).to_be_hidden()


@pytest.mark.parametrize("width", [360, 1280])
def test_a_deed_without_network_leaves_the_page_and_what_is_typed(
    address: str, open_page: Callable[..., Page], width: int
) -> None:
    page = open_page(width, 740)
    book_twenty_jars(page, address)
    page.locator("details.entry > summary").click()
    quantity = page.get_by_label("How much", exact=True)
    quantity.fill("3")
    page.context.set_offline(True)
    page.get_by_role("button", name="Eaten").click()
    said = page.locator(".stayed")
    expect(said).to_contain_text("There is no network. Nothing was sent")
    expect(said).to_be_in_viewport()
    page.get_by_role("link", name="Where it is from").click()
    expect(said).to_contain_text("This page stays, with what you typed")
    expect(quantity).to_have_value("3")
    page.context.set_offline(False)
    expect(said).to_be_hidden()
    page.get_by_role("button", name="Eaten").click()
    expect(page.locator("#says")).to_contain_text("3 half-pints")
    page.context.set_offline(True)
    page.get_by_role("button", name="Book it").click()
    expect(said).to_contain_text("Nothing was sent")
    page.context.set_offline(False)
    page.get_by_role("button", name="Book it").click()
    expect(page.locator("#booked")).to_contain_text("3 half-pints")


def test_the_day_after_stays_with_what_is_typed_where_there_is_no_network(
    tmp_path: Path, open_page: Callable[..., Page]
) -> None:
    db = str(tmp_path / "made.db")
    jars = ("stock", "made", "20 half-pints plum jelly, pantry", "--process", "10")
    assert run(*jars, "--elevation", "310m", "--yes", "--db", db).code == 0
    with open_records(tmp_path / "made.db") as records:
        app = build_app(Shop(), records=records)  # type: ignore[arg-type]
        with served(app) as address:
            page = open_page(360, 740)
            page.goto(f"{address}/stock/after")
            seals = page.locator("form.deed input[name=seals]").first
            form = page.locator("form.deed", has=page.locator("[name=seals]")).first
            page.get_by_text("Not all of them").first.click()
            seals.fill("19 good 1 failed")
            page.context.set_offline(True)
            form.get_by_role("button").click()
            expect(page.locator(".stayed")).to_contain_text("Nothing was sent")
            expect(seals).to_have_value("19 good 1 failed")
            page.context.set_offline(False)
            expect(page.locator(".stayed")).to_be_hidden()


def test_a_browser_that_refuses_its_store_counts_as_without_a_script(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(390, 844)
    page.add_init_script(
        """Object.defineProperty(window, "localStorage", {
          get() { throw new DOMException("refused", "SecurityError"); }});"""
    )
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Book it").click()
    expect(page.locator("#booked")).to_contain_text("received 14 bags")
    page.goto(f"{address}/stock/count?place=freezer+2&left=nothing")
    page.locator("[name^='n.']").fill("13")
    page.get_by_role("button", name="Book this count").click()
    expect(page.locator("#shelf")).to_contain_text("13 bags")
    page.goto(f"{address}/stock")
    expect(page.locator("main")).to_contain_text("13 bags")


def test_the_stock_on_paper_is_its_lots_and_nothing_to_type_in(
    address: str, open_page: Callable[..., Page]
) -> None:
    page = open_page(360, 800)
    page.goto(f"{address}/stock")
    page.get_by_label("What came in").fill(JUICE)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Book it").click()
    page.locator("details.entry > summary").click()
    how_much, to_whom = page.locator("form.deed input:visible").all()
    boxes = how_much.bounding_box(), to_whom.bounding_box()
    assert boxes[0] is not None
    assert boxes[1] is not None
    assert boxes[0]["y"] == boxes[1]["y"]  # one label has two lines
    page.emulate_media(media="print")
    expect(page.locator("details.entry > summary")).to_be_visible()
    assert page.locator("main input:visible, main button:visible").count() == 0
