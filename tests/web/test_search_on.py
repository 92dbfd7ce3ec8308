"""A better plan is looked for on request, and kept with the day when it is found."""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from types import SimpleNamespace

import pytest
from playwright.sync_api import Page, expect
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.timetable import Answer
from stillroom.records.days import open_records
from stillroom.refusal import Refusal
from stillroom.running.day_mark import mark_of
from stillroom.running.fold import NOT_BEGUN, RunState
from stillroom.running.handle import run_id, state_of
from stillroom.web.app import build_app
from stillroom.web.planner import Planned, plan_text
from stillroom.web.search_on import SearchOn
from stillroom.web.shop import Shop
from stillroom.web.shown_kept import read_shown
from tests.web.conftest import served
from tests.web.forms import begin_the_day, forms, send

Open = Callable[..., Page]
TEXT = new_day_text()
NO_TIME = 0.0
"""The plan by hand is all that is there."""


class Searcher:
    """Plans when it is let go; what it was asked for, and whether it was broken off."""

    def __init__(self) -> None:
        self.asked: list[dict[str, object]] = []
        self.may_end = threading.Event()
        self.is_closed = threading.Event()
        self.finds: Planned | Exception | None = None

    def __call__(self, text: str, **more: object) -> Planned:
        self.asked.append({"text": text, **more})
        assert self.may_end.wait(60)
        if self.is_closed.is_set():
            raise RuntimeError("the planning process was closed")
        if isinstance(self.finds, Exception):
            raise self.finds
        more["seconds"] = 1.0
        return self.finds or plan_text(text, **more)  # type: ignore[arg-type]

    def close(self) -> None:
        self.is_closed.set()
        self.may_end.set()


@pytest.fixture
def farm(tmp_path: Path) -> Iterator[SimpleNamespace]:
    """Pages over a record whose day has the plan by hand, and what searches on."""
    searchers: list[Searcher] = []

    def searcher() -> Searcher:
        searchers.append(Searcher())
        return searchers[-1]

    with open_records(tmp_path / "farm.db") as records:
        records.days.save(TEXT, "typed in")
        shop = Shop(
            records.days,
            seconds=NO_TIME,
            planner=plan_text,
            longer=SearchOn(60.0, searcher),  # type: ignore[arg-type]
        )
        shop.plan_within(60)
        app = build_app(shop, records=records)
        with TestClient(app, base_url="http://127.0.0.1") as client:
            yield SimpleNamespace(
                app=app, client=client, shop=shop, records=records, searchers=searchers
            )
        shop.close()


