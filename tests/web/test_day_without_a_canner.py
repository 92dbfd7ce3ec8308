"""A day of which nothing is canned: begun at the stove, its goods booked; invented."""

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.dayfile import new_day_text
from stillroom.planning.dayplan import DayPlan
from stillroom.records.days import open_records
from stillroom.running.handle import state_of
from stillroom.web.app import build_app
from stillroom.web.planner import plan_text
from stillroom.web.shop import Shop
from tests.web.forms import begin_the_day, forms, send, words
from tests.web.test_again import SetClock
from tests.web.test_day_file_changed_at_the_stove import BEANS
from tests.web.test_pages import pages_of

APPLES = (
    BEANS.replace("green beans", "apples", 1)
    .replace('product = "green beans"', 'product = "dried apples"')
    .replace('jars = 14\njar = "pint"', 'jars = 2\njar = "quart"')
)
RUN = "run/2026-08-22"


@pytest.fixture
def farm(tmp_path: Path) -> Iterator[SimpleNamespace]:
    """A day of dried apples, not begun yet."""
    plan = plan_text(APPLES, seconds=1.0)
    assert isinstance(plan, DayPlan)
    zone = dt.timezone(dt.timedelta(hours=2))
    begins = dt.datetime.combine(plan.day.date, plan.day.starts, zone)
    with open_records(tmp_path / "farm.db") as records:
        records.days.save(APPLES, "typed")
        shop = Shop(records.days, planner=lambda text, **_: plan)
        shop.plan_within(60)
        app = build_app(shop, records=records)
        app.state.clock = SetClock(begins)
        with TestClient(app, base_url="http://127.0.0.1") as client:
            yield SimpleNamespace(client=client, records=records, clock=app.state.clock)


def test_why_nothing_can_be_made_stands_before_the_plan_of_another_day() -> None:
    """The first sentence says that the reasons follow, and another day is long."""
    text = new_day_text()
    head, _, rest = text.partition("[[kitchen.canners]]")
    plan = plan_text(head + rest[rest.index("[[people]]") :], seconds=0.5)
    assert isinstance(plan, DayPlan)
    page = words(pages_of(plan).get("/day").text)
    told = [
        page.index(said)
        for said in (
            "the reasons follow",
            "The kitchen has no boiling-water canner",
            "A plan for another day than this",
        )
    ]
    assert told == sorted(told)


def tap_all_done(farm) -> list[str]:
    """Say every step done that is offered, one by one; return the last page's words."""
    said = []
    while taps := forms(farm.client.get("/stove").text, "/stove/done"):
        said.append(dict(taps[0])["step"])
        assert len(said) < 20
        send(farm.client, "/stove/done", taps[0])
        farm.clock.at += dt.timedelta(minutes=10)
    return said


def test_it_is_begun_worked_and_booked(farm):
    before = words(farm.client.get("/stove").text)
    assert "Nothing in it is canned: there is no process clock" in before
    begun = begin_the_day(farm.client)
    assert "Nothing is canned on this day: there is no clock to keep." in words(
        begun.text
    )
    assert 'id="lots"' not in begun.text  # nothing is in the dryer yet
    assert len(tap_all_done(farm)) >= 3
    page = farm.client.get("/stove").text
    assert 'id="lots"' in page
    assert "Something was wrong with a load" not in page
    lots = farm.client.get("/stock/made?run=2026-08-22").text
    assert "Dried apples 1" in words(lots)
    assert "until it is said that it is dry and closed in jars" in words(lots)


def test_the_day_after_asks_nothing_of_a_canner(farm):
    begin_the_day(farm.client)
    tap_all_done(farm)
    farm.clock.at += dt.timedelta(hours=20)
    asked = words(farm.client.get("/stock/after").text)
    assert "Is everything booked?" in asked
    lots = farm.client.get("/stock/made?run=2026-08-22").text
    send(farm.client, "/stock/made/book", forms(lots, "/stock/made/book")[0])
    after = words(farm.client.get("/stock/after").text)
    assert "What saw no canner wants looking at." in after
    assert "Seals 12 to 24 h" not in after
    assert "Is everything booked?" not in after


def test_its_board_of_the_next_day_says_what_day_it_is(farm):
    begin_the_day(farm.client)
    tap_all_done(farm)
    farm.clock.at += dt.timedelta(days=1)
    said = words(farm.client.get("/stove?day=2026-08-22").text)
    assert "today is Sunday 23 August 2026" in said
    assert "Plan the rest again" not in said


def test_its_rest_is_planned_again(farm):
    begin_the_day(farm.client)
    farm.clock.at += dt.timedelta(minutes=5)
    shown = farm.client.post("/again", data={"comes|Keeper": "09:00"})
    assert shown.status_code == 200
    assert "The rest, planned again" in words(shown.text)
    assert state_of(RUN, ledger=farm.records.ledger).loads == ()


def done_with(farm) -> None:
    """The day is begun and every step of it said done; nothing of it is canned."""
    begin_the_day(farm.client)
    tap_all_done(farm)


def test_a_day_that_is_done_says_so_and_is_not_planned_again(farm):
    """The key stood there still, and the page planned a rest of nothing."""
    begin_the_day(farm.client)
    assert 'id="plan-again"' in farm.client.get("/stove").text
    assert 'href="/again' in farm.client.get("/day").text
    tap_all_done(farm)
    assert 'id="plan-again"' not in farm.client.get("/stove").text
    assert 'href="/again' not in farm.client.get("/day").text
    page = farm.client.get("/again")
    assert page.status_code == 200
    assert "The day is done" in page.text
    assert 'action="/again' not in page.text
    said = words(page.text)
    assert "every step of it is done: nothing is left to plan again" in said
    sent = words(farm.client.post("/again", data={"comes|Keeper": "23:00"}).text)
    assert "The day is done" in sent


def test_a_step_said_done_by_mistake_brings_the_key_back(farm):
    done_with(farm)
    taps = forms(farm.client.get("/stove").text, "/stove/take-back")
    send(farm.client, "/stove/take-back", taps[0])
    assert 'id="plan-again"' in farm.client.get("/stove").text
    assert "The day is done" not in farm.client.get("/again").text


def test_where_a_batch_may_be_taken_in_the_key_stays(farm, monkeypatch):
    done_with(farm)
    left_out = SimpleNamespace(spares=("pears 1",))
    monkeypatch.setattr("stillroom.web.gone_by.own_file", lambda *_: left_out)
    assert 'id="plan-again"' in farm.client.get("/stove").text
    assert 'href="/again' in farm.client.get("/day").text
