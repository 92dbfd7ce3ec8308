"""Taps that waited on a phone: booked once, at their own time, marked late, or told."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from starlette.datastructures import FormData
from starlette.testclient import TestClient

from stillroom.records.ledger import MovedOn
from stillroom.records.stored import Recorded
from stillroom.refusal import NotNow, Unreadable
from stillroom.running.codec import from_entry
from stillroom.running.handle import state_of
from stillroom.web.routes import stove_late
from stillroom.web.routes.stove_late import tapped_at
from tests.web.test_tapped_once import drawn, kinds, kitchen, tap

__all__ = ["kitchen"]  # a fixture


def waited(kitchen, key: str, page: tuple[str, str], age_s: float, **more: str):
    """A tap on a page, sent so many seconds after."""
    tapped = kitchen.clock.at - dt.timedelta(seconds=age_s)
    form = {
        "tap": key,
        "run": kitchen.run,
        "load": kitchen.load,
        "once": page[0],
        "seen": page[1],
        "tapped": f"{tapped.timestamp() * 1000:.0f}",
        "age": f"{age_s * 1000:.0f}",
        "sure": "yes",
    }
    return kitchen.client.post("/stove/late", data=form | more)


def last(kitchen) -> Recorded:
    return kitchen.records.ledger.read(kitchen.run)[-1]


def run_of(kitchen):
    found = state_of(kitchen.run, ledger=kitchen.records.ledger).load(kitchen.load)
    assert found is not None
    return found


@pytest.fixture
def begun(kitchen):
    tap(kitchen, "begin", drawn(kitchen))
    kitchen.clock.at += dt.timedelta(minutes=30)
    return kitchen


def test_it_is_booked_at_its_own_time_and_marked_late(begun):
    page = drawn(begun)
    answer = waited(begun, "full-boil", page, 600)
    assert answer.status_code == 200
    assert "marked late" in answer.json()["said"][0]
    assert last(begun).occurred_at == begun.clock.at - dt.timedelta(minutes=10)
    event = from_entry(last(begun))
    assert event.late
    assert run_of(begun).late
    assert "tapped where there was no network" in begun.client.get("/stove").text


def test_sent_again_it_counts_once(begun):
    page = drawn(begun)
    waited(begun, "full-boil", page, 60)
    before = kinds(begun)
    again = waited(begun, "full-boil", page, 90).json()
    assert again["again"]
    assert kinds(begun) == before


def test_what_reached_the_kitchen_when_it_was_tapped_counts_once(begun):
    page = drawn(begun)
    tap(begun, "full-boil", page)  # and its answer was lost
    before = kinds(begun)
    assert waited(begun, "full-boil", page, 15).json()["again"]
    assert kinds(begun) == before


def test_one_tap_after_another_of_one_load(begun):
    page = drawn(begun)
    minutes = run_of(begun).load.process_min + 6
    begun.clock.at += dt.timedelta(minutes=minutes)
    seen = waited(begun, "full-boil", page, 60 * minutes + 30).json()["seen"]
    answer = waited(begun, "lifted", page, 10)
    assert answer.status_code == 422  # the page had not seen that it boils
    assert "has changed" in answer.json()["no"]
    assert "day after" in answer.json()["instead"]
    assert waited(begun, "lifted", (page[0], str(seen)), 10).status_code == 200
    assert kinds(begun)[-2:] == ["full-boil-reached", "load-lifted"]


def test_jars_lifted_too_soon_by_their_own_time_are_refused_however_late(begun):
    page = drawn(begun)
    begun.clock.at += dt.timedelta(hours=2)
    seen = waited(begun, "full-boil", page, 7200).json()["seen"]
    answer = waited(begun, "lifted", (page[0], str(seen)), 7200 - 120)
    assert answer.status_code == 422
    assert "has had 2 min 00 s" in answer.json()["no"]


def test_it_may_lie_before_what_others_said_since(begun):
    page = drawn(begun)
    other = next(
        run.load.id
        for run in state_of(begun.run, ledger=begun.records.ledger).loads
        if run.load.canner != run_of(begun).load.canner
    )
    tap(begun, "full-boil", page, load=other)
    begun.clock.at += dt.timedelta(seconds=5)
    assert waited(begun, "full-boil", page, 300).status_code == 200
    state = state_of(begun.run, ledger=begun.records.ledger)
    assert state.last_at == begun.clock.at - dt.timedelta(seconds=5)
    tap(begun, "boil-lost", drawn(begun))  # and what comes next is not refused
    assert kinds(begun)[-1] == "boil-lost"


def test_a_clock_that_somebody_else_started_is_told_and_stays(begun):
    page = drawn(begun)
    begun.clock.at += dt.timedelta(minutes=5)
    tap(begun, "full-boil", drawn(begun))
    since = run_of(begun).boiling_since
    answer = waited(begun, "full-boil", page, 200)
    assert answer.status_code == 422
    assert "on another device already, at" in answer.json()["no"]
    assert run_of(begun).boiling_since == since


def test_jars_that_somebody_else_lifted_are_told_with_that_hour(begun):
    """By the clock of the kitchen: the ledger has it in UTC."""
    here = dt.timezone(dt.timedelta(hours=-7))
    begun.clock.at = begun.clock.at.astimezone(here)
    tap(begun, "full-boil", drawn(begun))
    begun.clock.at += dt.timedelta(minutes=run_of(begun).load.process_min + 6)
    page = drawn(begun)
    begun.clock.at += dt.timedelta(minutes=1)
    tap(begun, "lifted", drawn(begun))
    lifted = begun.clock.at
    begun.clock.at += dt.timedelta(minutes=4)
    answer = waited(begun, "lifted", page, 270)
    assert answer.status_code == 422
    said = f"on another device already, at {lifted:%-H:%M:%S}, so this tap of "
    assert said in answer.json()["no"]


def test_a_canner_that_held_other_jars_then_is_told(begun):
    page = drawn(begun)
    loads = state_of(begun.run, ledger=begun.records.ledger).loads
    mine = run_of(begun).load
    other = next(
        r.load for r in loads if r.load.canner == mine.canner and r.load.id != mine.id
    )
    tap(begun, "full-boil", page, load=other.id)
    begun.clock.at += dt.timedelta(minutes=other.process_min + 6)
    tap(begun, "lifted", drawn(begun), load=other.id)
    answer = waited(begun, "full-boil", page, 120)
    assert answer.status_code == 422
    assert f"held {other.name} until" in answer.json()["no"]
    begun.clock.at += dt.timedelta(seconds=10)
    assert waited(begun, "full-boil", page, 5).status_code == 200


def test_a_load_of_which_nobody_said_that_it_is_filled_is_asked_about(begun):
    page = drawn(begun)
    answer = waited(begun, "full-boil", page, 60, sure="")
    assert answer.status_code == 422
    assert answer.json()["sure"].startswith("Yes, start the clock of load 1, from ")
    assert run_of(begun).boiling_since is None
    assert waited(begun, "full-boil", page, 70).status_code == 200


def step_of(kitchen) -> dict[str, str]:
    first = state_of(kitchen.run, ledger=kitchen.records.ledger).plan
    assert first is not None
    placed = first.timetable.steps[0]
    return {"batch": placed.batch, "step": placed.step}


def test_a_step_is_done_at_its_own_time_and_the_second_is_told(begun):
    page, step = drawn(begun), step_of(begun)
    assert waited(begun, "begun", page, 400, **step).status_code == 200
    assert waited(begun, "done", page, 100, **step).status_code == 200
    assert kinds(begun)[-2:] == ["step-begun", "step-done"]
    assert last(begun).occurred_at == begun.clock.at - dt.timedelta(seconds=100)
    answer = waited(begun, "done", drawn(begun), 90, **step)
    assert answer.status_code == 422
    assert "on another device already" in answer.json()["no"]
    no_step = waited(begun, "done", page, 60, batch="none", step="none")
    assert "no such step" in no_step.json()["no"]


@pytest.mark.parametrize(
    ("clock_s", "age_s", "booked_s"),
    [
        (-300, 300, 300),
        (-900, 300, 300),  # the phone's clock was behind the kitchen's
        (-300, 900, 300),  # it was put forward since
        (+999, 0, 0),  # it is far ahead: now
    ],
)
def test_the_later_of_two_clocks_counts_and_never_the_future(
    begun, clock_s: int, age_s: int, booked_s: int
):
    tapped = begun.clock.at + dt.timedelta(seconds=clock_s)
    more = {
        "tapped": f"{tapped.timestamp() * 1000:.0f}",
        "age": f"{age_s * 1000}",
    }
    waited(begun, "full-boil", drawn(begun), 0, **more)
    assert last(begun).occurred_at == begun.clock.at - dt.timedelta(seconds=booked_s)


@pytest.mark.parametrize(
    ("now", "minutes_ago", "on_the_dial"),
    [
        # 2:00 MST is 3:00 MDT: 3:10, and 20 minutes before that it was 1:50
        (dt.datetime(2026, 3, 8, 9, 10, tzinfo=dt.UTC), 20, "1:50:00"),
        # 2:00 MDT is 1:00 MST: 1:10 the second time, 1:50 the first
        (dt.datetime(2026, 11, 1, 8, 10, tzinfo=dt.UTC), 20, "1:50:00"),
        (dt.datetime(2026, 11, 1, 9, 30, tzinfo=dt.UTC), 120, "1:30:00"),
    ],
    ids=["forward", "back", "both hours"],
)
def test_in_the_night_in_which_clocks_are_set_it_is_as_old_as_it_is(
    now: dt.datetime, minutes_ago: int, on_the_dial: str
):
    tapped = now - dt.timedelta(minutes=minutes_ago)
    form = FormData(
        {
            "tapped": f"{tapped.timestamp() * 1000:.0f}",
            "age": f"{minutes_ago * 60_000}",
        }
    )
    for zone in (ZoneInfo("America/Denver"), dt.UTC):
        found = tapped_at(form, now.astimezone(zone))
        assert found.astimezone(dt.UTC) == tapped
        assert found.tzinfo == zone
    there = tapped_at(form, now.astimezone(ZoneInfo("America/Denver")))
    assert f"{there:%-H:%M:%S}" == on_the_dial


def test_a_day_is_24_hours_old_also_where_clocks_were_set():
    now = dt.datetime(2026, 3, 8, 18, 0, tzinfo=ZoneInfo("America/Denver"))
    utc = now.astimezone(dt.UTC)

    def tapped(hours: float) -> dt.datetime:
        at = utc - dt.timedelta(hours=hours)
        ms = f"{at.timestamp() * 1000:.0f}"
        form = FormData({"tapped": ms, "age": f"{hours * 3_600_000:.0f}"})
        return tapped_at(form, now).astimezone(dt.UTC)

    assert tapped(23.9) == utc - dt.timedelta(hours=23.9)
    with pytest.raises(Unreadable, match="more than 24 hours ago"):
        tapped(24.1)


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("once", "", "does not name itself"),
        ("tap", "begin", "does not name itself"),
        ("tapped", "soon", "no time of a tap"),
        ("age", "-1", "no time of a tap"),
        ("run", "run/never", "no day"),
        ("seen", "x", "no number"),
    ],
)
def test_what_cannot_be_read_is_told(begun, field: str, value: str, said: str):
    before = kinds(begun)
    answer = waited(begun, "full-boil", drawn(begun), 60, **{field: value})
    assert answer.status_code == 400
    assert said in answer.json()["no"]
    assert kinds(begun) == before


def test_what_is_older_than_a_day_is_typed_in_the_day_after(begun):
    begun.clock.at += dt.timedelta(days=2)
    answer = waited(begun, "full-boil", drawn(begun), 25 * 3600)
    assert answer.status_code == 400
    assert "page of the day after" in answer.json()["no"]


def test_what_lies_before_the_days_beginning_is_told(begun):
    answer = waited(begun, "full-boil", drawn(begun), 3600)
    assert answer.status_code == 422
    assert "the day was begun at" in answer.json()["no"]


def test_what_the_record_cannot_take_now_stays_on_the_phone(begun, monkeypatch):
    def full(*_: object, **__: object) -> None:
        raise NotNow("the disk is full")

    page = drawn(begun)
    monkeypatch.setattr(type(begun.records.ledger), "append", full)
    answer = waited(begun, "full-boil", page, 60)
    assert answer.status_code == 503
    assert answer.json() == {"later": "the disk is full"}


def test_a_foreign_page_cannot_send_one(begun):
    client: TestClient = begun.client
    answer = client.post("/stove/late", headers={"Origin": "http://evil.example"})
    assert answer.status_code == 403


def test_where_others_write_without_end_the_phone_keeps_its_tap(begun, monkeypatch):
    """A no would have taken it for answered, and it was never sent again."""

    def crowded(*_: object, **__: object) -> None:
        raise MovedOn(begun.run, seen=3, now=4)

    page = drawn(begun)
    monkeypatch.setattr(stove_late, "handle", crowded)
    answer = waited(begun, "full-boil", page, 60)
    assert answer.status_code == 503
    assert "has moved on" in answer.json()["later"]
