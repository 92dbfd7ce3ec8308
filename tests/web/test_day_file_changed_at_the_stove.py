"""The day file changed while its day is worked: what is begun goes on as begun."""

import datetime as dt
import re
import threading
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import open_records
from stillroom.running.handle import state_of
from stillroom.web.app import build_app
from stillroom.web.planner import plan_text
from stillroom.web.shop import Shop
from tests.web.forms import begin_the_day, forms, send, words
from tests.web.test_again import SetClock

ZONE = dt.timezone(dt.timedelta(hours=2))
BEANS = """
[day]
name = "Beans"
date = 2026-08-22
starts = "08:00"
ends = "20:00"

[kitchen]
name = "My kitchen"
elevation = "2500 ft"
stove = "gas"
counter = 48

[[kitchen.burners]]
name = "front left"
power = "3 kW"

[[kitchen.burners]]
name = "front right"
power = "3 kW"

[[kitchen.pots]]
name = "big pot"
volume = "12 qt"

[[kitchen.canners]]
name = "canner"
kind = "dial-gauge"
stands_on = ["front right"]
holds = { half-pint = 9, pint = 9, quart = 7 }

[[people]]
name = "Keeper"
comes = "08:00"
goes = "20:00"
can = ["cold", "knife", "pan", "lift"]

[[shelf]]
is = "green beans"
quantity = "20 lb"

[[wants]]
product = "green beans"
jars = 14
jar = "pint"
"""
"""Beans, green, under 12 psi on a dial gauge at 2,001 to 4,000 ft: the book."""
LOWER = changed_day_text(BEANS, "kitchen.elevation=500 ft")
QUARTS = changed_day_text(BEANS, "wants.green beans.jar=quart")
TOMORROW = BEANS.replace("green beans", "carrots").replace("08-22", "08-23")
FEWER = changed_day_text(BEANS, "wants.green beans.jars=7")
TOO_HIGH = changed_day_text(BEANS, "kitchen.elevation=9000 ft")
CANNOT_BE_READ = BEANS.replace("2500 ft", "on the hill")
OTHERS = {
    "lower": LOWER,
    "quarts": QUARTS,
    "tomorrow": TOMORROW,
    "fewer": FEWER,
    "too high": TOO_HIGH,
    "not to be read": CANNOT_BE_READ,
    "none at all": " ",
}
PLANS: dict[str, object] = {}


def planner(text: str, **_: object) -> object:
    if text not in PLANS:
        PLANS[text] = plan_text(text, seconds=1.0)
    return PLANS[text]


class Slow:
    """A planner that is at work on any other day than the beans until it is let go."""

    def __init__(self) -> None:
        self.let_go = threading.Event()

    def __call__(self, text: str, **_: object) -> object:
        if text != BEANS:
            assert self.let_go.wait(60)
        return planner(text)


@pytest.fixture
def slow() -> Iterator[Slow]:
    slow = Slow()
    yield slow
    slow.let_go.set()


def opened(file: Path, plans: object) -> Iterator[SimpleNamespace]:
    plan = planner(BEANS)
    assert isinstance(plan, DayPlan)
    assert isinstance(plan.answer, Answer)
    begins = dt.datetime.combine(plan.day.date, plan.day.starts, ZONE)
    with open_records(file) as records:
        records.days.save(BEANS, "typed")
        shop = Shop(records.days, planner=plans)
        shop.plan_within(60)
        app = build_app(shop, records=records)
        app.state.clock = SetClock(begins)
        with TestClient(app, base_url="http://127.0.0.1") as client:
            begin_the_day(client)
            yield SimpleNamespace(
                client=client,
                app=app,
                records=records,
                shop=shop,
                clock=app.state.clock,
                begins=begins,
                plan=plan,
                run=f"run/{plan.day.date}",
            )


@pytest.fixture
def farm(tmp_path: Path) -> Iterator[SimpleNamespace]:
    """The day of beans, begun at its first minute."""
    yield from opened(tmp_path / "farm.db", planner)


@pytest.fixture
def busy(tmp_path: Path, slow: Slow) -> Iterator[SimpleNamespace]:
    """The same, where any other day file is still being planned."""
    yield from opened(tmp_path / "busy.db", slow)


def at_minute(farm, minute: int) -> None:
    farm.clock.at = farm.begins + dt.timedelta(minutes=minute)


def state(farm):
    return state_of(farm.run, ledger=farm.records.ledger)


