"""What was in the only pot was out of it when another came there, told or not."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import pytest
from planning.small_days import day, jelly, step, work
from planning.written_out import at

from stillroom.methods.step import Link
from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.happened_file import read_happened
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Happened, Key
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Batch, Problem
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import PlacedStep, Timetable


def jam(name: str) -> Batch:
    """Boiled, filled and the pot washed, in a big pot; the lids on soon after."""
    links = (
        Link(before="boil", after="fill", at_most_min=2),
        Link(before="fill", after="lid", at_most_min=5),
        Link(before="fill", after="wash"),
    )
    return work(
        name,
        step("boil", 20, 2, in_pot=True),
        step("fill", 5, 4, in_pot=True),
        step("lid", 4, 3),
        step("wash", 6, 3, in_pot=True),
        links=links,
        pots=("big",),
    )


def turns(*pots: str) -> Timetable:
    """One after the other: boiled at 8:00 and at 8:40, each in its pot."""
    steps: list[PlacedStep] = []
    for name, pot, start in zip("ab", pots, (0, 40), strict=True):
        steps += [
            at(name, "boil", start, start + 20, "p1", pot=pot),
            at(name, "fill", start + 20, start + 25, "p1", pot=pot),
            at(name, "lid", start + 25, start + 29, "p1"),
            at(name, "wash", start + 30, start + 36, "p1", pot=pot),
        ]
    return Timetable(steps=tuple(steps), loads=(), breaks=())


def read(
    tmp_path: Path, problem: Problem, plan: Timetable, now: int, *rows: dict[str, Any]
) -> Happened:
    file = tmp_path / "so_far.json"
    file.write_text(json.dumps({"steps": rows, "rest": "not begun"}), encoding="utf-8")
    return read_happened(file, problem, plan, now)


def row(name: str, what: str, started: str, **more: str) -> dict[str, Any]:
    return {"batch": name, "step": what, "started": started, **more}


BOILED_A = row("a", "boil", "8:00", finished="8:20")
BOILS_B = row("b", "boil", "8:45", expected="9:05")


def spans(found: Happened) -> dict[Key, tuple[int, int]]:
    return {(s.batch, s.step): (s.start_min, s.end_min) for s in found.steps}


def test_of_the_only_pot_the_first_was_filled_and_the_pot_washed(
    tmp_path: Path,
) -> None:
    """The second boils since 8:45: by then the first was out, and the pot clean."""
    found = read(
        tmp_path,
        day(jam("a"), jam("b")),
        turns("big-1", "big-1"),
        50,
        BOILED_A,
        BOILS_B,
    )
    assert spans(found) == {
        ("a", "boil"): (0, 20),
        ("a", "fill"): (20, 25),
        ("a", "wash"): (30, 36),
        ("b", "boil"): (45, 65),
    }  # the lids of the first have not begun, as was said


def test_where_another_pot_is_free_the_first_is_in_its_own(tmp_path: Path) -> None:
    problem = day(jam("a"), jam("b"), big_pots=2)
    found = read(tmp_path, problem, turns("big-1", "big-1"), 50, BOILED_A, BOILS_B)
    assert set(spans(found)) == {("a", "boil"), ("b", "boil")}
    of_its_own = read(tmp_path, problem, turns("big-1", "big-2"), 50, BOILED_A, BOILS_B)
    assert set(spans(of_its_own)) == {("a", "boil"), ("b", "boil")}


def test_two_that_are_told_to_boil_at_once_are_told_as_they_were(
    tmp_path: Path,
) -> None:
    boils_a = row("a", "boil", "8:40", expected="9:00")
    found = read(
        tmp_path, day(jam("a"), jam("b")), turns("big-1", "big-1"), 50, boils_a, BOILS_B
    )
    assert set(spans(found)) == {("a", "boil"), ("b", "boil")}


@pytest.mark.parametrize("seed", [5, 23, 27, 35, 37])
def test_of_a_day_that_went_to_plan_any_part_may_be_told(
    tmp_path: Path, seed: int
) -> None:
    """Two jellies in one pot: half of such files were refused, or no plan was found."""
    problem = day(jelly("jelly-1"), jelly("jelly-2"))
    plan = plan_day(problem, seconds=2).timetable
    draw = random.Random(seed)
    now = draw.randrange(5, plan.finish_min - 5)
    share = draw.random()
    begun = [s for s in plan.steps if s.start_min < now]
    rows = [
        row(
            s.batch,
            s.step,
            clock_time(problem.starts_at, s.start_min),
            **{
                "finished" if s.end_min <= now else "expected": clock_time(
                    problem.starts_at, s.end_min
                )
            },
        )
        for s in begun
        if draw.random() < share
    ]
    happened = read(tmp_path, problem, plan, now, *rows)
    try:
        found = replan(problem, plan, happened, seconds=3)
    except BrokenPlan as wrong:
        pytest.fail(f"{rows}: {wrong}")
    assert not found.guesses
    assert not [what for what, _ in found.limits if "pot" in str(what)]
