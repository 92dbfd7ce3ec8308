"""A day without a plan from the command line: the no, and what is shown then."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from stillroom.methods.step import Skill
from stillroom.planning.day import Want
from stillroom.planning.day_file.dayfile_write import write_day
from tests.cli.running import run
from tests.kitchens import day, juice, kitchen, person, stores

NO_LIFT = frozenset({Skill.COLD, Skill.KNIFE, Skill.PAN})
MARK = "it is no plan of this day: do not begin it as it stands"
WITH_NONE = replace(kitchen().canners[0], places={"half-pint": 0})


def written(tmp_path: Path, **changes: object) -> str:
    file = tmp_path / "day.toml"
    file.write_text(write_day(day(**changes)), encoding="utf-8")
    return str(file)


@pytest.mark.parametrize(
    ("changes", "reason", "says"),
    [
        (
            {"people": (person(can=NO_LIFT),)},
            "nobody that day lifts hot jars",
            "if another grown-up came who lifts hot jars",
        ),
        (
            {"people": (person(can=NO_LIFT), person("Bo", goes=dt.time(9)))},
            "Bo leaves at 9:00, and nobody else lifts hot jars after that",
            "if ",
        ),
        (
            {"ends": dt.time(9), "people": (person(goes=dt.time(9)),)},
            "batches of plum jelly take",
            "if the day could run on until ",
        ),
        (
            {"kitchen": kitchen(counter_places=0)},
            "the counter has room for none",
            "if there were room for 16 more jars to cool",
        ),
        (
            {"kitchen": kitchen(canners=(WITH_NONE,))},
            "no boiling-water canner here takes half-pint jars",
            "if there were another boiling-water canner on a fire of its own",
        ),
    ],
)
def test_a_no_comes_with_its_reason_and_a_plan_that_is_marked(
    tmp_path, changes, reason, says
):
    file = written(tmp_path, **changes)
    asked = ("plan", file, "--seconds", "2")
    said = run(*asked)
    assert said.code == 3
    words = " ".join(said.out.split())
    assert reason in words
    # once is enough; one want alone is short
    told = "why not is said above" in said.err
    assert (reason in said.err) is not told
    assert told or "no batch can be made" in said.err
    assert f"{says}" in words
    assert words.lower().count(MARK) == 2  # before it and behind it
    told = run(*asked, "--json")
    assert told.code == 3
    assert reason in told.json["refusal"]["reason"]
    like = told.json["plan_if"]
    assert like["fits_this_day"] is False
    assert like["mark"] == MARK
    assert like["steps"]
    assert like["loads"]


def test_the_plan_of_a_longer_day_is_printed_where_it_is_asked_for(tmp_path):
    many = Want(product="plum jelly", jars=70, jar="half-pint")
    shelf = (juice(bags=30), *stores())
    file = tmp_path / "day.toml"
    file.write_text(
        write_day(day(many, shelf=shelf, ends=dt.time(10))), encoding="utf-8"
    )
    asked = ("plan", str(file), "--seconds", "1")
    short, whole = run(*asked), run(*asked, "--run-on")
    assert short.code == whole.code == 0
    assert "With --run-on it is printed." in short.out
    assert MARK not in " ".join(short.out.lower().split())
    assert " ".join(whole.out.lower().split()).count(MARK) == 2
    told = run(*asked, "--json").json["too_much"]["plan_if"]
    assert told["fits_this_day"] is False
    assert told["says"].startswith("if the day could run on until ")


@pytest.mark.parametrize("seconds", ["0", "0.01"])
def test_no_time_for_a_search_gives_the_plan_by_hand(tmp_path, seconds):
    said = run("plan", written(tmp_path), "--seconds", seconds)
    assert said.code == 0
    by_hand = f"{seconds} s is no time for a search: this is the plan by hand."
    assert said.out.count(by_hand) == 1
    assert run(
        "plan", written(tmp_path), "--seconds", seconds, "--json"
    ).json["made_by"] == "by hand"  # fmt: skip


@pytest.mark.parametrize("seconds", ["nan", "-1", "inf", "soon", "4000"])
def test_what_is_no_time_is_refused_with_what_is(tmp_path, seconds):
    said = run("plan", written(tmp_path), f"--seconds={seconds}")
    assert said.code == 2
    assert "--seconds" in said.err
    assert f"{seconds} is no" in said.err
    assert "give 0 to 3600, such as 8" in said.err


def test_a_day_without_a_plan_has_its_reasons_first_and_nothing_is_thawed(tmp_path):
    """Juice that thaws for a day which cannot be is spoiled."""
    file = written(tmp_path, people=(person(can=NO_LIFT),))
    said = run("plan", file, "--seconds", "1").out
    if_made = "What would be left over if all of it were made"
    assert if_made in said
    assert "freezer" not in said.partition(if_made)[0]
    assert "The evening before" not in said
    assert "\nAfterwards\n" not in said
    assert said.index("Why no timetable fits") < said.index("What was to be made")
    good = tmp_path / "good"
    good.mkdir()
    fits = run("plan", written(good), "--seconds", "1").out
    assert "The evening before" in fits
    assert "\nAfterwards\n" in fits
    assert "\nBatches\n" in fits