def save(farm, text: str, *, wait: bool = True) -> None:
    """Save another day file, as the Kitchen does."""
    farm.shop.save_day(text, "typed", over=farm.shop.day_text())
    if wait:
        farm.shop.plan_within(60)


def plan_again(farm, **fields: str):
    return farm.client.post("/again", data=fields)


def take(farm, shown):
    name = re.search(r'action="/again/(\w+)/take"', shown.text)[1]
    return farm.client.post(f"/again/{name}/take")


def tap(farm, key: str, load: str):
    page = farm.client.get("/stove").text
    (form,) = (
        fields
        for fields in forms(page, f"/stove/{key}")
        if dict(fields)["load"] == load
    )
    answer = send(farm.client, f"/stove/{key}", form)
    sure = forms(answer.text, f"/stove/{key}") if 'id="sure"' in answer.text else []
    return send(farm.client, f"/stove/{key}", sure[0]) if sure else answer


def process_of(load):
    return {
        "minutes": load.process_min,
        "psi": load.pressure_psi,
        "method": load.method,
        "band": load.band,
        "jar": load.jar,
        "source": load.source,
        "how known": load.how_known,
    }


def by_batch(loads):
    return {batch: process_of(load) for load in loads for batch, _ in load.jars}


def test_the_other_days_would_have_other_processes():
    """Or nothing below would show whose process it is."""

    def loads(text: str):
        plan = plan_the_day(read_day(text), seconds=1.0)
        return {
            (b.jar, b.process.pressure_psi, b.process.band_ft) for b in plan.batches
        }

    assert loads(BEANS) == {("pint", 12.0, "2,001 to 4,000 ft")}
    assert loads(LOWER) == {("pint", 11.0, "0 to 2,000 ft")}
    assert {jar for jar, *_ in loads(QUARTS)} == {"quart"}


@pytest.mark.parametrize("other", OTHERS)
def test_a_new_plan_keeps_every_process_that_the_day_was_begun_with(farm, other):
    begun = by_batch(run.load for run in state(farm).loads)
    assert {process["psi"] for process in begun.values()} == {12.0}
    at_minute(farm, 40)
    save(farm, OTHERS[other])
    shown = plan_again(farm, **{"leaves|Keeper": "19:30"})
    assert shown.url.path != "/again", words(shown.text)
    taken = take(farm, shown)
    assert (taken.status_code, taken.url.path) == (200, "/stove")
    after = state(farm)
    assert len(after.taken) == 1
    assert by_batch(run.load for run in after.loads) == begun
    assert "12 psi" in words(taken.text)
    assert "11 psi" not in words(taken.text)


@pytest.mark.parametrize("other", ["lower", "tomorrow", "not to be read"])
def test_with_jars_on_the_fire_the_plan_that_was_shown_is_taken_and_lots_are_booked(
    farm, other
):
    first = min(farm.plan.answer.timetable.loads, key=lambda load: load.boil_min)
    at_minute(farm, first.boil_min + 20)
    tap(farm, "full-boil", first.id)
    assert state(farm).load(first.id).has_begun
    save(farm, OTHERS[other])
    shown = plan_again(farm)
    taken = take(farm, shown)
    assert (taken.status_code, taken.url.path) == (200, "/stove")
    assert state(farm).load(first.id).load.pressure_psi == 12.0
    for load in sorted(
        state(farm).plan.timetable.loads, key=lambda load: load.boil_min
    ):
        run = state(farm).load(load.id)
        if not run.has_begun:
            farm.clock.at += dt.timedelta(minutes=40)
            tap(farm, "full-boil", load.id)
        farm.clock.at = state(farm).load(load.id).may_lift_at
        tap(farm, "lifted", load.id)
    assert all(run.lifted_at for run in state(farm).loads)
    made = farm.client.get(f"/stock/made?run={farm.plan.day.date}").text
    booked = send(farm.client, "/stock/made/book", forms(made, "/stock/made/book")[0])
    assert booked.url.path == "/stock/after", words(booked.text)
    with farm.app.state.kept_stock.reading() as stock:
        made = [one for code in stock.lots if (one := stock.made(code)) is not None]
    assert {one.batch.run_batch for one in made} == {b.id for b in farm.plan.batches}
    assert {one.batch.due_psi for one in made} == {12.0}
    assert {one.batch.elevation_ft for one in made} == {2500}
    assert {one.lot.measure.part for one in made} == {"pint"}
    assert {one.batch.run for one in made} == {farm.run}


