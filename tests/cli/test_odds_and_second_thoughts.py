"""``odds``, ``why``, ``what-if`` and ``replan`` as a person types them."""

import datetime as dt
import json
from dataclasses import replace
from pathlib import Path

import pytest

from stillroom.cli.replan_text import print_replanned, replanned_as_json
from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.limits_said import ENDS_IN_TIME
from stillroom.planning.day import Want
from stillroom.planning.day_file.dayfile import write_day
from stillroom.planning.plan import plan_day
from stillroom.planning.second_thoughts.moves import Move
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.second_thoughts.replanned import PUT_OFF
from stillroom.planning.spoken_of import Minute, TheLoad, says
from tests.cli.running import run
from tests.kitchens import day, juice, person, stores
from tests.planning.small_days import day as small_problem
from tests.planning.small_days import jelly
from tests.planning.small_days import person as worker

QUICK = ("--seconds", "1.5")


@pytest.fixture(scope="module")
def small_day(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("day") / "day.toml"
    file.write_text(write_day(day()), encoding="utf-8")
    return str(file)


@pytest.fixture(scope="module")
def plan(small_day):
    return run("plan", small_day, *QUICK, "--json").json


def test_odds_begin_with_a_sentence(small_day):
    said = run("odds", small_day, *QUICK, "--days", "500")
    assert said.code == 0
    assert "four in five by" in " ".join(said.out.split())
    assert "canner/" not in said.out
    for words in (
        "Done by",
        "What decides it",
        "First what moves the end most by its own luck",
        "What one more would bring",
        "one more grown-up, all day, who cooks",
    ):
        assert words in said.out
    assert "common practice, no source" in " ".join(said.out.split())


def test_what_is_remarked_of_the_plan_stands_before_its_odds(small_day):
    asked = ("odds", small_day, "--seconds", "0", "--days", "500", "--no-one-more")
    lines = run(*asked).out.splitlines()
    (remark,) = [n for n, line in enumerate(lines) if "no time for a search" in line]
    assert remark < lines.index("Done by")


def test_odds_as_json(small_day):
    said = run(
        "odds", small_day, *QUICK, "--days", "500", "--no-one-more", "--json"
    ).json
    assert said["days"] == 500
    assert said["half_by_min"] <= said["four_in_five_by_min"]
    assert said["four_in_five_by_min"] <= said["nineteen_in_twenty_by_min"]
    chances = [d["chance"] for d in said["done_by"]]
    assert chances == sorted(chances)
    assert said["one_more"] == []
    assert said["one_more_against_min"] is None
    assert said["spare"]["spare"] >= 1


@pytest.fixture(scope="module")
def promised_day(tmp_path_factory: pytest.TempPathFactory) -> str:
    jelly_by = Want(product="plum jelly", jars=16, jar="half-pint", by=dt.time(10, 20))
    file = tmp_path_factory.mktemp("promised") / "day.toml"
    text = write_day(day(jelly_by, done_by=dt.time(10, 40)))
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_odds_answer_her_hour_and_each_promise(promised_day):
    said = run("odds", promised_day, *QUICK, "--days", "500")
    assert said.out.startswith("Done by 10:40, as you wanted, ")
    words = " ".join(said.out.split())
    assert "- plum jelly there by 10:20, as promised: " in words
    assert "; a difference of a few minutes is the search. " in words
    found = run(
        "odds", promised_day, *QUICK, "--days", "500", "--no-one-more", "--json"
    ).json
    wanted, (promise,) = found["wanted"], found["promises"]
    assert (wanted["minute"], wanted["clock"]) == (160, "10:40")
    assert 0.0 <= wanted["chance"] <= 1.0
    assert (promise["product"], promise["clock"]) == ("plum jelly", "10:20")
    assert promise["minute"] == 140


def test_why_names_a_chain_back_to_the_morning(small_day, plan):
    step = plan["steps"][-1]["id"]
    said = run("why", small_day, step, *QUICK, "--json").json
    assert said["asked"] == step
    assert said["chain"][-1]["held_by"] in ("day", "arrival")
    assert said["limit_of_the_day"]


def test_why_of_the_whole_day_and_of_a_load(small_day, plan):
    whole = run("why", small_day, *QUICK)
    assert whole.code == 0
    assert "The day as a whole" in whole.out
    load = run("why", small_day, plan["loads"][0]["id"], *QUICK)
    assert "begins at" in load.out


def test_what_if_is_a_table_with_the_day_as_it_is_first(small_day):
    changes = ("--with", "people.Ada.goes=19:00", "--with", "kitchen.counter=70")
    said = run("what-if", small_day, *changes, *QUICK)
    assert said.code == 0
    lines = [line.split() for line in said.out.splitlines() if line.strip()]
    rows = lines[lines.index(["done", "by", "loads", "late", "jars", "left", "out"]) :]
    assert rows[1][:3] == ["as", "it", "is"]
    assert [rows[2][0], rows[3][0]] == ["1", "2"]
    assert rows[1][-1] == rows[2][-1] == "nothing"
    assert rows[4] == ["1", "Ada", "goes", "at", "19:00"]
    assert rows[5] == ["2", "the", "counter", "has", "room", "for", "70", "jars"]
    days = run("what-if", small_day, *changes, *QUICK, "--json").json["days"]
    assert [d["change"] for d in days] == [
        "as it is", "people.Ada.goes=19:00", "kitchen.counter=70",
    ]  # fmt: skip


def test_what_if_that_fits_no_more_is_an_answer_and_no_refusal(small_day):
    said = run("what-if", small_day, "--with", "people.Ada.goes=08:40", *QUICK)
    assert said.code == 0
    assert "no timetable" in said.out


def test_replan_says_one_sentence_first_and_old_and_new_side_by_side(small_day):
    last = run("plan", small_day, *QUICK, "--json").json
    first = min(last["steps"], key=lambda s: s["start_min"])
    said = run(
        "replan", small_day, *QUICK, "--now", "8:01", "--late", f"{first['id']}=20min"
    )
    assert said.code == 0, said.err
    assert said.out.startswith("Done at")
    assert "was" in said.out
    lines = said.out.splitlines()
    head = next(n for n, line in enumerate(lines) if "step or load" in line)
    # the clock times stand under their heads, and no step is named as in a file
    under = lines[head + 1][lines[head].index(" was ") :]
    assert under[:2].strip().isdigit()
    assert "_" not in said.out


def test_a_step_goes_by_the_words_that_the_plan_prints(small_day):
    steps = run("plan", small_day, *QUICK, "--json").json["steps"]
    fill = next(s for s in steps if s["id"].endswith("/fill"))
    batch, words = fill["batch"], fill["verb"]
    assert words in run("plan", small_day, *QUICK).out
    said = run("why", small_day, f"{batch}/{words}", *QUICK)
    assert said.code == 0, said.err
    assert said.out.startswith(f"{words} ({batch}) begins at")
    now = 8 * 60 + fill["start_min"] + 1
    clock = f"{now // 60}:{now % 60:02}"
    late = (small_day, *QUICK, "--now", clock, "--json", "--late")
    by_name = run("replan", *late, f"{fill['id']}=5min")
    by_words = run("replan", *late, f"{batch}/{words}=5min")
    assert by_words.code == 0, by_words.err
    assert by_words.json["steps"] == by_name.json["steps"]


def test_what_the_planner_cannot_put_together_is_refused_in_words(
    small_day, monkeypatch
):
    def broken(*_given, **_more):
        raise BrokenPlan(says(TheLoad("canner/1"), " is heated early at ", Minute(108)))

    monkeypatch.setattr("stillroom.cli.commands.replan.replan", broken)
    said = run("replan", small_day, *QUICK, "--now", "8:30")
    assert said.code == 3
    assert "load 1 in the canner is heated early at 9:48" in " ".join(said.err.split())
    assert "Instead: say with --happened" in said.err


def test_replan_tells_of_a_promise_that_cannot_be_met_at_all(tmp_path: Path):
    """Grape juice is none on the shelf: plan and odds said so, and the rest did not."""
    wants = (
        Want(product="plum jelly", jars=8, jar="half-pint", by=dt.time(12)),
        Want(product="grape jelly", jars=10, jar="half-pint", by=dt.time(11)),
    )
    file = tmp_path / "promised.toml"
    file.write_text(write_day(day(*wants)), encoding="utf-8")
    slip = ("--now", "08:02", "--late", "plum jelly 1/wash_jars=3min", *QUICK)
    out = run("replan", str(file), *slip, "--json").json
    lost = [{"product": "grape jelly", "jars": 10, "by_min": 180}]
    assert out["promised_and_not_made"] == lost
    assert "10 jars of grape jelly, wanted by 11:00, are not made" in out["sentence"]


def test_replan_as_json_keeps_what_has_begun(small_day):
    said = run("replan", small_day, *QUICK, "--now", "8:30", "--json").json
    assert said["sentence"].startswith("Done at")
    assert said["now_min"] == 30
    assert said["makespan_min"] <= said["makespan_was_min"]


def test_replan_from_a_file_of_what_has_happened(small_day, plan, tmp_path):
    first = min(plan["steps"], key=lambda s: s["start_min"])
    file = tmp_path / "happened.json"
    row = {
        "batch": first["batch"],
        "step": first["id"].rpartition("/")[2],
        "started": "8:05",
        "expected": "8:40",
    }
    file.write_text(json.dumps({"steps": [row], "rest": "not begun"}), encoding="utf-8")
    said = run(
        "replan", small_day, *QUICK, "--now", "8:20", "--happened", str(file), "--json"
    )
    assert said.code == 0, said.err
    kept = next(s for s in said.json["steps"] if s["id"] == first["id"])
    assert (kept["start_min"], kept["end_min"]) == (5, 40)
    others = [s for s in said.json["steps"] if s["id"] != first["id"]]
    assert min(s["start_min"] for s in others) >= 20


def test_leaving_a_batch_out_is_advised_only_where_the_day_is_too_much(capsys):
    problem = small_problem(jelly("jelly-1"), jelly("jelly-2"))
    plan = plan_day(problem, seconds=1).timetable
    asked = plan.steps[-1]
    far = Move(
        what=f"{asked.batch}/{asked.step}", was_min=10, is_min=60, was_by="a", is_by="a"
    )
    found = replan(problem, plan, as_planned(problem, plan, 1))
    new = replace(found, new=plan.moved(1), moves=(far,), open_steps=1)
    late = replace(problem, done_by_min=plan.finish_min - 1)
    for told, advised in (
        (new, False),
        (replace(new, new=plan, problem=late), False),
        (replace(new, problem=late), True),
        (replace(new, made_by=PUT_OFF), False),
        (replace(new, made_by=PUT_OFF, problem=late), True),
    ):
        print_replanned(told)
        said = " ".join(capsys.readouterr().out.split())
        assert "new plan" in said
        assert ("leave a batch out" in said.lower()) is advised


def test_a_load_under_way_that_moves_is_in_the_table_and_in_the_json(capsys):
    problem = small_problem(jelly())
    plan = plan_day(problem, seconds=1).timetable
    (load,) = plan.loads
    happened = as_planned(problem, plan, load.lowered_min + 1)
    later = replace(
        load,
        boil_min=load.boil_min + 70,
        done_min=load.done_min + 70,
        lift_min=load.lift_min + 70,
        out_min=load.out_min + 70,
        fire_free_min=load.fire_free_min + 70,
    )
    found = replan(problem, plan, replace(happened, loads=(later,)))
    rows = replanned_as_json(found)["moves"]
    assert [(m["what"], m["under_way"]) for m in rows] == [
        (load.id, "boil"),
        (load.id, "lift"),
    ]
    print_replanned(found)
    said = " ".join(capsys.readouterr().out.split())
    assert "Load 1 in the canner comes to a full boil" in said
    assert "Lift load 1 out of the canner" in said
    assert "+1 h 10 min" in said


def test_what_gives_way_begins_with_the_end_of_the_day_and_is_said_in_hours(capsys):
    problem = small_problem(jelly())
    plan = plan_day(problem, seconds=1).timetable
    found = replan(problem, plan, as_planned(problem, plan, 1))
    told = replace(
        found,
        problem=replace(problem, horizon_min=plan.finish_min - 70),
        broken=((says("closed jars wait"), 499),),
        longer_min={"Ada": 564},
    )
    print_replanned(told)
    said = " ".join(capsys.readouterr().out.split())
    given = said[said.index("What gives way") :]
    assert given == (
        "What gives way - the day ends in time: 1 h 10 min over - closed jars wait: "
        "8 h 19 min over - Ada stays 9 h 24 min longer: is that possible?"
    )
    assert [limit["min"] for limit in replanned_as_json(told)["gives_way"]] == [70, 499]


def test_who_stays_to_the_days_end_and_works_on_after_it_is_in_the_json():
    """Ada leaves at 90, when the day ends; a boil of 20 min more makes it 96."""
    me = worker("Ada", leaves_min=90)
    problem = small_problem(jelly(), people=(me,), horizon_min=90)
    plan = plan_day(problem, seconds=1).timetable
    boil = next(s for s in plan.steps if s.step == "boil")
    late = {("jelly-1", "boil"): 20}
    then = as_planned(problem, plan, boil.start_min + 2, late_min=late)
    found = replan(problem, plan, then)
    assert found.new.finish_min == 96
    assert found.limits == ((ENDS_IN_TIME, 6),)
    assert found.longer_min == {}  # told once, as the end of the day
    assert replanned_as_json(found)["stays_longer_min"] == {"Ada": 6}


BAD_HAPPENED = {
    "no json": "{",
    "a list": "[]",
    "another key": '{"fruit": 3}',
    "no step": '{"steps": [{"batch": "plum jelly 1", "step": "sing"}]}',
    "no batch": '{"steps": [{"batch": "quince", "step": "fill"}]}',
    "no clock": '{"steps": [{"batch": "plum jelly 1", "step": "fill", '
    '"started": "x"}]}',
    "after now": '{"steps": [{"batch": "plum jelly 1", "step": "fill", '
    '"started": "8:00", "finished": "19:00"}]}',
    "no load": '{"loads": [{"load": "moon/1"}]}',
    "rest": '{"rest": "maybe"}',
    "steps": '{"steps": 5}',
    "deep": "[" * 50_000,
}


@pytest.mark.parametrize("text", BAD_HAPPENED.values(), ids=BAD_HAPPENED)
def test_a_file_that_says_nothing_sensible_is_refused(small_day, tmp_path, text):
    file = tmp_path / "happened.json"
    file.write_text(text, encoding="utf-8")
    said = run(
        "replan", small_day, "--seconds", "0.5", "--now", "9:00",
        "--happened", str(file),
    )  # fmt: skip
    assert said.code == 2
    assert said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize(
    ("words", "match"),
    [
        (("replan", "--now", "25:00"), "clock time"),
        (("replan", "--now", "6:00"), "within the day"),
        (("replan", "--now", "9:00", "--late", "fill"), "names no step"),
        (("replan", "--now", "9:00", "--late", "a/fill=soon"), "--late"),
        (("replan", "--now", "9:00", "--late", "a/fill=-5min"), "--late"),
        (("replan", "--now", "9:00", "--late", "moon/fill=5min"), "no batch"),
        (("replan", "--now", "9:00", "--happened", "missing.json"), "missing.json"),
        (("why", "moon/fill"), "nothing called"),
        (("what-if", "--with", "garden.rows=3"), "no place"),
        (("odds", "--days", "7"), "100"),
    ],
)
def test_bad_words_are_answered_with_what_is_allowed(small_day, words, match):
    command, *rest = words
    said = run(command, small_day, *rest, "--seconds", "0.5")
    assert said.code == 2
    assert match in said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize("command", ["odds", "why", "what-if", "replan"])
def test_a_day_without_a_timetable_is_refused_or_told(tmp_path: Path, command):
    short = day(people=(person(goes=dt.time(9)),), shelf=(juice(bags=3), *stores()))
    file = tmp_path / "short.toml"
    file.write_text(write_day(short), encoding="utf-8")
    more = {
        "what-if": ("--with", "kitchen.counter=70"),
        "replan": ("--now", "8:30"),
    }.get(command, ())
    said = run(command, str(file), *more, "--seconds", "1")
    assert said.code == (0 if command == "what-if" else 3)
    missing = run(command, "nowhere.toml", *more, "--seconds", "1")
    assert missing.code == 2


def test_a_day_that_is_over_is_not_planned_again(small_day):
    """It said "done at 9:59, as before; nothing moves" an hour after that."""
    said = run("replan", small_day, *QUICK, "--now", "15:30")
    assert said.code == 3
    told = " ".join(said.err.split())
    assert "by 15:30 every step is done and every jar is out" in told
    assert "say with --late or --happened what is not done yet" in told
    late = ("--late", "plum jelly 1/wash_pot=8h")
    assert run("replan", small_day, *QUICK, "--now", "15:30", *late).code == 0
