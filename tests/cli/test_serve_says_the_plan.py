"""What ``serve`` prints before it listens: the day as it goes by now."""

import datetime as dt
from pathlib import Path

import pytest

from stillroom.cli.commands import serve as serving
from stillroom.planning.day_file.dayfile import read_day, write_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import Records, open_records
from stillroom.running.again import Told, plan_again, taking
from stillroom.running.batches import batches_of
from stillroom.running.commands import BeginDay
from stillroom.running.handle import handle, run_id, state_of
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of
from tests.cli.running import run
from tests.kitchens import day, juice, person, stores

ONE = day(shelf=(juice("plum juice", 7), *stores()), people=(person("Ada"),))


@pytest.fixture
def begun(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """One batch of an invented day, begun by its plan; no page is served."""
    monkeypatch.setattr(serving, "serve", lambda *args, **more: None)
    monkeypatch.setattr(serving, "listen", lambda *args: open("/dev/null"))  # noqa: SIM115
    db, text = tmp_path / "run.db", write_day(ONE)
    planned = plan_the_day(read_day(text), seconds=0.5)
    assert isinstance(planned, DayPlan)
    assert isinstance(planned.answer, Answer)
    starts = dt.datetime.combine(planned.day.date, planned.day.starts).astimezone()
    with open_records(db) as records:
        records.days.save(text, "as typed")
        begin = BeginDay(
            loads=loads_of(planned),
            batches=batches_of(planned),
            plan=kept(planned, text),
            at=starts,
        )
        handle(begin, run_id(planned.day.date), ledger=records.ledger)
    return db, planned, starts


def late_by_two_hours(records: Records, planned: DayPlan, starts: dt.datetime) -> int:
    """Plan the rest again two hours later, nothing begun; returns its last minute."""
    at, of = starts + dt.timedelta(hours=2), run_id(planned.day.date)
    state = state_of(of, ledger=records.ledger)
    steps = frozenset(
        (s.batch, s.step) for s in planned.answer.timetable.steps if s.person
    )
    again = plan_again(state, at, Told(not_begun=steps), seconds=0.5)
    handle(taking(again, state, at), of, ledger=records.ledger)
    return again.found.new.finish_min


def served(db: Path) -> str:
    said = run("serve", "--db", str(db), "--seconds", "0.5", "--port", "0")
    assert said.code == 0, said.err
    return " ".join(said.out.split())


def test_a_day_that_goes_as_planned_is_said_as_planned(begun):
    db, planned, _ = begun
    done = clock_time(planned.problem.starts_at, planned.answer.finish_min)
    said = served(db)
    assert f"done by {done}." in said
    assert "Planned again" not in said


def test_a_day_that_was_planned_again_is_said_as_it_goes_by_now(begun):
    """The page Day said 14:00, and the terminal above it still the morning's noon."""
    db, planned, starts = begun
    with open_records(db) as records:
        finish = late_by_two_hours(records, planned, starts)
    morning, now = (
        clock_time(planned.problem.starts_at, minute)
        for minute in (planned.answer.finish_min, finish)
    )
    assert morning != now
    said = served(db)
    assert f"done by {now}." in said
    assert f"done by {morning}" not in said
    assert f"Planned again at {starts + dt.timedelta(hours=2):%-H:%M}: " in said


def test_with_jars_to_come_the_pages_wait_for_no_plan(begun, monkeypatch):
    """The machine was switched off in the midst of a day."""
    db, planned, _ = begun
    asked_s: list[float] = []

    def plan_within(_: object, seconds: float) -> None:
        asked_s.append(seconds)

    monkeypatch.setattr(serving.Shop, "plan_within", plan_within)
    assert "Planning the day" in served(db)  # that day is long over
    day_after = planned.day.date + dt.timedelta(days=1)
    begin = BeginDay(
        loads=loads_of(planned),
        batches=batches_of(planned),
        plan=kept(planned, write_day(ONE)),
        at=dt.datetime.now(dt.UTC),
    )
    with open_records(db) as records:
        handle(begin, run_id(day_after), ledger=records.ledger)
    said = served(db)
    assert "A day is under way at the stove: its pages come at once" in said
    assert "Planning the day" not in said
    assert asked_s[0] > 0.5
    assert asked_s[1:] == [0]