def test_what_was_shown_is_taken_though_the_day_file_is_changed_behind_it(farm):
    begun = by_batch(run.load for run in state(farm).loads)
    at_minute(farm, 40)
    shown = plan_again(farm, **{"leaves|Keeper": "19:30"})
    save(farm, TOMORROW)
    assert take(farm, shown).url.path == "/stove"
    assert by_batch(run.load for run in state(farm).loads) == begun


def test_while_the_new_day_file_is_being_planned_the_rest_is_planned_and_taken(busy):
    at_minute(busy, 40)
    save(busy, LOWER, wait=False)
    assert busy.shop.plan() is None
    shown = plan_again(busy, **{"leaves|Keeper": "19:30"})
    assert "Go by this plan" in shown.text
    assert take(busy, shown).url.path == "/stove"
    assert len(state(busy).taken) == 1
    assert {run.load.pressure_psi for run in state(busy).loads} == {12.0}


def test_a_plan_goes_into_the_run_that_it_was_made_for(farm):
    at_minute(farm, 40)
    shown = plan_again(farm, **{"leaves|Keeper": "19:30"})
    save(farm, TOMORROW)
    at_minute(farm, 24 * 60)
    begin_the_day(farm.client)
    next_run = "run/2026-08-23"
    begun = state_of(next_run, ledger=farm.records.ledger)
    assert {b.product for b in begun.batches} == {"carrots"}
    take(farm, shown)
    assert state_of(next_run, ledger=farm.records.ledger) == begun
    assert len(state(farm).taken) == 1


def test_what_is_left_out_is_said_to_be_kept_though_the_day_file_is_another(farm):
    last = farm.plan.batches[-1].id
    at_minute(farm, 1)
    shown = plan_again(farm, drop=last)
    assert f"Left out: {last} . Kept, as it is: " in words(shown.text)
    save(farm, TOMORROW)
    shown = plan_again(farm, drop=last)
    said = words(shown.text)
    assert f"Left out: {last} . What was set out for it is kept, as it is." in said
    take(farm, shown)
    (left,) = state(farm).taken[-1].left_out
    assert (left.batch, left.keeps) == (last, ())
    aboard = {batch for run in state(farm).loads for batch, _ in run.load.jars}
    assert last not in aboard


ANOTHER = "What stands here is another plan; that day goes on by its own"
TOMORROW_IS_READY = "Kitchen has the plan of Sunday 23 August 2026"


def test_stove_and_day_say_that_the_day_goes_on_by_another_file(farm):
    assert 'id="other-file"' not in farm.client.get("/stove").text
    assert ANOTHER not in words(farm.client.get("/day").text)
    save(farm, LOWER)
    said = words(farm.client.get("/stove").text)
    assert "The day file is another one by now than when this day was begun." in said
    assert "with its own published processes, until its jars are out" in said
    assert "Begin the day" not in said
    assert ANOTHER in words(farm.client.get("/day").text)
    save(farm, TOO_HIGH)
    assert ANOTHER in words(farm.client.get("/day").text)
    save(farm, BEANS)
    assert 'id="other-file"' not in farm.client.get("/stove").text
    assert ANOTHER not in words(farm.client.get("/day").text)


def test_between_two_loads_the_day_stays_and_tomorrows_may_be_begun_beside(farm):
    at_minute(farm, 40)
    begun = state(farm)
    save(farm, TOMORROW)
    page = farm.client.get("/stove")
    said = words(page.text)
    assert TOMORROW_IS_READY in said
    assert "goes on by its own, with its own published processes" in said
    assert "green beans" in said
    assert 'id="plan-again"' in page.text
    asked = begin_the_day(farm.client)
    assert "Begin Sunday 23 August 2026 while another day is under way?" in words(
        asked.text
    )
    send(farm.client, "/stove/begin", forms(asked.text, "/stove/begin")[0])
    other = state_of("run/2026-08-23", ledger=farm.records.ledger)
    assert {b.product for b in other.batches} == {"carrots"}
    shown = farm.client.get("/stove").text
    assert "green beans" not in words(shown)
    assert "Another day is under way: Saturday 22 August 2026" in words(shown)
    board = farm.client.get("/stove?day=2026-08-22").text
    assert "green beans" in words(board)
    assert state(farm) == begun  # nothing of it is lost


