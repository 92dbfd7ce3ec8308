"""What a file says of the day so far: no clock runs that nobody saw."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from planning.small_days import day, person, step, work
from planning.written_out import LID, at, closed, load

from stillroom.methods.step import Link
from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.happened import Happened
from stillroom.planning.timetable import PlacedBreak, Timetable
from stillroom.refusal import Unreadable

PROBLEM = day(closed("a"))
PLAN = Timetable(steps=(LID,), loads=(load(30),), breaks=())
"""The lid from 8:25 to 8:30; lowered then, at the boil 8:46, out from 9:01 to 9:05."""


def told(tmp_path: Path, now: int, **body: Any) -> Happened:
    file = tmp_path / "so_far.json"
    file.write_text(json.dumps(body), encoding="utf-8")
    return read_happened(file, PROBLEM, PLAN, now)


def test_a_boil_that_nobody_saw_has_started_no_clock(tmp_path: Path) -> None:
    """Lowered at 8:30, to boil at 8:46, and at 9:00 nobody has said that it does."""
    row = {"load": "load 1", "lowered": "8:30"}
    (one,) = told(tmp_path, 60, loads=[row], rest="not begun").loads
    assert (one.boil_min, one.done_min) == (60, 70)


@pytest.mark.parametrize(
    ("now", "started", "had"),
    [
        (60, "8:25", True),  # by the plan she sat down at 8:05, and lidded at 8:25
        (60, "8:10", False),  # she lidded while she was to sit
        (5, None, False),  # it was to begin now
        (6, None, True),  # she sits
    ],
)
def test_a_break_of_the_plan_was_had_where_the_rest_has_not_begun(
    tmp_path: Path, now: int, started: str | None, had: bool
) -> None:
    """No break can be told: each was given again, and the day ended later by it."""
    rest = PlacedBreak(person="p1", start_min=5, end_min=20)
    row = {"batch": "a", "step": "lid", "started": started, "person": "p1"}
    file = tmp_path / "so_far.json"
    body = {"steps": [row] if started else [], "rest": "not begun"}
    file.write_text(json.dumps(body), encoding="utf-8")
    found = read_happened(file, PROBLEM, replace(PLAN, breaks=(rest,)), now)
    assert found.breaks == ((rest,) if had else ())


def test_a_load_that_is_out_was_lifted_so_long_before(tmp_path: Path) -> None:
    row = {"load": "load 1", "lowered": "8:30", "boil": "8:46", "out": "9:30"}
    (one,) = told(tmp_path, 100, loads=[row], rest="not begun").loads
    assert (one.lift_min, one.out_min) == (86, 90)


def test_no_load_is_out_before_its_process_is_over(tmp_path: Path) -> None:
    row = {"load": "load 1", "lowered": "8:30", "boil": "8:46", "out": "8:58"}
    with pytest.raises(Unreadable, match="10 min of process"):
        told(tmp_path, 100, loads=[row], rest="not begun")


def test_what_was_begun_and_not_ended_runs_still(tmp_path: Path) -> None:
    row = {"batch": "a", "step": "lid", "started": "8:05"}
    (one,) = told(tmp_path, 20, steps=[row], rest="not begun").steps
    assert (one.start_min, one.end_min) == (5, 21)


@pytest.mark.parametrize(
    ("hours", "which"),
    [
        ({"started": "8:05", "finished": "8:30"}, "8:30"),
        ({"started": "8:25", "expected": "8:30"}, "8:25"),
    ],
)
def test_nothing_has_happened_after_now(
    tmp_path: Path, hours: dict[str, str], which: str
) -> None:
    with pytest.raises(Unreadable, match=f"'{which}' stands here; it lies after now"):
        told(tmp_path, 20, steps=[{"batch": "a", "step": "lid", **hours}])


def test_what_waited_for_a_late_step_went_after_it(tmp_path: Path) -> None:
    """The jars were closed ten minutes late, so the load went in as late."""
    row = {"batch": "a", "step": "lid", "started": "8:25", "finished": "8:40"}
    (one,) = told(tmp_path, 50, steps=[row]).loads
    assert one.lower_min == 40


@pytest.mark.parametrize(
    ("has", "who", "begun"),
    [(4, "Kid", {"mill"}), (4, "Ada", {"mill", "wash"}), (6, "Kid", {"mill", "wash"})],
)
def test_what_nobody_said_has_not_begun_where_hands_were_taken(
    tmp_path: Path, has: int, who: str, begun: set[str]
) -> None:
    """By the plan Kid washes by now; said was that Kid is at the mill."""
    kid = person("Kid", quarters=has)
    problem = day(
        work("a", step("mill", 30, 3)),
        work("b", step("wash", 10, 3)),
        people=(person("Ada"), kid),
    )
    plan = Timetable(
        steps=(at("a", "mill", 45, 75, "Ada"), at("b", "wash", 50, 60, "Kid")),
        loads=(),
        breaks=(),
    )
    row = {
        "batch": "a",
        "step": "mill",
        "started": "8:40",
        "expected": "9:30",
        "person": who,
    }
    file = tmp_path / "so_far.json"
    file.write_text(json.dumps({"steps": [row]}), encoding="utf-8")
    found = read_happened(file, problem, plan, 55).steps
    assert {s.step for s in found} == begun


@pytest.mark.parametrize(
    ("milled", "washed", "wrong"),
    [
        ("8:10", "8:20", False),
        ("8:20", "8:20", False),
        ("8:20", "8:10", True),  # cut after it was cooked
    ],
)
def test_what_comes_first_did_not_begin_after_the_other(
    tmp_path: Path, milled: str, washed: str, wrong: bool
) -> None:
    first_mill = (Link(before="mill", after="wash"),)
    problem = day(work("a", step("mill", 5, 3), step("wash", 5, 3), links=first_mill))
    plan = Timetable(
        steps=(at("a", "mill", 10, 15, "p1"), at("a", "wash", 20, 25, "p1")),
        loads=(),
        breaks=(),
    )
    rows = [
        {"batch": "a", "step": "mill", "started": milled},
        {"batch": "a", "step": "wash", "started": washed},
    ]
    file = tmp_path / "so_far.json"
    file.write_text(json.dumps({"steps": rows}), encoding="utf-8")
    if not wrong:
        assert len(read_happened(file, problem, plan, 55).steps) == 2
        return
    said = "it begins at 8:10, and mill, which comes before it, at 8:20; mend one"
    with pytest.raises(Unreadable, match=said):
        read_happened(file, problem, plan, 55)
