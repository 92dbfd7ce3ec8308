"""What was before something told is over, also where nobody told it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from planning.small_days import day, step, work
from planning.written_out import LID, at, closed, load

from stillroom.methods.step import Link
from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.happened import Happened
from stillroom.planning.timetable import Timetable

IN_ORDER = (
    Link(before="wash", after="boil", at_least_min=10, at_most_min=60),
    Link(before="wash", after="fill", at_most_min=60),
    Link(before="boil", after="fill", at_most_min=2),
)
JAM = day(
    work(
        "a", step("wash", 5, 3), step("boil", 20, 3), step("fill", 5, 3), links=IN_ORDER
    )
)
PLAN = Timetable(
    steps=(
        at("a", "wash", 25, 30, "p1"),
        at("a", "boil", 40, 60, "p1"),
        at("a", "fill", 60, 65, "p1"),
    ),
    loads=(),
    breaks=(),
)
"""Washed at 8:25, ten minutes to drain, boiled from 8:40 to 9:00, filled then."""


def read(tmp_path: Path, now: int, **body: Any) -> dict[str, tuple[int, int]]:
    file = tmp_path / "so_far.json"
    file.write_text(json.dumps(body), encoding="utf-8")
    found: Happened = read_happened(file, JAM, PLAN, now)
    return {s.step: (s.start_min, s.end_min) for s in found.steps}


def filled(began: str, ended: str) -> dict[str, str]:
    return {"batch": "a", "step": "fill", "started": began, "finished": ended}


@pytest.mark.parametrize("rest", ["as planned", "not begun"])
def test_what_is_filled_was_boiled_and_washed(tmp_path: Path, rest: str) -> None:
    """Filled at 8:50: boiled from 8:30, so washed by 8:20, ten minutes before."""
    found = read(tmp_path, 58, steps=[filled("8:50", "8:55")], rest=rest)
    assert found == {"wash": (15, 20), "boil": (30, 50), "fill": (50, 55)}


def test_what_was_over_by_then_stays_as_planned(tmp_path: Path) -> None:
    """Filled two minutes late, which it may wait: the boil went as planned."""
    found = read(tmp_path, 75, steps=[filled("9:02", "9:10")])
    assert found == {"wash": (25, 30), "boil": (40, 60), "fill": (62, 70)}


def test_what_is_filled_late_was_boiled_late(tmp_path: Path) -> None:
    """
    Filled twenty minutes late: nobody said that it stood in the pot until then.

    It may wait two minutes, so it boiled until 9:18. Washed jars may wait.
    """
    found = read(tmp_path, 85, steps=[filled("9:20", "9:25")])
    assert found == {"wash": (25, 30), "boil": (58, 78), "fill": (80, 85)}


def test_what_two_wait_for_waited_for_neither_too_long(tmp_path: Path) -> None:
    """Filled at 10:00: boiled until 9:58, and washed an hour before the filling."""
    found = read(tmp_path, 130, steps=[filled("10:00", "10:05")])
    assert found == {"wash": (55, 60), "boil": (98, 118), "fill": (120, 125)}


def test_what_came_at_once_after_came_at_once(tmp_path: Path) -> None:
    """And what two came after was over before the first of them."""
    problem = day(
        work(
            "a",
            step("boil", 10, 3),
            step("skim", 2, 3),
            step("taste", 2, 3),
            links=(
                Link(before="boil", after="skim", at_most_min=0),
                Link(before="boil", after="taste"),
            ),
        )
    )
    plan = Timetable(
        steps=(
            at("a", "boil", 10, 20, "p1"),
            at("a", "skim", 20, 22, "p1"),
            at("a", "taste", 22, 24, "p1"),
        ),
        loads=(),
        breaks=(),
    )
    file = tmp_path / "so_far.json"

    def boiled(**hours: str) -> int:
        rows = [
            {"batch": "a", "step": name, "started": hour, "finished": hour}
            for name, hour in hours.items()
        ]
        file.write_text(json.dumps({"steps": rows}), encoding="utf-8")
        return read_happened(file, problem, plan, 60).begun["a", "boil"].end_min

    assert boiled(skim="8:40") == 40
    assert boiled(skim="8:19", taste="8:15") == 15
    assert boiled(skim="8:15", taste="8:19") == 15


def test_what_was_told_to_stand_stood(tmp_path: Path) -> None:
    boil = {"batch": "a", "step": "boil", "started": "8:40", "finished": "9:00"}
    found = read(tmp_path, 85, steps=[boil, filled("9:20", "9:25")])
    assert found == {"wash": (25, 30), "boil": (40, 60), "fill": (80, 85)}


def test_what_was_told_stays_as_told(tmp_path: Path) -> None:
    """Filling began at 8:50 while the boil, told too, ran to 8:52."""
    boil = {"batch": "a", "step": "boil", "started": "8:35", "finished": "8:52"}
    found = read(tmp_path, 58, steps=[boil, filled("8:50", "8:55")])
    assert found == {"wash": (20, 25), "boil": (35, 52), "fill": (50, 55)}


def test_nothing_was_begun_before_the_day_but_what_was_told(tmp_path: Path) -> None:
    """Filled at 8:12: boiled in the twelve minutes that there were."""
    found = read(tmp_path, 20, steps=[filled("8:12", "8:17")])
    assert found == {"wash": (0, 0), "boil": (0, 12), "fill": (12, 17)}


def test_what_was_told_of_before_the_day_had_its_time(tmp_path: Path) -> None:
    """Filled at 7:55: boiled and washed before the day began, in no time of it."""
    found = read(tmp_path, 20, steps=[filled("7:55", "8:00")])
    assert found == {"wash": (-5, -5), "boil": (-5, -5), "fill": (-5, 0)}


@pytest.mark.parametrize("rest", ["as planned", "not begun"])
def test_jars_in_the_canner_are_closed(tmp_path: Path, rest: str) -> None:
    """Lowered at 8:20, ten minutes before the plan: the lids were on by then."""
    file = tmp_path / "so_far.json"
    row = {"load": "load 1", "lowered": "8:20", "boil": "8:35"}
    file.write_text(json.dumps({"loads": [row], "rest": rest}), encoding="utf-8")
    plan = Timetable(steps=(LID,), loads=(load(30),), breaks=())
    (lid,) = read_happened(file, day(closed("a")), plan, 40).steps
    assert (lid.start_min, lid.end_min) == (15, 20)
