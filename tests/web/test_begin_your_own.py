"""A keeper's first day: nothing of the invented one passes for her own."""

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import demo_day_text, new_day_text
from stillroom.planning.dayplan import DayPlan
from stillroom.records.days import open_records
from stillroom.web.app import build_app
from stillroom.web.shop import Shop
from tests.web.conftest import ADDRESS, MemoryStore, served

Open = Callable[..., Page]
QUERY = {"product": "pears", "jar": "quart", "pack": "hot"}
BATCH = {"product": "plum jelly", "have": "5 cups", "pot": "11 L"}


def pages_over(text: str, *, invented_record: bool = False) -> TestClient:
    """Return the pages of a record that holds this day."""
    app = build_app(Shop(MemoryStore(text), seconds=0.5), port=8765)
    app.state.invented = invented_record
    return TestClient(app, base_url=ADDRESS)


def field(page: str, name: str) -> str:
    found = re.search(rf'<input [^>]*name="{re.escape(name)}" value="([^"]*)"', page)
    assert found is not None, name
    return found[1]


def test_the_height_of_an_invented_kitchen_chooses_no_process() -> None:
    client = pages_over(demo_day_text())
    assert field(client.get("/book/process").text, "elevation") == ""
    answer = client.get("/book/process", params=QUERY)
    assert answer.status_code == 400
    assert "Give the height of the kitchen above the sea" in answer.text
    assert 'id="answer"' not in answer.text
    batch = client.get("/book/batch", params=BATCH).text
    assert "No elevation was given" in batch
    assert "Process:" not in batch


@pytest.mark.parametrize("path", ["/book/process", "/book/batch", "/book/own-recipe"])
def test_her_own_height_stands_in_the_field(path: str) -> None:
    own = demo_day_text().replace("invented = true\n", "")
    assert own != demo_day_text()
    assert field(pages_over(own).get(path).text, "elevation") == "2,150 ft"


def test_in_the_demo_record_all_is_invented_and_said_to_be_so() -> None:
    page = pages_over(demo_day_text(), invented_record=True).get("/book/process").text
    assert field(page, "elevation") == "2,150 ft"
    assert 'id="invented"' in page


def test_a_small_day_is_offered_in_place_of_the_invented_one() -> None:
    client = pages_over(demo_day_text())
    assert 'href="/kitchen?begin=small"' in client.get("/kitchen").text
    page = client.get("/kitchen", params={"begin": "small"}).text
    assert "Nothing is saved until you press the key" in page
    assert field(page, "day:date") == f"{dt.datetime.now().astimezone():%Y-%m-%d}"
    assert field(page, "kitchen:elevation") == ""
    assert field(page, "shelf[1]:is") == "plum juice"
    assert "Hollow Larch" not in page
    # Nothing is saved by looking at it.
    assert "Hollow Larch" in client.get("/kitchen").text


def test_the_small_day_is_saved_as_her_own_once_it_has_its_height(
    open_page: Open,
) -> None:
    store = MemoryStore(demo_day_text())
    shop = Shop(store, seconds=0.5)
    with served(build_app(shop)) as site:
        page = open_page()
        page.goto(f"{site}/kitchen")
        page.get_by_role("link", name="Begin with a small day").click()
        page.get_by_role("button", name="Save and plan the day").first.click()
        expect(page.locator("#faults")).to_contain_text("Height above the sea")
        assert len(store.revisions) == 1
        page.get_by_label("Height above the sea").fill("1017 ft")
        page.get_by_role("button", name="Save and plan the day").first.click()
        page.wait_for_url("**/day")
        page.goto(f"{site}/book/process")
        expect(page.locator("#elevation")).to_have_value("1017 ft")
        shop.plan_within(60)
    text = store.current() or ""
    assert 'elevation = "1017 ft"' in text
    assert "invented" not in text


def test_the_first_page_leads_to_her_own_day(demo_shop: Shop) -> None:
    app = build_app(demo_shop)
    client = TestClient(app, base_url="http://127.0.0.1")
    leads = 'to try things on. <a href="/kitchen?begin=small">Begin your own</a>'
    assert demo_shop.plan_within(60) is not None
    assert leads in client.get("/").text
    app.state.invented = True  # the demo's record says it on each page
    assert leads not in client.get("/").text


def test_her_own_day_is_offered_no_other() -> None:
    page = pages_over(new_day_text()).get("/kitchen").text
    assert 'id="begin-your-own"' not in page


class Planned:
    """A shop whose plan is made already."""

    def __init__(self, plan: DayPlan) -> None:
        self.made = plan

    def day_text(self) -> str:
        return "a day"

    def plan(self) -> DayPlan:
        return self.made


def test_the_stove_says_that_the_plan_is_of_an_invented_day(
    demo_plan: DayPlan, tmp_path: Path
) -> None:
    def stove(plan: DayPlan, name: str) -> str:
        with open_records(tmp_path / name) as records:
            app = build_app(Planned(plan), records=records)  # type: ignore[arg-type]
            with TestClient(app, base_url="http://127.0.0.1") as client:
                return client.get("/stove").text

    said = 'id="invented-day"'
    assert said in stove(demo_plan, "a.db")
    own = replace(demo_plan, day=replace(demo_plan.day, invented=False))
    page = stove(own, "b.db")
    assert 'id="begin"' in page
    assert said not in page


def test_the_small_day_is_there_as_a_file_too() -> None:
    client = pages_over(demo_day_text())
    form = client.get("/kitchen?begin=small").text
    assert 'href="/kitchen/file?begin=small"' in form
    as_file = client.get("/kitchen/file?begin=small").text
    assert "Plum jelly" in as_file
    assert "invented = true" not in as_file
    assert "elevation = &#34;2150" not in as_file
    assert 'href="/kitchen/file"' in client.get("/kitchen").text
