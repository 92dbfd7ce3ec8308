"""``stillroom plan`` and ``stillroom day``: a file in, a whole day out."""

import datetime as dt
import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from stillroom.methods.kitchen import Canner, CannerKind
from stillroom.planning.cpsat import search as counted
from stillroom.planning.day import Lot, Rest, Want
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.day_file.dayfile_write import write_day
from tests.cli.running import run
from tests.kitchens import day, juice, kitchen, person, stores

CLOCK_LINE = r"^ +\d?\d:\d\d-\d?\d:\d\d "


@pytest.fixture(scope="module")
def small_day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("day") / "day.toml"
    file.write_text(write_day(day()), encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def planned(small_day):
    said = run("plan", str(small_day), "--seconds", "3", "--json")
    assert said.code == 0, said.err
    return said.json


def test_the_headspace_stands_where_the_jars_are_filled(small_day):
    said = run("plan", str(small_day), "--seconds", "1").out
    lines = re.sub(r"\n {15,}", " ", said).splitlines()  # what goes on beneath
    filled = [line for line in lines if re.match(rf"{CLOCK_LINE}.* Fill \d", line)]
    assert filled
    assert all("1/4 in (6 mm) headspace in each" in line for line in filled)


def test_the_plan_by_hand_is_shown_beside_step_by_step(small_day, planned):
    """It has the same steps, ends when it is said to, and is marked as the other."""
    beside = planned["by_hand"]
    assert {(s["batch"], s["id"]) for s in beside["steps"]} == {
        (s["batch"], s["id"]) for s in planned["steps"]
    }
    ends = [s["end_min"] for s in beside["steps"]]
    ends += [load["out_min"] for load in beside["loads"]]
    assert max(ends) == planned["by_hand_min"]
    said = run("plan", str(small_day), "--seconds", "1", "--by-hand").out
    plan, by_hand = said.split("By hand, one batch after another")
    assert "Only to compare with" in by_hand
    lines = [re.findall(CLOCK_LINE, part, re.MULTILINE) for part in (plan, by_hand)]
    assert len(lines[0]) == len(lines[1]) >= len(beside["steps"])


def test_the_pressure_of_a_load_is_printed_beside_its_minutes(tmp_path: Path):
    """Beans at 7,800 ft in a dial-gauge canner: 20 min at 14 psi (MSU 01600883)."""
    beans = Lot(name="beans", what="green beans", mass_kg=4.6)
    dial = Canner(
        name="dial",
        kind=CannerKind.DIAL_GAUGE,
        stands_on=("front right",),
        places={"pint": 9},
    )
    today = day(
        Want(product="green beans", jars=9, jar="pint"),
        shelf=(beans, *stores()),
        kitchen=kitchen(elevation_m=7_800 * 0.3048, canners=(dial,)),
    )
    file = tmp_path / "beans.toml"
    file.write_text(write_day(today), encoding="utf-8")
    said = run("plan", str(file), "--seconds", "1")
    assert said.code == 0, said.err
    assert re.search(r"load 1 +dial +in .* 14 psi \d.* 20 min at 14 psi: 9", said.out)
    assert "20 min at 14 psi for pint jars of green beans: Michigan" in said.out
    assert re.search(r"Process 20 min at 14 psi \(stay in the kitchen\)", said.out)
    assert re.search(r"Vent: 10 min of steady steam \(stay in the kitchen\)", said.out)
    assert "Fire off: do not touch, 30 min" in said.out
    as_json = run("plan", str(file), "--seconds", "1", "--json").json
    (load,) = as_json["loads"]
    assert (load["jar"], load["pressure_psi"]) == ("pint", 14.0)


def test_a_break_after_all_work_is_left_off_what_is_printed(tmp_path: Path):
    """One batch is over at nine or so; one rest is before that, one after it."""
    for start, shown in ((8, True), (12, False)):
        rest = Rest(minutes=20, earliest=dt.time(start), latest=dt.time(start, 30))
        want = Want(product="plum jelly", jars=8, jar="half-pint")
        today = day(want, people=(person(breaks=(rest,)),))
        file = tmp_path / f"{start}.toml"
        file.write_text(write_day(today), encoding="utf-8")
        said = run("plan", str(file), "--seconds", "1")
        assert said.code == 0, said.err
        assert (" Break " in said.out) == shown


def test_the_contract(planned):
    assert {
        "starts_at", "makespan_min", "lower_bound_min", "lower_bound_why", "gap",
        "lower_bound_of", "by_hand_min", "solve_s",
        "batches", "steps", "loads", "shopping", "unmet", "cautions",
    } <= set(planned)  # fmt: skip
    assert set(planned["batches"][0]) >= {
        "id", "product", "multiple", "pot", "inputs", "expected", "source",
    }  # fmt: skip
    assert set(planned["steps"][0]) == {
        "id", "batch", "verb", "start_min", "end_min", "hands", "tools",
    }  # fmt: skip
    assert set(planned["loads"][0]) == {
        "id", "name", "canner", "jar", "process_min", "pressure_psi", "source",
        "hands", "loaded_min", "boil_min", "out_min", "jars",
    }  # fmt: skip
    ids = [step["id"] for step in planned["steps"]]
    assert len(ids) == len(set(ids))


def test_a_program_calls_a_load_as_the_sheet_does(planned):
    """By the number of its boil, whatever the order of the list."""
    boils = sorted(planned["loads"], key=lambda load: load["boil_min"])
    assert [load["name"] for load in boils] == [
        f"load {n + 1}" for n in range(len(boils))
    ]


def test_the_same_file_gives_the_same_plan_again(small_day):
    asked = ("plan", str(small_day), "--seconds", "1", "--json")
    first, again = run(*asked).json, run(*asked, "--repeatable").json
    assert first.pop("solve_s") > 0
    assert again.pop("solve_s") > 0
    assert first == again


@pytest.mark.parametrize(
    "command", ["plan", "odds", "why", "what-if", "sheet", "replan"]
)
def test_on_a_machine_too_slow_it_is_said_that_a_run_may_differ(
    small_day, tmp_path, monkeypatch, command
):
    asked = [command, str(small_day), "--seconds", "0.5"]
    asked += {
        "odds": ["--no-one-more", "--days", "100"],
        "what-if": ["--with", "kitchen.counter=90"],
        "sheet": ["--out", str(tmp_path / "day.pdf")],
        "replan": ["--now", "8:30"],
    }.get(command, [])
    assert "too slow" not in run(*asked).out
    monkeypatch.setattr(counted, "AT_LAST", 0.0)
    monkeypatch.setattr(counted, "LEAST_AT_LAST_S", 0.0)
    said = " ".join(run(*asked).out.split())
    assert "another run may come to another plan" in said
    if command == "plan":
        assert any("too slow" in r for r in run(*asked, "--json").json["remarks"])


def test_by_the_clock_is_asked_for_by_name(small_day):
    asked = ("plan", str(small_day), "--seconds", "1")
    assert run(*asked, "--by-the-clock", "--json").json["steps"]
    both = run(*asked, "--by-the-clock", "--repeatable")
    assert both.code == 2
    assert "leave one out" in both.err


def test_nobody_gives_more_than_four_quarters(planned):
    """From the printed contract alone: steps, and hands at the canner."""
    spans = [
        (hand["person"], hand["quarters"], step["start_min"], step["end_min"])
        for step in planned["steps"]
        for hand in step["hands"]
    ] + [
        (hand["person"], hand["quarters"], hand["start_min"], hand["end_min"])
        for load in planned["loads"]
        for hand in load["hands"]
    ]
    for name in {who for who, *_ in spans}:
        for minute in range(planned["makespan_min"]):
            given = sum(q for who, q, a, b in spans if who == name and a <= minute < b)
            assert given <= 4


def test_the_figures_agree_with_one_another(planned):
    last = max(
        [s["end_min"] for s in planned["steps"]]
        + [load["out_min"] for load in planned["loads"]]
    )
    assert planned["makespan_min"] == last
    assert planned["lower_bound_min"] <= last <= planned["by_hand_min"]
    assert planned["gap"] == pytest.approx(
        (last - planned["lower_bound_min"]) / last, abs=1e-3
    )


def test_every_jar_goes_through_its_published_process(planned):
    made = {b["id"]: b["expected"]["jars"] for b in planned["batches"]}
    canned: dict[str, int] = {}
    for load in planned["loads"]:
        # USDA Complete Guide, Guide 7: jelly at 1,001 to 6,000 ft takes 10 min.
        assert load["process_min"] == 10
        assert "USDA" in load["source"]
        assert load["out_min"] >= load["boil_min"] + 10 + 5
        for jars in load["jars"]:
            canned[jars["batch"]] = canned.get(jars["batch"], 0) + jars["count"]
    assert canned == made


def test_the_terminal_form_begins_with_what_matters(small_day):
    said = run("plan", str(small_day), "--seconds", "3")
    assert said.code == 0
    head = " ".join(said.out.split())[:300]
    assert "jars in 2 batches, done by" in head
    assert "\x1b" not in said.out  # no colour outside a terminal


def test_what_may_become_of_the_rest_is_a_sentence(small_day):
    """Juice for three batches, and two are wanted."""
    said = " ".join(run("plan", str(small_day), "--seconds", "0").out.split())
    rest = re.search(r"Left over - \w+ plum juice: [^.]*\. (\w+)", said)
    assert rest is not None, said
    assert rest[1] == "Plum"


def test_an_empty_shelf_is_said(tmp_path):
    file = tmp_path / "empty.toml"
    text = demo_day_text()
    file.write_text(text[: text.index("[[shelf]]")], encoding="utf-8")
    said = run("plan", str(file))
    assert said.code == 2
    assert "shelf" in said.err


def test_wants_that_nothing_serves_are_refused_with_each_reason(tmp_path):
    file = tmp_path / "none.toml"
    wanting = day(
        Want(product="quince jelly", jars=6, jar="half-pint"),
        Want(product="plum jelly", jars=6, jar="quart"),
    )
    file.write_text(write_day(wanting), encoding="utf-8")
    said = run("plan", str(file), "--json")
    assert said.code == 3


def test_a_day_too_short_names_what_clashes(tmp_path):
    short = day(people=(person(goes=dt.time(9)),), shelf=(juice(bags=3), *stores()))
    file = tmp_path / "short.toml"
    file.write_text(write_day(short), encoding="utf-8")
    said = run("plan", str(file), "--seconds", "3")
    assert said.code == 3
    assert "Ada" in said.out.partition("Why no timetable fits")[2]
    assert "Instead:" in said.err


@pytest.mark.parametrize(
    ("name", "content", "match"),
    [
        ("missing.toml", None, "missing.toml"),
        ("broken.toml", b"[day\nname=", "line"),
        ("binary.toml", bytes(range(256)), "binary.toml"),
        ("other.toml", b"[garden]\nrows = 3\n", "garden"),
        ("empty.toml", b"", ""),
    ],
)
def test_files_that_are_no_day(tmp_path, name, content, match):
    file = tmp_path / name
    if content is not None:
        file.write_bytes(content)
    for words in (("plan", str(file)), ("day", "check", str(file))):
        said = run(*words)
        assert said.code == 2
        assert match in said.err
        assert "Traceback" not in said.err


def test_a_file_of_50_mb_is_refused_unread(tmp_path):
    file = tmp_path / "huge.toml"
    with file.open("wb") as out:
        out.truncate(50_000_000)
    said = run("plan", str(file))
    assert said.code == 2
    assert "MB" in said.err or "large" in said.err


def test_day_new_writes_a_day_that_checks(tmp_path):
    file = tmp_path / "mine.toml"
    assert run("day", "new", str(file)).code == 0
    assert run("day", "check", str(file)).code == 0
    assert read_day(file).wants


def test_day_new_leaves_a_file_alone(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text("mine", encoding="utf-8")
    said = run("day", "new", str(file))
    assert said.code == 2
    assert "left as it is" in said.err
    assert file.read_text(encoding="utf-8") == "mine"


def test_day_check_names_line_and_key(tmp_path):
    file = tmp_path / "day.toml"
    text = demo_day_text().replace('power = "3 kW"', 'power = "three"')
    file.write_text(text, encoding="utf-8")
    line = 1 + text[: text.index('power = "three"')].count("\n")
    said = run("day", "check", str(file))
    assert said.code == 2
    assert f"line {line}" in said.err
    assert "power" in said.err
    assert "three" in said.err


def test_json_is_one_object_and_nothing_else(planned):
    assert json.loads(json.dumps(planned)) == planned


def test_what_was_solved_stands_apart_from_what_is_only_advised(capsys):
    from stillroom.cli.contracts import too_much_as_json
    from stillroom.cli.plan_text import print_no_plan
    from stillroom.planning.timetable import NoPlan, Timetable, WayOut

    way = WayOut(
        says="it fits if the day ends 7 min later, at 9:07",
        cost_min=7,
        finish_min=67,
        done_by="9:07",
        timetable=Timetable(steps=(), loads=(), breaks=()),
        typed="day.ends=09:07",
    )
    none = NoPlan(
        clashes=("no plan was found in 8 s",),
        minimal=False,
        would_help=(way.says, "allow more than 8 s for the search"),
        ways_out=(way,),
        why_fewer="nothing else was found",
    )
    said = too_much_as_json(none)
    assert [w["with"] for w in said["ways_out"]] == ["day.ends=09:07"]
    assert said["advice"] == ["allow more than 8 s for the search"]
    assert "would_help" not in said
    print_no_plan(none)
    tried, _, rest = (
        capsys.readouterr()
        .out.partition("each tried")[2]
        .partition("Nothing else was found.")
    )
    assert "- it fits if the day ends" in tried
    assert "Not tried, and may help: allow more than 8 s for the search." in rest
    assert "allow more" not in tried


def test_what_is_due_in_another_year_says_so(tmp_path: Path):
    """Frozen beans of this August are used up by the next: the year was left out."""
    beans = Lot(name="beans", what="green beans", mass_kg=4.6)
    today = day(
        Want(product="frozen green beans", jars=6, jar="pint"),
        shelf=(beans, *stores()),
    )
    file = tmp_path / "day.toml"
    file.write_text(write_day(today), encoding="utf-8")
    said = run("plan", str(file), "--seconds", "0").out
    due = [line for line in said.splitlines() if "Use up the frozen" in line]
    assert len(due) == 1
    assert f" {today.date.year + 1}, " in due[0]
    stack = [line for line in said.splitlines() if "Frozen hard" in line]
    assert str(today.date.year) not in stack[0]


def test_of_two_days_the_one_that_cannot_be_planned_is_named(small_day, tmp_path):
    """The second has no juice on its shelf."""
    first = read_day(small_day)
    second = replace(
        first,
        name="The day after",
        date=first.date + dt.timedelta(days=1),
        shelf=stores(),
    )
    file = tmp_path / "second.toml"
    file.write_text(write_day(second), encoding="utf-8")
    said = run("plan", str(small_day), str(file), "--seconds", "0")
    assert said.code == 3
    assert said.err.startswith("Refused: The day after: no batch can be made: ")
