"""The board goes by the time that went by, also where the computer's clock is set."""

import datetime as dt

import pytest

from stillroom.records.ledger import Entry
from stillroom.refusal import NotNow
from stillroom.running.clock import HERE, WatchedClock
from stillroom.running.handle import state_of
from tests.web.test_tapped_once import START, drawn, kinds, kitchen, tap

__all__ = ["kitchen"]  # a fixture


@pytest.fixture
def boiling(kitchen):
    """A load whose clock runs for a minute; then the kitchen's clock is watched."""
    tap(kitchen, "begin", drawn(kitchen))
    tap(kitchen, "full-boil", drawn(kitchen))
    kitchen.clock.at += dt.timedelta(minutes=1)
    kitchen.client.app.state.clock = WatchedClock(kitchen.clock, lambda: 7200.0)
    return kitchen


def run_of(kitchen):
    return state_of(kitchen.run, ledger=kitchen.records.ledger).load(kitchen.load)


def card(kitchen) -> str:
    name = run_of(kitchen).load.name.replace(" ", "-")
    page = kitchen.client.get("/stove").text
    return page.partition(f'<section id="{name}"')[2].partition("</section>")[0]


@pytest.mark.parametrize(
    ("by", "said"), [(1.0, "set on by 1 h"), (-1.0, "set back by 1 h")]
)
def test_a_load_is_not_called_ready_before_its_time(boiling, by, said):
    left = run_of(boiling).deadline - boiling.clock.at
    boiling.clock.at += dt.timedelta(hours=by)
    page = boiling.client.get("/stove").text
    assert said in page
    assert "by the time that really went by" in page
    assert "process clock runs" in card(boiling)
    assert run_of(boiling).deadline - boiling.clock.at == left


def test_a_tap_right_after_it_is_decided_by_it_too(boiling):
    page = drawn(boiling)
    boiling.clock.at += dt.timedelta(hours=1)
    answer = tap(boiling, "lifted", page)  # nobody has looked at the board since
    assert answer.status_code == 422
    assert "has had 1 min 00 s of" in answer.text
    assert kinds(boiling)[-1] == "clock-set"


def test_nothing_is_said_of_a_clock_that_only_goes_on(boiling):
    boiling.client.app.state.clock = WatchedClock(boiling.clock, lambda: 7200.0)
    assert "clock-set" not in boiling.client.get("/stove").text


def test_seconds_are_said_as_seconds(boiling):
    boiling.clock.at += dt.timedelta(seconds=20)
    assert "set on by 20 s" in boiling.client.get("/stove").text


def test_a_program_that_was_idle_since_before_the_day_tells_it_nothing(kitchen):
    """Set back before the day, which another saw: its hours are of the new clock."""
    state, set_by = kitchen.client.app.state, dt.timedelta()

    def steady_s() -> float:
        return (kitchen.clock.at - set_by).timestamp()

    idle, state.clock = (
        WatchedClock(kitchen.clock, steady_s, "one start") for _ in range(2)
    )
    set_by = dt.timedelta(hours=-2)
    kitchen.clock.at += set_by
    tap(kitchen, "begin", drawn(kitchen))
    tap(kitchen, "full-boil", drawn(kitchen))
    state.clock = idle
    assert "process clock runs" in card(kitchen)
    assert kinds(kitchen) == ["day-begun", "full-boil-reached"]


def test_pages_are_watched_unless_they_are_given_a_clock(kitchen, shop):
    from stillroom.web.app import build_app

    assert isinstance(build_app(shop).state.clock, WatchedClock)


@pytest.fixture
def set_on_meanwhile(kitchen, monkeypatch):
    """The clock was an hour behind when the day was begun, by the same start."""
    state = kitchen.client.app.state
    state.clock = WatchedClock()
    kitchen.clock.at = state.clock.now()
    tap(kitchen, "begin", drawn(kitchen))
    monkeypatch.setattr(
        "stillroom.running.clock.WallClock.now",
        lambda clock: dt.datetime.now(HERE) + dt.timedelta(hours=1),
    )
    return kitchen


def test_pages_that_are_served_again_tell_what_was_set_meanwhile(set_on_meanwhile):
    from stillroom.web.app import build_app

    build_app(set_on_meanwhile.client.app.state.shop, records=set_on_meanwhile.records)
    assert kinds(set_on_meanwhile) == ["day-begun", "clock-set"]


def test_pages_tell_it_later_where_the_record_is_busy_as_they_start(
    set_on_meanwhile, monkeypatch
):
    from stillroom.web import now

    kitchen = set_on_meanwhile
    with monkeypatch.context() as busy:
        busy.setattr(now, "note_clock_set", _is_busy)
        kitchen.client.app.state.clock = now.watched(kitchen.records)
    assert kinds(kitchen) == ["day-begun"]
    kitchen.client.get("/stove")
    assert kinds(kitchen) == ["day-begun", "clock-set"]


def _is_busy(*_: object, **__: object) -> None:
    raise NotNow("the record is busy")


def test_pages_are_served_where_what_went_before_cannot_be_read(kitchen):
    from stillroom.web.app import build_app

    unknown = Entry(kind="of-tomorrow", version=1, body="{}", occurred_at=START)
    kitchen.records.ledger.append("run/2026-08-21", [unknown], after=0)
    app = build_app(kitchen.client.app.state.shop, records=kitchen.records)
    assert isinstance(app.state.clock, WatchedClock)
