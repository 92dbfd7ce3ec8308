"""At the stove a keyboard goes on where it was, and nothing scrolls by itself."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from stillroom.running.commands import FinishStep
from stillroom.running.handle import handle, state_of
from stillroom.running.hands import hands
from tests.web.test_stove_in_browser import Stove, begin, look_now, stove

__all__ = ["stove"]  # a fixture

Open = Callable[..., Page]

KEYS = "#stove :is(a[href], button, summary)"
FOCUSED = "document.activeElement.textContent.trim()"


def run_of(stove: Stove) -> str:
    return stove.records.ledger.streams("run/")[-1]


def somebody_else_did(stove: Stove) -> None:
    """The first step of the last person is said to be done on another device."""
    run = run_of(stove)
    now = hands(stove.plan, state_of(run, ledger=stove.records.ledger))[-1].now
    assert now
    at = stove.records.ledger.read(run)[-1].occurred_at
    handle(
        FinishStep(batch=now.batch, step=now.step, at=at),
        run,
        ledger=stove.records.ledger,
    )


def drawn_anew(page: Page, stove: Stove) -> None:
    """Something was said elsewhere, and the page looks."""
    page.evaluate("document.getElementById('stove').dataset.old = 'yes'")
    somebody_else_did(stove)
    look_now(page)
    expect(page.locator("#stove[data-old]")).to_have_count(0)


def test_what_has_the_focus_keeps_it_when_the_board_is_drawn_anew(
    stove: Stove, open_page: Open
) -> None:
    page = open_page()
    begin(page, stove)
    words = ["A jar broke", "source", "Plan the rest again", "full boil", "Done"]
    for word in words:
        key = page.locator(KEYS).filter(has_text=word).filter(visible=True).first
        key.focus()
        was = page.evaluate(FOCUSED)
        drawn_anew(page, stove)
        assert page.evaluate(FOCUSED) == was


def test_the_link_to_a_person_keeps_the_focus_though_it_says_another_step(
    stove: Stove, open_page: Open
) -> None:
    page = open_page()
    begin(page, stove)
    link = page.locator(".who-now a").last
    link.focus()
    was = link.inner_text()
    drawn_anew(page, stove)
    assert link.inner_text() != was
    expect(link).to_be_focused()


def test_nothing_scrolls_back_to_the_key_that_was_tapped_last(
    stove: Stove, open_page: Open
) -> None:
    page = open_page(390, 844)
    begin(page, stove)
    page.locator("#done-1").click()
    expect(page.locator("#take-back-1")).to_be_visible()
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    foot = page.evaluate("scrollY")
    drawn_anew(page, stove)
    assert abs(page.evaluate("scrollY") - foot) < 200  # a card may be a line longer


def test_where_the_key_went_the_sentence_is_next_and_no_other_key(
    stove: Stove, open_page: Open
) -> None:
    page = open_page()
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").focus()
    page.keyboard.press("Space")
    expect(page.locator("#stove h1")).to_be_focused()
    page.keyboard.press("Space")
    assert state_of(run_of(stove), ledger=stove.records.ledger).sequence == 1
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.matches('.who-now a')")


@pytest.mark.usefixtures("at_noon")
def test_where_a_step_was_begun_its_card_is_next_and_then_done(
    stove: Stove, open_page: Open
) -> None:
    page = open_page()
    begin(page, stove)
    page.locator("#begun-1").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#hand-1")).to_be_focused()
    page.keyboard.press("Tab")
    expect(page.locator("#done-1")).to_be_focused()


def test_what_is_asked_has_the_focus_before_its_keys(
    stove: Stove, open_page: Open
) -> None:
    page = open_page()
    page.goto(stove.address)
    page.get_by_role("button", name="Begin the day").click()
    page.locator("#full-boil-load-1").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#asked")).to_be_focused()
    page.keyboard.press("Tab")
    expect(page.locator("#sure")).to_be_focused()


def test_a_board_on_which_nothing_happened_is_not_drawn_anew(
    stove: Stove, open_page: Open
) -> None:
    page = open_page()
    begin(page, stove)
    page.evaluate("document.getElementById('stove').dataset.old = 'yes'")
    before = page.locator("#stove").get_attribute("data-now-ms")
    with page.expect_response(re.compile("/stove")):
        look_now(page)
    expect(page.locator("#stove")).not_to_have_attribute("data-now-ms", before or "")
    expect(page.locator("#stove[data-old]")).to_have_count(1)
