"""Nobody is asked about the process of jars that cannot be there yet."""

import datetime as dt

import pytest

from stillroom.cli.commands import stock_from_run
from stillroom.running.fold import RunState
from stillroom.running.handle import state_of
from tests.cli.running import run
from tests.web.forms import words
from tests.web.test_tapped_once import drawn, kitchen, tap

__all__ = ["kitchen"]  # a fixture

ASKS = "Was every load processed?"
NEVER = "It was filled, and had no whole process"


def begin(kitchen, hour: int) -> RunState:
    """The demo day, whose plan begins at 7:30, begun at another hour."""
    kitchen.clock.at = kitchen.clock.at.replace(hour=hour, minute=0)
    tap(kitchen, "begin", drawn(kitchen))
    return state_of(kitchen.run, ledger=kitchen.records.ledger)


def page(kitchen, name: str) -> str:
    return words(kitchen.client.get(f"/stock/{name}").text)


def first_boil(state: RunState, start: dt.datetime) -> dt.datetime:
    assert state.plan is not None
    return start + dt.timedelta(
        minutes=min(load.boil_min for load in state.plan.timetable.loads)
    )


def test_a_day_begun_before_its_hour_is_asked_nothing(kitchen):
    state = begin(kitchen, 3)
    assert ASKS not in page(kitchen, "after")
    made = page(kitchen, "made")
    assert NEVER not in made
    lots = sum(len(run.load.jars) for run in state.loads)
    assert f"{lots} are still to come" in made
    assert "Still to come" in made


@pytest.mark.parametrize(("hour", "plan_begins"), [(3, "07:30"), (15, "15:00")])
def test_a_load_is_asked_about_once_its_hour_is_past(kitchen, hour, plan_begins):
    """Begun later than its plan, all of the day is that much later."""
    state = begin(kitchen, hour)
    start = kitchen.clock.at.replace(
        hour=int(plan_begins[:2]), minute=int(plan_begins[3:]), second=0
    )
    boil = first_boil(state, start)
    kitchen.clock.at = boil - dt.timedelta(minutes=1)
    assert ASKS not in page(kitchen, "after")
    kitchen.clock.at = boil + dt.timedelta(minutes=1)
    after = page(kitchen, "after")
    assert ASKS in after
    assert "): its process was not started." in after
    assert "load 2" not in after.lower()
    kitchen.clock.at = boil + dt.timedelta(days=1)
    later = page(kitchen, "after").lower()
    assert all(run.load.name in later for run in state.loads)
    assert "Still to come" not in page(kitchen, "made")


def test_a_batch_that_was_said_filled_is_asked_about_at_once(kitchen):
    state = begin(kitchen, 3)
    last = state.loads[-1].load
    batch = next(b for b in state.batches if b.id == last.jars[0][0])
    once, seen = drawn(kitchen)
    kitchen.client.post(
        "/stove/done",
        data={
            "run": kitchen.run,
            "batch": batch.id,
            "step": batch.closes,
            "once": once,
            "seen": seen,
        },
    )
    after = page(kitchen, "after")
    assert (
        f"{last.name.capitalize()} ({batch.id}): its process was not started." in after
    )
    assert page(kitchen, "made").count(NEVER) == 1


def test_a_load_on_its_clock_waits_and_is_asked_about_once_it_lost_its_boil(kitchen):
    state = begin(kitchen, 3)
    tap(kitchen, "full-boil", drawn(kitchen))
    assert "its process clock runs" in page(kitchen, "after")
    made = page(kitchen, "made")
    assert "its clock goes on" in made
    assert NEVER not in made
    tap(kitchen, "boil-lost", drawn(kitchen))
    jars = next(r.load.jars for r in state.loads if r.load.id == kitchen.load)
    assert page(kitchen, "made").count(NEVER) == len(jars)


def test_a_clock_that_lost_its_boil_is_still_asked_about(kitchen):
    begin(kitchen, 3)
    tap(kitchen, "full-boil", drawn(kitchen))
    tap(kitchen, "boil-lost", drawn(kitchen))
    assert "its boil was lost" in page(kitchen, "after").lower()


def test_the_terminal_asks_about_no_load_that_the_page_calls_still_to_come(
    kitchen, tmp_path, monkeypatch
):
    def shown() -> str:
        monkeypatch.setattr(stock_from_run, "now", lambda: kitchen.clock.at)
        record = ("--db", str(tmp_path / "stillroom.db"))
        return " ".join(run("stock", "made", "--from-run", *record).out.split())

    begin(kitchen, 3)
    assert "process was not" not in shown()
    assert "still to come" in shown()
    kitchen.clock.at += dt.timedelta(days=1)
    assert "its process was not" in shown()
    assert "still to come" not in shown()