def test_each_of_two_days_under_way_is_planned_again_from_its_own_board(farm):
    at_minute(farm, 40)
    save(farm, TOMORROW)
    asked = begin_the_day(farm.client)
    send(farm.client, "/stove/begin", forms(asked.text, "/stove/begin")[0])
    other = state_of("run/2026-08-23", ledger=farm.records.ledger)
    board = farm.client.get("/stove?day=2026-08-22").text
    address = re.search(r'id="plan-again" href="([^"]*)"', board)[1]
    asks = farm.client.get(address).text
    assert "the day of Saturday 22 August 2026" in words(asks)
    assert 'href="/stove?day=2026-08-22"' in asks
    action = re.search(r'method="post" action="(/again[^"]*)"', asks)[1]
    shown = farm.client.post(action, data={"leaves|Keeper": "19:30"})
    assert shown.status_code == 200
    assert "the day of Saturday 22 August 2026" in words(shown.text)
    otherwise = re.search(r'href="([^"]*)">Say it otherwise', shown.text)[1]
    assert otherwise.startswith(f"{address}&amp;said=")
    again = farm.client.get(unescape(otherwise)).text
    assert "the day of Saturday 22 August 2026" in words(again)
    assert 'value="19:30"' in again
    taken = take(farm, shown)
    assert "green beans" in words(taken.text)
    assert str(taken.url).endswith("/stove?day=2026-08-22")
    assert len(state(farm).taken) == 1
    assert state_of("run/2026-08-23", ledger=farm.records.ledger) == other
    # that of the stove itself is named by no address
    assert 'id="plan-again" href="/again"' in farm.client.get("/stove").text
    assert "the day of" not in words(farm.client.get("/again").text)


def test_a_day_that_was_left_days_ago_is_not_offered_to_be_planned_again(farm):
    at_minute(farm, 40)
    save(farm, TOMORROW)
    at_minute(farm, 40 + 2 * 24 * 60)
    begin_the_day(farm.client)
    board = farm.client.get("/stove?day=2026-08-22").text
    assert "green beans" in words(board)
    assert 'id="plan-again"' not in board
    assert 'id="plan-again"' in farm.client.get("/stove").text


@pytest.mark.parametrize(
    ("day", "said"),
    [("soon", "'soon' is no day"), ("2026-07-01", "the day has not been begun")],
)
def test_an_address_that_names_no_day_that_was_begun_plans_no_other(farm, day, said):
    at_minute(farm, 40)
    page = words(farm.client.get(f"/again?day={day}").text).lower()
    assert said in page
    assert "say what is otherwise" not in page


def test_tomorrows_plan_that_was_exchanged_is_asked_about_before_it_is_begun(farm):
    at_minute(farm, 40)
    save(farm, TOMORROW)
    (form,) = forms(farm.client.get("/stove").text, "/stove/begin")
    save(farm, TOMORROW.replace("jars = 14", "jars = 7"))
    asked = send(farm.client, "/stove/begin", form)
    assert "The plan is another one than the page showed." in words(asked.text)
    assert state_of("run/2026-08-23", ledger=farm.records.ledger).begun_at is None
    asked = send(farm.client, "/stove/begin", forms(asked.text, "/stove/begin")[0])
    assert "while another day is under way?" in words(asked.text)
    send(farm.client, "/stove/begin", forms(asked.text, "/stove/begin")[0])
    begun = state_of("run/2026-08-23", ledger=farm.records.ledger)
    assert len(begun.batches) == 1


def test_with_jars_on_the_fire_their_clocks_stay_whatever_is_begun(farm):
    first = min(farm.plan.answer.timetable.loads, key=lambda load: load.boil_min)
    at_minute(farm, first.boil_min)
    save(farm, TOMORROW)
    (form,) = forms(farm.client.get("/stove").text, "/stove/begin")
    tap(farm, "full-boil", first.id)
    asked = send(farm.client, "/stove/begin", form)  # from a page of before
    assert "load 1 is in the canner" in words(asked.text)
    assert "process clock runs" in asked.text
    assert state_of("run/2026-08-23", ledger=farm.records.ledger).begun_at is None
    send(farm.client, "/stove/begin", forms(asked.text, "/stove/begin")[0])
    assert state_of("run/2026-08-23", ledger=farm.records.ledger).begun_at is not None
    page = farm.client.get("/stove").text
    assert "process clock runs" in page
    beside = "Another day is under way: Saturday 22 August 2026"
    named = f"{beside}, by the plan of Sunday 23 August 2026, begun"
    assert named in words(page)
