"""``stillroom remake``: by which clock a soft jelly is told to wait."""

import datetime as dt

import pytest

from stillroom.cli.commands import remake
from tests.cli.running import run

EAST = dt.timezone(dt.timedelta(hours=2))


def test_hours_are_counted_by_the_clock_of_the_kitchen(monkeypatch: pytest.MonkeyPatch):
    # It is read where every command reads it, and typed hours are that clock's own.
    at = dt.datetime(2026, 11, 2, 8, 0, tzinfo=EAST)
    monkeypatch.setattr(remake, "kitchen_clock", lambda: at)
    said = run("remake", "--jars", "8", "--filled", "2026-11-01 20:00", "--json").json
    assert said["hours"] == 12
    assert said["do"] == "wait"
    later = ("--now", "2026-11-01 23:00", "--json")
    said = run("remake", "--jars", "8", "--filled", "2026-11-01 20:00", *later).json
    assert said["hours"] == 3


def test_the_lemon_juice_of_a_remake_is_said_to_be_bottled_wherever_it_is_named():
    asked = ("--filled", "2026-08-20T15:10", "--now", "2026-08-27T09:00")
    said = " ".join(run("remake", "--jars", "20", *asked).out.split())
    assert said.count("bottled lemon juice") == 3  # the trial, a batch, in all


def test_who_writes_metric_is_told_of_a_remake_in_litres_with_the_print_beside():
    """The cups came first, and millilitres behind."""
    asked = ("--filled", "2026-08-20T15:10", "--now", "2026-08-27T09:00")
    lines = run("remake", "--jars", "8", *asked, "--elevation", "655m").out
    said = " ".join(lines.split())
    assert "first 237 mL (1 cup) as a trial" in said
    assert "2 batches of 828 mL (3 1/2 cups)" in said
    assert "828 mL 3 1/2 cups soft jelly" in said
    assert "1 tbsp 13 g sugar" in said  # a spoon stays a spoon
    assert "In all: 100 g sugar (1/2 cup), 237 mL (1 cup) water" in said
    assert "60 mL (1/4 cup) bottled lemon juice" in said  # of acid never less
    in_cups = run("remake", "--jars", "8", *asked, "--elevation", "2150ft").out
    assert "first 1 cup as a trial" in " ".join(in_cups.split())
    assert "3 1/2 cups 830 mL soft jelly" in " ".join(in_cups.split())
