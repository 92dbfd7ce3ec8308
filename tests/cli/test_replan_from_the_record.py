"""``replan --db``: what has happened is the run's, and the new plan goes into it."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day, write_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import open_records
from stillroom.running.commands import BeginDay, FinishStep
from stillroom.running.handle import handle, run_id, state_of
from stillroom.running.kept_plan import kept
from stillroom.running.loads import loads_of
from tests.cli.running import run
from tests.kitchens import day, juice, person, stores

BENS = ((dt.time(16), dt.time(16, 20)), (dt.time(17), dt.time(17, 20)))
"""The goats, twice: long after all is done."""


@pytest.fixture
def begun(tmp_path: Path):
    """Two batches of an invented day, begun at eight by its plan."""
    file, db = tmp_path / "day.toml", tmp_path / "run.db"
    two = day(
        shelf=(juice("plum juice", 14), *stores()),
        people=(person("Ada"), person("Ben", away=BENS)),
    )
    file.write_text(write_day(two), encoding="utf-8")
    planned = plan_the_day(read_day(file), seconds=1.5)
    assert isinstance(planned, DayPlan)
    assert isinstance(planned.answer, Answer)
    starts = dt.datetime.combine(planned.day.date, planned.day.starts).astimezone()
    with open_records(db) as records:
        handle(
            BeginDay(
                loads=loads_of(planned),
                plan=kept(planned, file.read_text(encoding="utf-8")),
                at=starts,
            ),
            run_id(planned.day.date),
            ledger=records.ledger,
        )
    return str(file), db, planned, starts


def state_in(db: Path, planned: DayPlan):
    with open_records(db) as records:
        return state_of(run_id(planned.day.date), ledger=records.ledger)


def clock_at(starts: dt.datetime, minute: int) -> str:
    at = starts + dt.timedelta(minutes=minute)
    return f"{at:%H:%M}"


def test_what_was_said_done_is_known_from_the_run(begun):
    file, db, planned, starts = begun
    first = min(planned.answer.timetable.steps, key=lambda s: s.start_min)
    late = first.end_min + 9
    with open_records(db) as records:
        handle(
            FinishStep(
                batch=first.batch,
                step=first.step,
                at=starts + dt.timedelta(minutes=late),
            ),
            run_id(planned.day.date),
            ledger=records.ledger,
        )
    said = run(
        "replan", file, "--now", clock_at(starts, late + 1), "--db", str(db), "--json"
    )
    assert said.code == 0, said.err
    kept_step = next(
        s for s in said.json["steps"] if s["id"] == f"{first.batch}/{first.step}"
    )
    assert kept_step["end_min"] == late
    assert said.json["taken"] is False
    assert state_in(db, planned).taken == ()


def test_it_is_taken_over_into_the_run(begun):
    file, db, planned, starts = begun
    said = run(
        "replan", file, "--now", clock_at(starts, 20), "--db", str(db),
        "--leaves", "Ben=18:00", "--take",
    )  # fmt: skip
    assert said.code == 0, said.err
    assert "The day goes by this plan now." in said.out
    state = state_in(db, planned)
    assert len(state.taken) == 1
    assert state.taken[0].sentence.startswith("Done at")


def test_who_comes_later_comes_later_in_the_plan_that_is_taken_over(begun):
    file, db, planned, starts = begun
    said = run(
        "replan", file, "--now", clock_at(starts, 20), "--db", str(db),
        "--comes", f"Ben={clock_at(starts, 95)}", "--take",
    )  # fmt: skip
    assert said.code == 0, said.err
    plan = state_in(db, planned).taken[0].plan
    bens = [s for s in plan.timetable.steps if s.person == "Ben"]
    in_hand = max([20, *(s.end_min for s in bens if s.start_min < 20)])
    assert all(s.start_min >= 95 or s.start_min < in_hand for s in bens)
    ben = next(p for p in plan.problem.people if p.id == "Ben")
    assert ben.arrives_min == 95 or ben.away == ((in_hand, 95),)


def test_a_batch_is_left_out_and_what_is_kept_of_it_goes_into_the_run(begun):
    file, db, planned, starts = begun
    last = planned.batches[-1].id
    begins = min(
        s.start_min for s in planned.answer.timetable.steps if s.batch == last and s.pot
    )
    said = run(
        "replan", file, "--now", clock_at(starts, min(5, begins - 1)),
        "--db", str(db), "--drop", last, "--take", "--json",
    )  # fmt: skip
    assert said.code == 0, said.err
    left = state_in(db, planned).taken[0].left_out[0]
    assert left.batch == last
    assert any("plum juice" in words for words in left.keeps)


def test_a_promise_that_was_left_out_is_told_whenever_the_rest_is_planned(begun):
    file, db, planned, starts = begun
    first, last = planned.batches
    two = replace(
        read_day(Path(file)),
        wants=tuple(replace(w, by=dt.time(19)) for w in planned.day.wants),
    )
    Path(file).write_text(write_day(two), encoding="utf-8")
    promised = plan_the_day(read_day(Path(file)), seconds=1.0)
    with open_records(db.with_name("promised.db")) as records:
        handle(
            BeginDay(
                loads=loads_of(promised),
                plan=kept(promised, Path(file).read_text(encoding="utf-8")),
                at=starts,
            ),
            run_id(planned.day.date),
            ledger=records.ledger,
        )
    there = ("--db", str(db.with_name("promised.db")), "--json")
    now = ("--now", clock_at(starts, 2))
    out = run("replan", file, *now, *there, "--drop", last.id, "--take")
    lost = [{"product": "plum jelly", "jars": last.jars, "by_min": 660}]
    assert out.json["promised_and_not_made"] == lost
    out = run("replan", file, "--now", clock_at(starts, 4), *there)
    assert out.json["promised_and_not_made"] == lost
    said = f"{last.jars} jars of plum jelly, wanted by 19:00, are not made"
    assert said in out.json["sentence"]
    text = write_day(replace(two, without=(first.id,)))
    Path(file).write_text(text, encoding="utf-8")
    out = run("replan", file, "--now", "08:05", "--seconds", "1", "--json")
    lost[0]["jars"] = first.jars
    assert out.json["promised_and_not_made"] == lost


@pytest.mark.parametrize(
    ("options", "code", "words"),
    [
        (("--leaves", "Zoe=15:00"), 2, "name one of"),
        (("--comes", "Zoe=15:00"), 2, "name one of"),
        (("--comes", "Ben=late"), 2, "is no clock time"),
        (("--comes", "Ben=8:01"), 3, "Ben cannot come at 8:01"),
        (("--moves", "Zoe 10:00=11:00"), 2, "name one of"),
        (("--moves", "Ben 10:00=25:99"), 2, "is no clock time"),
        (("--moves", "Ben 10:00"), 2, '"Ben 10:00" puts nothing at another hour'),
        (("--moves", "Ben"), 2, '"Ben" puts nothing at another hour'),
        (("--moves", "=10:30"), 2, '"=10:30" puts nothing at another hour'),
        (("--moves", "Ben 10:00=11:00"), 3, "Ben has no break and no absence to come"),
        (
            ("--moves", "Ben 16:00=18:00", "--moves", "Ben 17:00=18:10"),
            3,
            "Ben cannot have both at once: the absence 18:10 to 18:30, as it is moved, "
            "and the absence 18:00 to 18:20, as it is moved too",
        ),
        (("--moves", "Ben 16:00=17:10"), 3, "begin the absence at 17:20 or later"),
        (("--broken", "kettle"), 2, "name one of"),
        (("--late", "plum jelly 1/sing=5min"), 2, "of plum jelly 1 it has"),
        (("--drop", "quince jelly 1"), 3, "choose one of these"),
        (("--happened", "x.json"), 2, "one of them"),
    ],
)
def test_what_cannot_be_is_said(begun, options, code, words):
    file, db, _, starts = begun
    said = run("replan", file, "--now", clock_at(starts, 20), "--db", str(db), *options)
    assert said.code == code
    assert words in " ".join((said.err + said.out).split())


def test_a_step_that_was_late_and_is_over_is_not_taken_to_run_still(begun):
    """Else five minutes of the morning would put off the whole day behind them."""
    file, db, planned, starts = begun
    first = min(planned.answer.timetable.steps, key=lambda s: s.start_min)
    over = first.end_min + 5
    words = ("replan", file, "--db", str(db), "--late")
    name = f"{first.batch}/{first.step}"
    said = run(*words, f"{name}=5min", "--now", clock_at(starts, over + 30))
    assert said.code == 2
    assert f"{name} was over at {clock_at(starts, over).lstrip('0')} then" in said.err
    said = run(*words, f"{name}=5min", "--now", clock_at(starts, over), "--json")
    assert said.code == 0, said.err


def test_a_load_of_which_nobody_said_that_it_boils_is_named(begun):
    file, db, planned, starts = begun
    load = min(planned.answer.timetable.loads, key=lambda x: x.boil_min)
    words = ("replan", file, "--db", str(db), "--now")
    said = run(*words, clock_at(starts, load.boil_min + 3))
    assert said.code == 0, said.err
    out = " ".join(said.out.split())
    assert "Nobody said at the stove that load 1 is at a full boil: no process" in out
    said = run(*words, clock_at(starts, load.boil_min - 1))
    assert "Nobody said" not in said.out


def test_without_a_run_there_is_nothing_to_plan_again(begun, tmp_path):
    file, _, _, starts = begun
    with open_records(tmp_path / "empty.db"):
        pass
    now = clock_at(starts, 20)
    said = run("replan", file, "--now", now, "--db", str(tmp_path / "empty.db"))
    assert said.code == 3
    assert "was not begun with a plan" in said.err
    said = run("replan", file, "--now", now, "--db", str(tmp_path / "none.db"))
    assert said.code == 2
    assert "is not there" in said.err
    said = run("replan", file, "--now", now, "--take")
    assert said.code == 2
    assert "give --db as well" in said.err


@pytest.fixture
def begun_without(begun):
    """The same day, begun without its last batch, as its file says."""
    file, db, planned, starts = begun
    name = planned.batches[-1].id
    text = changed_day_text(Path(file).read_text(), f'day.without="{name}"')
    Path(file).write_text(text, encoding="utf-8")
    fewer = plan_the_day(read_day(text), seconds=1.5)
    with open_records(db.with_name("fewer.db")) as records:
        handle(
            BeginDay(loads=loads_of(fewer), plan=kept(fewer, text), at=starts),
            run_id(fewer.day.date),
            ledger=records.ledger,
        )
    return file, db.with_name("fewer.db"), fewer, starts, name


def test_a_batch_that_was_left_out_is_taken_in(begun_without):
    file, db, fewer, starts, name = begun_without
    assert [spare.batch.id for spare in fewer.spare] == [name]
    said = run(
        "replan", file, "--now", clock_at(starts, 5), "--db", str(db),
        "--take-in", name, "--take", "--json",
    )  # fmt: skip
    assert said.code == 0, said.err
    assert said.json["gives_way"] == []
    state = state_in(db, fewer)
    assert name in {b.id for b in state.plan.problem.batches}
    assert name in {b.id for b in state.batches}
    no = run(
        "replan", file, "--now", clock_at(starts, 6), "--db", str(db),
        "--take-in", "moon jelly",
    )  # fmt: skip
    assert no.code == 3
    assert "no batch that was left out" in " ".join(no.err.split())
    assert run("replan", file, "--now", "9:00", "--take-in", name).code == 2


def test_from_another_day_file_nothing_is_taken_in(begun_without):
    file, db, _, starts, name = begun_without
    path = Path(file)
    path.write_text(path.read_text() + "\n# looked through\n", encoding="utf-8")
    no = run(
        "replan", file, "--now", clock_at(starts, 5), "--db", str(db),
        "--take-in", name, "--take",
    )  # fmt: skip
    assert no.code == 3
    said = " ".join(no.err.split())
    assert "the day was begun by another day file than day.toml" in said
    assert "plan the rest without --take-in" in said


OTHERS = {
    "higher": lambda text: changed_day_text(text, "kitchen.elevation=7000 ft"),
    "pints": lambda text: changed_day_text(text, "wants.plum jelly.jar=pint"),
    "no juice": lambda text: changed_day_text(text, "shelf.frozen plum juice=nothing"),
}


@pytest.mark.parametrize("other", OTHERS)
def test_what_was_begun_is_taken_over_as_begun_by_any_day_file(begun, other):
    file, db, planned, starts = begun
    before = {
        (batch, run.load.process_min, run.load.band, run.load.jar, run.load.source)
        for run in state_in(db, planned).loads
        for batch, _ in run.load.jars
    }
    path = Path(file)
    path.write_text(OTHERS[other](path.read_text()), encoding="utf-8")
    assert len(before) == len(planned.batches)
    said = run(
        "replan", file, "--now", clock_at(starts, 20), "--db", str(db),
        "--leaves", "Ben=18:00", "--take",
    )  # fmt: skip
    assert said.code == 0, said.err
    after = state_in(db, planned)
    assert len(after.taken) == 1
    assert {
        (batch, run.load.process_min, run.load.band, run.load.jar, run.load.source)
        for run in after.loads
        for batch, _ in run.load.jars
    } == before


def test_a_day_that_slips_past_midnight_is_planned_on(tmp_path: Path):
    """What the plan prints is understood again: "0:20 (next day)"."""
    file = tmp_path / "evening.toml"
    evening = day(
        people=(person("Ada", comes=dt.time(20), goes=dt.time(23, 59)),),
        starts=dt.time(20),
        ends=dt.time(23, 59),
    )
    file.write_text(write_day(evening), encoding="utf-8")
    happened = tmp_path / "happened.json"
    happened.write_text(
        '{"steps": [{"batch": "plum jelly 1", "step": "wash_jars", '
        '"started": "23:50", "finished": "0:10"}], "rest": "not begun"}'
    )
    there = ("--happened", str(happened), "--seconds", "0.5", "--json")
    for now in ("0:20", "0:20 (next day)"):
        said = run("replan", str(file), "--now", now, *there)
        assert said.code == 0, said.err
        assert said.json["now_min"] == 260
        assert "(next day)" in said.json["sentence"]
        (washed,) = (
            s for s in said.json["steps"] if s["id"] == "plum jelly 1/wash_jars"
        )
        assert (washed["start_min"], washed["end_min"]) == (230, 250)
    said = run("replan", str(file), "--now", "11:00", *there)
    assert said.code == 2
    assert 'of the night write it as the plan does: "0:20 (next day)"' in said.err
