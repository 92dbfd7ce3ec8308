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
