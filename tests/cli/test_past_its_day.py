"""``day check`` names what was to be used before the day, and by how much."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from stillroom.planning.day_file.dayfile import write_day
from tests.cli.running import run
from tests.kitchens import day, juice, stores


def checked(tmp_path: Path, use_by: dt.date) -> str:
    lot = replace(juice(), use_by=use_by)
    file = tmp_path / "day.toml"
    file.write_text(write_day(day(shelf=(lot, *stores()))), encoding="utf-8")
    said = run("day", "check", str(file))
    assert said.code == 0
    return " ".join(said.out.split())


def test_a_juice_of_six_years_ago_is_not_passed_over(tmp_path: Path):
    """It said "no fault found" and no word of it."""
    said = checked(tmp_path, dt.date(2020, 1, 1))
    assert (
        "to be used by 1 January 2020, and that day is past by more than 6 years"
        in (said)
    )
    assert "discard what is doubtful" in said


def test_what_may_be_used_until_the_day_itself_is_not_named(tmp_path: Path):
    assert "past" not in checked(tmp_path, day().date)
