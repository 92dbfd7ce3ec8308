"""At the stove under pressure: steam first, and no clock starts unasked."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.planning.dayplan import DayPlan
from stillroom.records.days import open_records
from stillroom.running.codec import from_entry
from stillroom.running.events import FullBoilReached
from stillroom.running.loads import loads_of
from stillroom.web.app import build_app
from tests.web.forms import begin_the_day, words
from tests.web.test_power_gone import started
from tests.web.test_stove import SetClock, Shop, last, tap


@pytest.fixture
def kitchen(tmp_path: Path, demo_plan: DayPlan) -> Iterator[SimpleNamespace]:
    """The demo day's processes turned into pressure ones, which is invented."""
    plan = replace(
        demo_plan,
        batches=tuple(
            replace(
                b, process=replace(b.process, method="dial-gauge", pressure_psi=12.0)
            )
            for b in demo_plan.batches
            if b.process is not None
        ),
    )
    with open_records(tmp_path / "stillroom.db") as records:
        app = build_app(Shop(plan), records=records)
        app.state.clock = SetClock()
        with TestClient(app, base_url="http://127.0.0.1") as client:
            begin_the_day(client)
            yield SimpleNamespace(
                client=client,
                records=records,
                clock=app.state.clock,
                first=loads_of(plan)[0],
                run=f"run/{plan.day.date}",
            )


def booked(kitchen: SimpleNamespace):
    return [from_entry(entry) for entry in kitchen.records.ledger.read(kitchen.run)]


def board(kitchen: SimpleNamespace) -> str:
    return words(kitchen.client.get("/stove").text)


def test_at_pressure_without_steam_is_asked_and_the_answer_is_kept(kitchen):
    asked = words(tap(kitchen, "full-boil", 1, sure="").text)
    assert "Has steam streamed from" in asked
    assert "Its clock has not been started." in asked
    assert len(booked(kitchen)) == 1
    tap(kitchen, "full-boil", 1)
    event = booked(kitchen)[-1]
    assert isinstance(event, FullBoilReached)
    assert event.vented == "said"
    assert "vented, as was said when it was asked" in board(kitchen)


def test_steam_first_then_pressure_by_two_keys(kitchen):
    tap(kitchen, "venting", last(kitchen.records, kitchen.run))
    shown = board(kitchen)
    assert "of 10 min of steady steam, from 9:30 until 9:40" in shown
    assert "Load 1 vents until 9:40." in shown
    kitchen.clock.go(minutes=10)
    assert "has vented for 10 min: close the vent, bring it to 12 psi" in board(kitchen)
    asked = tap(kitchen, "full-boil", last(kitchen.records, kitchen.run), sure="")
    assert "Has steam streamed" not in words(asked.text)  # whether it is filled, is
    tap(kitchen, "full-boil", last(kitchen.records, kitchen.run))
    assert booked(kitchen)[-1].vented == "clock"
    assert "vented 10 min by its clock" in board(kitchen)


def test_a_vent_clock_by_mistake_is_taken_back(kitchen):
    tap(kitchen, "venting", last(kitchen.records, kitchen.run))
    tap(kitchen, "venting-stopped", last(kitchen.records, kitchen.run))
    assert [event.kind for event in booked(kitchen)[1:]] == [
        "venting-begun",
        "venting-stopped",
    ]
    assert "Steam streams now" in board(kitchen)


def test_a_computer_switched_on_again_asks_of_the_steam(kitchen):
    started(kitchen, 120)
    tap(kitchen, "venting", last(kitchen.records, kitchen.run))
    kitchen.clock.go(minutes=3)
    assert "after steam began to stream" not in board(kitchen)
    started(kitchen, 1)
    shown = board(kitchen)
    assert "switched on again after steam began to stream from" in shown
    assert "its 10 min start again" in shown
