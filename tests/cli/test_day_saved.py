"""A changed day is taken over as a day file of its own; no file is written over."""

import tomllib
from pathlib import Path

import pytest

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from tests.cli.running import run

QUICK = ("--seconds", "0.5")
CHANGE = ("--with", "kitchen.counter=70")


@pytest.mark.parametrize("command", ["plan", "what-if"])
def test_the_changed_day_is_written_and_its_plan_is_shown(command, small):
    new = small.with_name("new.toml")
    said = run(command, str(small), *CHANGE, "--save", str(new), *QUICK)
    assert said.code == 0
    assert "By the clock" in said.out
    assert f"Wrote {new}" in " ".join(said.out.split())
    assert read_day(new).kitchen.counter_places == 70
    assert small.read_text(encoding="utf-8") == new_day_text()
    # remarks and all else stay as they are
    same = set(new_day_text().splitlines()) - set(new.read_text().splitlines())
    assert [line.split()[0] for line in same] == ["counter"]


@pytest.mark.parametrize("command", ["plan", "what-if"])
def test_a_file_that_is_there_is_written_over_only_where_that_is_said(command, small):
    said = run(command, str(small), *CHANGE, "--save", str(small), *QUICK)
    assert said.code == 2
    assert "is there already and was left as it is" in " ".join(said.err.split())
    assert small.read_text(encoding="utf-8") == new_day_text()
    said = run(
        command, str(small), *CHANGE, "--save", str(small), "--overwrite", *QUICK
    )
    assert said.code == 0
    assert read_day(small).kitchen.counter_places == 70
    before = small.with_name("day.toml.before")
    assert before.read_text(encoding="utf-8") == new_day_text()
    # saved over again: what was there first is still there
    run(command, str(small), *CHANGE, "--save", str(small), "--overwrite", *QUICK)
    assert before.read_text(encoding="utf-8") == new_day_text()
    assert read_day(small.with_name("day.toml.before-2")).kitchen.counter_places == 70


def test_what_a_saved_day_has_no_room_for_is_shown_with_its_reason(small):
    """The counter takes eight of sixteen jars; the heading stood over nothing."""
    new = small.with_name("new.toml")
    change = ("--with", "kitchen.counter=8")
    said = run("what-if", str(small), *change, "--save", str(new), *QUICK)
    assert said.code == 0, said.err
    shown = said.out.split("This is its plan.")[1]
    why = " ".join(shown.split("Why not all of it fits")[1].split())
    assert why.startswith("- 16 jars are to cool for 24 h; the counter has room for 8")


def test_a_folder_that_is_not_there_is_said_before_the_search(small):
    nowhere = small.with_name("none") / "new.toml"
    said = run("what-if", str(small), *CHANGE, "--save", str(nowhere), *QUICK)
    assert said.code == 2
    assert "there is no folder" in " ".join(said.err.split())
    assert said.out == ""


@pytest.mark.parametrize("command", ["plan", "what-if"])
def test_a_day_without_a_timetable_is_not_written(command, small):
    new = small.with_name("new.toml")
    starts = tomllib.loads(new_day_text())["day"]["starts"]
    short = f"day.ends={int(starts[:2])}:20"
    names = [p["name"] for p in tomllib.loads(new_day_text())["people"]]
    change = "; ".join(
        [short, *(f"people.{n}.goes={int(starts[:2])}:20" for n in names)]
        + [f"people.{n}.breaks=nothing" for n in names]
        + [f"people.{n}.comes={starts}" for n in names]
        + ["day.done_by=nothing"]
    )
    said = run(command, str(small), "--with", change, "--save", str(new), *QUICK)
    assert said.code == 3, said.err
    assert not new.exists()


def test_one_day_of_several_is_not_guessed(small):
    new = small.with_name("new.toml")
    two = (*CHANGE, "--with", "kitchen.counter=80", "--save", str(new))
    said = run("what-if", str(small), *two, *QUICK)
    assert said.code == 2
    assert "2 days are compared, and one can be saved" in " ".join(said.err.split())
    assert not new.exists()
    said = run("plan", str(small), "--save", str(new), *QUICK)
    assert said.code == 2
    assert "give --with CHANGE" in " ".join(said.err.split())


def test_a_plan_of_a_changed_day_needs_no_file(small):
    said = run("plan", str(small), "--with", "day.name=Otherwise", *QUICK)
    assert said.code == 0
    assert said.out.strip().startswith("Otherwise, ")
    said = run("plan", str(small), "--with", "garden.rows=3", *QUICK)
    assert said.code == 2
    assert "is no place in a day file" in " ".join(said.err.split())


NOBODY_WRITES_IN = Path("/proc")


@pytest.mark.skipif(not NOBODY_WRITES_IN.is_dir(), reason="every folder may be written")
@pytest.mark.parametrize(
    "words", [("plan", *CHANGE, "--save"), ("what-if", *CHANGE, "--save")]
)
def test_where_nobody_may_write_is_said_before_the_search(words, small):
    command, *change = words
    said = run(command, str(small), *change, str(NOBODY_WRITES_IN / "new.toml"), *QUICK)
    assert said.code == 2
    assert "--save: /proc/new.toml cannot be written" in said.err
    assert said.out == ""


@pytest.mark.skipif(not NOBODY_WRITES_IN.is_dir(), reason="every folder may be written")
def test_where_no_sheet_can_be_written_is_said_before_the_search(small):
    """A day with a fault: that would be said first if the search came first."""
    small.write_text("[day]", encoding="utf-8")
    said = run("sheet", str(small), "--out", str(NOBODY_WRITES_IN / "day.pdf"))
    assert "--out: /proc/day.pdf cannot be written" in said.err


def test_a_name_that_is_too_long_is_said_in_words(small):
    for words in (
        ("plan", str(small), *CHANGE, "--save", f"{'n' * 300}.toml"),
        ("sheet", str(small), "--out", f"{'n' * 300}.pdf"),
        ("stock", "--db", f"{'n' * 300}.db"),
    ):
        said = run(*words)
        assert said.code == 2
        assert "File name too long" in said.err
        assert len(said.err.splitlines()) == 1


def test_another_run_that_writes_the_same_file_is_not_disturbed(small):
    theirs = small.with_name(".new.toml.part")
    theirs.write_text("half of it", encoding="utf-8")
    new = small.with_name("new.toml")
    run("plan", str(small), *CHANGE, "--save", str(new), "--seconds", "0")
    assert read_day(new).kitchen.counter_places == 70
    assert theirs.read_text(encoding="utf-8") == "half of it"
    assert {f.name for f in small.parent.iterdir()} == {
        "day.toml",
        "new.toml",
        ".new.toml.part",
    }
