"""``stillroom learned``, and a plan that learns from a record."""

import datetime as dt
from pathlib import Path

import pytest

from stillroom.cli.planned import learned_for
from stillroom.learning.record import LearnedKept, learned_from
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import open_records
from stillroom.running.batches import batches_of
from stillroom.running.commands import BeginDay, BeginStep, FinishStep
from stillroom.running.events import RunLoad, RunStep
from stillroom.running.handle import handle, run_id
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of
from tests.cli.running import run

MORNING = dt.datetime(2026, 1, 5, 8, 0, tzinfo=dt.UTC)
LOAD = RunLoad(
    id="l1",
    name="load 1",
    canner="canner",
    process_min=10,
    source="invented for a test",
    jar="half-pint",
    jars=(("b1", 8),),
)


@pytest.fixture
def record(tmp_path: Path) -> Path:
    """Four invented days on which filling took twice the book's four minutes."""
    file = tmp_path / "farm.db"
    with open_records(file) as records:
        for number in range(4):
            at = MORNING + dt.timedelta(days=number)
            name = f"run/{at.date()}"
            steps = (
                RunStep(batch="b1", step="fill", product="plum jelly", book_min=4),
            )
            begin = BeginDay(loads=(LOAD,), steps=steps, kitchen="Hollow Larch", at=at)
            later = at + dt.timedelta(minutes=8)
            for command in (
                begin,
                BeginStep(batch="b1", step="fill", at=at),
                FinishStep(batch="b1", step="fill", at=later),
            ):
                handle(command, name, ledger=records.ledger)
    return file


@pytest.fixture
def day(tmp_path: Path) -> Path:
    file = tmp_path / "day.toml"
    file.write_text(demo_day_text(), encoding="utf-8")
    return file


def test_it_lists_what_was_learned_beside_the_books(record):
    said = " ".join(run("learned", "--db", str(record)).out.split())
    assert "plum jelly fill" in said
    assert "6 min" in said  # half-way between 4 and 8, the book being worth four runs
    assert "book 4 min" in said
    assert "book 4 min 4 runs" in said
    assert "Not enough yet: 3 are needed." in said


def test_as_json(record):
    (step,) = run("learned", "--db", str(record), "--json").json["steps"]
    assert step["product"] == "plum jelly"
    assert step["middle"] == pytest.approx(2**0.5, abs=1e-4)
    assert (step["runs"], step["others"], step["book"]) == (4, 0, 4.0)
    assert (
        run("learned", "--db", str(record), "--kitchen", "x", "--json").json["steps"]
        == []
    )


def test_a_plan_learns_from_the_record_and_can_be_told_not_to(record, day):
    plan = ("plan", str(day), "--seconds", "0.5", "--db", str(record))
    own = run(*plan, "--json").json["learned"]
    fill = next(f for f in own if f["product"] == "plum jelly" and f["step"] == "fill")
    assert fill["own"] == round(fill["book"] * 2**0.5)
    assert fill["rests_on"] == "learned from 4 runs of yours"
    text = " ".join(run(*plan).out.split())
    assert "Learned from your past days" in text
    assert "learned from 4 runs of yours; the book says" in text
    plainly = run(*plan, "--as-published", "--json").json
    assert plainly["learned"] == []
    assert "Learned from your" not in run(*plan, "--as-published").out


def test_a_day_that_was_begun_is_taught_by_the_days_before_it_as_on_the_pages(
    record, day
):
    text = day.read_text(encoding="utf-8")
    planned = plan_the_day(read_day(text), seconds=0.5)
    own = run_id(planned.day.date)
    at = dt.datetime.combine(planned.day.date, dt.time(8), dt.UTC)
    plan = ("plan", str(day), "--seconds", "0.5", "--db", str(record), "--json")
    before = run(*plan).json
    with open_records(record) as records:
        begin = BeginDay(
            loads=loads_of(planned),
            batches=batches_of(planned),
            steps=(RunStep(batch="b1", step="fill", product="plum jelly", book_min=4),),
            plan=kept(planned, text),
            kitchen=planned.day.kitchen.name,
            at=at,
        )
        handle(begin, own, ledger=records.ledger)
        later = at + dt.timedelta(minutes=24)
        handle(BeginStep(batch="b1", step="fill", at=at), own, ledger=records.ledger)
        handle(
            FinishStep(batch="b1", step="fill", at=later), own, ledger=records.ledger
        )
        pages = LearnedKept(records.ledger).for_day(text)
        by_now = learned_from(records.ledger, kitchen=planned.day.kitchen.name)
    assert pages != by_now  # its own taps would teach it something
    assert learned_for(planned.day, text, str(record), False) == pages
    assert run(*plan).json["learned"] == before["learned"]
    other = text.replace("[day]", "# another day file\n[day]", 1)
    assert learned_for(planned.day, other, str(record), False) == by_now


def test_a_record_that_is_not_there_is_said_and_not_made(day, tmp_path):
    gone = tmp_path / "gone.db"
    said = run("plan", str(day), "--seconds", "0.5", "--db", str(gone))
    assert said.code == 2
    assert "--db" in said.err
    assert "is not there" in said.err
    assert not gone.exists()


def test_what_if_compares_days_that_are_all_planned_her_way(record, day):
    asked = ("what-if", str(day), "--seconds", "0.5", "--with", "day.ends=21:00")
    own = run(*asked, "--db", str(record), "--json").json["days"]
    plain = run(*asked, "--json").json["days"]
    published = run(*asked, "--db", str(record), "--as-published", "--json").json[
        "days"
    ]
    # filling takes longer here, so her own day cannot end as early
    assert own[0]["lower_bound_min"] > plain[0]["lower_bound_min"]
    assert own[1]["lower_bound_min"] > plain[1]["lower_bound_min"]
    assert published[0]["lower_bound_min"] == plain[0]["lower_bound_min"]
