"""A tap whose answer was lost is sent again: it counts once, whatever came between."""

import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.planning.dayplan import DayPlan
from stillroom.records.days import open_records
from stillroom.running.handle import state_of
from stillroom.running.kept_plan import mark_of_plan
from stillroom.running.loads import loads_of
from stillroom.web.app import build_app

START = dt.datetime(2026, 9, 12, 9, 30, tzinfo=dt.UTC)


@pytest.fixture
def kitchen(tmp_path: Path, demo_plan: object) -> Iterator[SimpleNamespace]:
    """The pages on the demo day, which is invented, and a clock to set."""
    assert isinstance(demo_plan, DayPlan)
    clock = SimpleNamespace(at=START)
    clock.now = lambda: clock.at
    shop = SimpleNamespace(day_text=lambda: "a day", plan=lambda: demo_plan)
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(shop, records=records)
        app.state.clock = clock
        with TestClient(app, base_url="http://127.0.0.1") as client:
            yield SimpleNamespace(
                client=client,
                records=records,
                clock=clock,
                load=loads_of(demo_plan)[0].id,
                run=f"run/{demo_plan.day.date}",
                plan=mark_of_plan(demo_plan, shop.day_text()),
            )


def drawn(kitchen: SimpleNamespace) -> tuple[str, str]:
    """Draw the page; return the name of its taps and what it had seen."""
    page = kitchen.client.get("/stove").text
    names = set(re.findall(r'name="once" value="([0-9a-f]+)"', page))
    seen = set(re.findall(r'name="seen" value="(\d+)"', page))
    assert len(names) == len(seen) == 1
    return names.pop(), seen.pop()


def tap(kitchen: SimpleNamespace, key: str, page: tuple[str, str], load: str = ""):
    kitchen.clock.at += dt.timedelta(seconds=20)
    return kitchen.client.post(
        f"/stove/{key}",
        data={
            "run": kitchen.run,
            "load": load or kitchen.load,
            "once": page[0],
            "seen": page[1],
            "sure": "yes",
            "plan": kitchen.plan,
        },
    )


def kinds(kitchen: SimpleNamespace) -> list[str]:
    return [entry.kind for entry in kitchen.records.ledger.read(kitchen.run)]


def test_each_drawing_of_the_page_names_its_taps_anew(kitchen):
    assert drawn(kitchen)[0] != drawn(kitchen)[0]


def test_beginning_twice_from_one_page_begins_once(kitchen):
    page = drawn(kitchen)
    for _ in range(2):
        assert tap(kitchen, "begin", page).status_code == 200
    assert len(kinds(kitchen)) == 1


def test_a_day_that_was_begun_is_never_said_not_to_be(kitchen):
    """A page of the morning, with the plan of before, on somebody's other phone."""
    page = drawn(kitchen)
    tap(kitchen, "begin", page)
    kitchen.plan = "the plan of another page"
    again = tap(kitchen, "begin", (page[0][::-1], page[1]))
    assert again.status_code == 200
    assert "has not been begun" not in again.text
    assert len(kinds(kitchen)) == 1


def test_a_late_retry_does_not_start_a_clock_that_was_stopped_since(kitchen):
    tap(kitchen, "begin", drawn(kitchen))
    page = drawn(kitchen)
    tap(kitchen, "full-boil", page)
    tap(kitchen, "boil-lost", drawn(kitchen))
    before = kinds(kitchen)
    assert tap(kitchen, "full-boil", page).status_code == 200  # the phone, at last
    assert kinds(kitchen) == before
    run = state_of(kitchen.run, ledger=kitchen.records.ledger).load(kitchen.load)
    assert run is not None
    assert run.boiling_since is None
    tap(kitchen, "full-boil", drawn(kitchen))  # a new tap, on a page drawn since
    assert len(kinds(kitchen)) == len(before) + 1


def test_two_keys_of_one_page_are_two_taps(kitchen):
    tap(kitchen, "begin", drawn(kitchen))
    page = drawn(kitchen)
    before = len(kinds(kitchen))
    tap(kitchen, "full-boil", page)
    other = next(
        load.load.id
        for load in state_of(kitchen.run, ledger=kitchen.records.ledger).loads
        if load.load.canner != kitchen.load.partition("/")[0]
    )
    tap(kitchen, "full-boil", page, load=other)
    assert len(kinds(kitchen)) == before + 2


@pytest.mark.parametrize("once", ["", "x" * 9000, "ü" * 24, "; DROP TABLE event", "0"])
def test_a_form_without_a_name_of_its_own_still_works(kitchen, once):
    tap(kitchen, "begin", drawn(kitchen))
    assert tap(kitchen, "full-boil", (once, "1")).status_code == 200
    assert len(kinds(kitchen)) == 2


def test_past_midnight_the_rest_may_be_planned_while_a_load_is_to_come(kitchen):
    tap(kitchen, "begin", drawn(kitchen))
    kitchen.clock.at = START.replace(hour=23, minute=30)
    tap(kitchen, "full-boil", drawn(kitchen))
    kitchen.clock.at += dt.timedelta(minutes=40)
    tap(kitchen, "lifted", drawn(kitchen))
    assert kitchen.clock.at.date() > START.date()
    page = kitchen.client.get("/stove").text
    assert 'id="lots"' in page  # of what is out
    assert 'id="plan-again"' in page
