"""What is said of a number, a moment or a temperature, and how wide it is set."""

from importlib import import_module

import click
import pytest

from stillroom.cli.main import COMMANDS
from stillroom.planning.day_file.dayfile import write_day
from tests.cli.running import run
from tests.kitchens import day, juice, person, stores


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("odds", "day.toml", "--days", "0"),
            "'0' is no whole number from 100 to",
        ),
        (("odds", "day.toml", "--days", "few"), "'few' is no whole number from 100"),
        (("demo-year", "--seed", "-1"), "'-1' is no whole number from 0 on"),
        (
            ("remake", "--jars", "8", "--filled", "yesterday"),
            "'yesterday' is no day with its hour; write 2026-09-01T15:10",
        ),
        (
            ("remake", "--jars", "8", "--filled", "2026-11-27"),
            "'2026-11-27' does not say at which hour",
        ),
    ],
)
def test_what_is_no_number_or_moment_is_refused_in_words(words, said):
    answer = run(*words)
    assert answer.code == 2
    assert said in answer.err


def test_who_reads_celsius_is_told_where_to_begin_the_sheet_test():
    said = " ".join(
        run("jelly-point", "--elevation", "2300m", "--thermometer", "92C").out.split()
    )
    assert "Begin the sheet test at 202 °F (94 °C)" in said
    said = " ".join(
        run("thermometer", "--elevation", "2300m", "--boil", "92C").out.split()
    )
    assert "begin the sheet test at 202 °F (94 °C)" in said


@pytest.mark.parametrize("across", [60, 100])
def test_a_plan_is_no_wider_than_the_terminal(across, tmp_path, monkeypatch):
    monkeypatch.setenv("COLUMNS", str(across))
    file = tmp_path / "day.toml"
    two = day(
        shelf=(juice("plum juice", 14), *stores()),
        people=(person("Ada"), person("Bartholomew")),
    )
    file.write_text(write_day(two), encoding="utf-8")
    said = run("plan", str(file), "--seconds", "0", "--by-hand").out
    assert "do not leave it" in said
    assert max(map(len, said.splitlines())) <= across
    hanging = next(
        after
        for line, after in zip(said.splitlines(), said.splitlines()[1:], strict=False)
        if "Light the canner" in line
    )
    assert hanging.startswith(" " * 27)


def options():
    for name, (module, _) in COMMANDS.items():
        command = import_module(f"stillroom.cli.commands.{module}").command
        inner = command.commands if isinstance(command, click.Group) else {}
        for said, one in ((name, command), *inner.items()):
            yield from ((said, p) for p in one.params if isinstance(p, click.Option))


def test_each_option_says_what_it_is_for_and_its_bounds_in_words():
    told = list(options())
    assert len(told) > 100
    assert not [(name, o.opts) for name, o in told if not o.help]
    said = run("odds", "--help").out + run("stock", "soon", "--help").out
    assert "<=x" not in said
    assert "from 100 to 200,000" in said