def search(farm: SimpleNamespace, of: str = "") -> Searcher:
    sent = {"of": of or mark_of(farm.shop.day_text())}
    answer = farm.client.post("/day/search-on", data=sent, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/day#searched")
    return farm.searchers[-1]


def let_go(farm: SimpleNamespace, searcher: Searcher) -> str:
    """Let a search end; gives what the page then says of it."""
    searcher.may_end.set()
    until = time.monotonic() + 60
    while farm.client.get("/day/search-on").json()["goes_on"]:
        assert time.monotonic() < until
        time.sleep(0.02)
    return farm.client.get("/day/search-on").json()["said"]


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def finish(shop: Shop) -> int:
    plan = shop.plan()
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    return plan.answer.finish_min


def test_the_plan_of_the_day_holds_until_a_better_one_is_found(farm):
    before = farm.shop.plan()
    assert "Search a minute for a better plan" in farm.client.get("/day").text
    searcher = search(farm)
    shown = plain(farm.client.get("/day").text)
    assert re.search(r"A better plan is looked for, until about \d+:\d\d\.", shown)
    assert "Search a minute" not in shown
    assert farm.shop.plan() is before
    hand = finish(farm.shop)
    said = let_go(farm, searcher)
    sooner = hand - finish(farm.shop)
    assert sooner > 0
    assert re.search(
        rf"found at \d+:\d\d: done at \d+:\d\d, {sooner} min sooner\.", said
    )
    assert said in plain(farm.client.get("/day").text)


def test_it_begins_with_the_plan_that_is_there_and_ends_by_the_clock(farm):
    plan = farm.shop.plan()
    let_go(farm, search(farm))
    (asked,) = farm.searchers[0].asked
    assert (asked["text"], asked["seconds"]) == (TEXT, 60.0)
    assert asked["begin_with"][0].plan == plan.answer.timetable
    assert asked["deterministic"] is False


def test_what_was_found_is_kept_with_the_day_and_there_after_a_restart(farm):
    let_go(farm, search(farm))
    newest = farm.records.days.newest()
    assert newest.text == TEXT
    assert newest.why.startswith("Searched on: done at ")
    known = read_shown(newest.shown)
    again = Shop(
        farm.records.days, seconds=NO_TIME, planner=plan_text, begin_with=known
    )
    assert again.plan_within(60).answer.timetable == farm.shop.plan().answer.timetable
    assert again.plan().answer.finish_min < plan_text(TEXT, seconds=0).answer.finish_min


def test_the_day_that_a_what_if_day_changed_is_still_said_to_be_changed(farm):
    farm.shop.save_day(f"{TEXT}\n# other\n", "What if: 9 places", over=TEXT)
    farm.shop.plan_within(60)
    let_go(farm, search(farm))
    assert farm.records.days.newest().why.startswith("Searched on: ")
    assert "Changed" in plain(farm.client.get("/day").text)
    assert "9 places" in plain(farm.client.get("/day").text)


def test_no_better_plan_leaves_the_one_that_is_there(farm):
    let_go(farm, search(farm))
    found, revisions = farm.shop.plan(), len(farm.records.days.revisions())
    searcher = Searcher()
    farm.shop.longer._planner_of = lambda: searcher
    searcher.finds = plan_text(TEXT, seconds=0)  # the plan by hand, which is worse
    farm.shop.search_on(lambda: True)
    assert let_go(farm, searcher).startswith("No better plan was found until ")
    assert farm.shop.plan() is found
    assert len(farm.records.days.revisions()) == revisions


def test_what_was_proven_meanwhile_is_said_though_no_better_plan_was_found(farm):
    searcher, before = search(farm), farm.shop.plan()
    bound = before.answer.lower_bound_min + 3
    proven = replace(before.answer, lower_bound_min=bound, lower_bound_why="because")
    searcher.finds = replace(before, answer=proven)
    assert let_go(farm, searcher).startswith("No better plan was found until ")
    now = farm.shop.plan().answer
    assert (now.lower_bound_min, now.lower_bound_why) == (bound, "because")
    assert now.proven == (now.finish_min <= bound)
    assert now.timetable == before.answer.timetable
    assert len(farm.records.days.revisions()) == 1


def test_a_better_plan_keeps_what_was_proven_before(farm):
    searcher, before = search(farm), farm.shop.plan()
    found = plan_text(TEXT, seconds=1.0)
    less = replace(found.answer, lower_bound_min=0, proven=False)
    searcher.finds = replace(found, answer=less)
    let_go(farm, searcher)
    answer = farm.shop.plan().answer
    assert answer.timetable == found.answer.timetable
    assert answer.lower_bound_min == before.answer.lower_bound_min > 0


@pytest.mark.parametrize(
    "finds", [ZeroDivisionError("on purpose"), Refusal("no", "yes", "me")]
)
def test_a_search_that_fails_takes_nothing_away(farm, finds):
    before, searcher = farm.shop.plan(), search(farm)
    searcher.finds = finds
    failed = isinstance(finds, Exception)
    begins = "The search for a better plan broke off" if failed else "No better plan"
    assert let_go(farm, searcher).startswith(begins)
    assert farm.shop.plan() is before
    assert "Search a minute for a better plan" in farm.client.get("/day").text


def test_a_day_that_is_changed_meanwhile_breaks_the_search_off(farm):
    searcher = search(farm)
    farm.shop.save_day(f"{TEXT}\n# other\n", "typed in", over=TEXT)
    assert searcher.is_closed.wait(10)
    assert farm.client.get("/day/search-on").json()["said"] == ""
    assert [r.why for r in farm.records.days.revisions()] == ["typed in", "typed in"]


def test_a_day_that_another_window_changed_is_not_given_the_plan(farm):
    # saved past this shop: by the command line, which writes to the same record
    before, searcher = farm.shop.plan(), search(farm)
    farm.records.days.save(f"{TEXT}\n# other\n", "typed in")
    searcher.may_end.set()
    assert searcher.is_closed.wait(60)
    assert farm.records.days.newest().shown == ""
    farm.records.days.save(TEXT, "as it was")
    assert farm.shop.plan() is before


def test_a_day_that_was_begun_meanwhile_keeps_the_plan_that_it_goes_by(farm):
    searcher = search(farm)
    begun = begin_the_day(farm.client)
    assert begun.status_code == 200
    before = farm.shop.plan()
    said = let_go(farm, searcher)
    assert re.fullmatch(r"A plan that was found at \d+:\d\d came too late: .+", said)
    assert farm.shop.plan() is before
    assert "Search a minute" not in farm.client.get("/day").text
    sent = {"of": mark_of(TEXT)}
    assert farm.client.post("/day/search-on", data=sent).status_code == 409


def run_begun(farm: SimpleNamespace) -> RunState:
    return state_of(run_id(farm.shop.plan().day.date), ledger=farm.records.ledger)


def test_an_old_page_begins_no_plan_that_it_did_not_show(farm):
    (old,) = forms(farm.client.get("/stove").text, "/stove/begin")
    was = clock_time(farm.shop.plan().problem.starts_at, finish(farm.shop))
    let_go(farm, search(farm))
    now = clock_time(farm.shop.plan().problem.starts_at, finish(farm.shop))
    asked = send(farm.client, "/stove/begin", old)
    assert run_begun(farm) == NOT_BEGUN
    assert (
        "The plan is another one than the page showed. "
        f"It is done at {now}; the one that was shown, at {was}. "
        "The day has not been begun." in plain(asked.text)
    )
    assert '<a class="key plain" href="/day">See it first</a>' in asked.text
    sure, _ = forms(asked.text, "/stove/begin")
    assert send(farm.client, "/stove/begin", sure).status_code == 200
    begun = run_begun(farm).plan
    assert begun.timetable == farm.shop.plan().answer.timetable
    assert begun.of == mark_of(TEXT)


def test_what_is_asked_about_one_plan_is_no_answer_for_the_next(farm):
    (old,) = forms(farm.client.get("/stove").text, "/stove/begin")
    let_go(farm, search(farm))
    sure, _ = forms(send(farm.client, "/stove/begin", old).text, "/stove/begin")
    farm.shop.save_day(f"{TEXT}\n# other\n", "typed in", over=TEXT)
    farm.shop.plan_within(60)
    asked = send(farm.client, "/stove/begin", sure)
    assert "The plan is another one than the page showed." in plain(asked.text)
    assert run_begun(farm) == NOT_BEGUN


@pytest.mark.parametrize("more", [{}, {"plan": "0" * 64, "done": "<b>noon</b>"}])
def test_a_page_that_does_not_say_its_plan_is_asked(farm, more):
    asked = farm.client.post("/stove/begin", data={"seen": "0"} | more)
    ends = clock_time(farm.shop.plan().problem.starts_at, finish(farm.shop))
    assert f"showed. It is done at {ends}. The day has not" in plain(asked.text)
    assert "noon" not in asked.text
    assert run_begun(farm) == NOT_BEGUN


def test_the_stove_says_that_its_plan_was_found_by_a_longer_search(farm):
    assert 'id="found"' not in farm.client.get("/stove").text
    let_go(farm, search(farm))
    better = farm.shop.searched().better
    said = plain(farm.client.get("/stove").text)
    assert re.search(rf"A longer search found this plan on \d.+?: {better}\.", said)
    begin_the_day(farm.client)
    assert 'id="found"' not in farm.client.get("/stove").text


def test_a_day_that_was_changed_since_the_page_was_drawn_is_not_searched(farm):
    answer = farm.client.post("/day/search-on", data={"of": mark_of("another")})
    assert answer.status_code == 409
    assert not farm.searchers


def test_a_second_tap_begins_no_second_search(farm):
    first = search(farm)
    assert search(farm) is first
    let_go(farm, first)
    assert len(farm.searchers) == 1


def test_a_plan_that_is_proven_is_not_searched_for(farm):
    let_go(farm, search(farm))
    assert farm.shop.plan().answer.proven
    assert "Search a minute" not in farm.client.get("/day").text


def test_a_page_that_looks_by_itself_begins_only_what_was_read_on_it(
    open_page: Open, farm
):
    with served(farm.app) as site:
        page = open_page(390, 800)
        page.goto(f"{site}/stove")
        expect(page.locator("#begin")).to_be_visible()
        let_go(farm, search(farm))
        page.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator("#found")).to_be_visible()  # the page has looked
        page.locator("#begin").click()
        expect(page.locator("#asked")).to_contain_text("the one that was shown, at")
        assert run_begun(farm) == NOT_BEGUN
        expect(page.locator("#begin")).to_be_hidden()  # the question has its own key
        expect(page.locator("[data-tap=begin]:visible")).to_have_count(1)
        page.locator("#begin-so").click()
        expect(page.locator("#begin-so")).to_have_count(0)
        assert run_begun(farm).plan.timetable == farm.shop.plan().answer.timetable


def test_the_page_says_by_itself_what_was_found(open_page: Open, farm):
    with served(farm.app) as site:
        page = open_page(390, 800)
        page.goto(f"{site}/day")
        page.get_by_role("button", name="Search a minute").click()
        expect(page.locator("#searched")).to_contain_text("is looked for")
        farm.searchers[-1].may_end.set()
        expect(page.locator("#searched")).to_contain_text(
            "was found at", timeout=60_000
        )
        page.get_by_role("link", name="Show it").click()
        expect(page.locator("#searched")).to_contain_text("min sooner")
        expect(
            page.get_by_text("No plan for this kitchen can end sooner")
        ).to_be_visible()
