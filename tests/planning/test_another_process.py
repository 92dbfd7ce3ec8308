"""
The same day is the same question to the search in every process.

Each orders its sets of words in its own way. A model whose rules stand in another order
is searched on another way, and the same file would have another plan.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys

import pytest
from planning.small_days import day as small_day
from planning.small_days import person, step, work

from stillroom.methods.step import Skill
from stillroom.methods.today import air_in
from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.begun.put_off import put_off
from stillroom.planning.begun.residual import residual_of
from stillroom.planning.bounding.bounds import lower_bounds
from stillroom.planning.cpsat.replan_model import rest_model
from stillroom.planning.cpsat.solve import day_model
from stillroom.planning.cpsat.variables import DayModel
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.problem import Problem
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Refusal

NOW_MIN = 120


def demo_day() -> Problem:
    day = read_day(demo_day_text())
    air = air_in(day.kitchen)
    assert not isinstance(air, Refusal)
    made = make_batches(day, Place(kitchen=day.kitchen, air=air), Shelf(day.shelf))
    problem = problem_of(day, made, air)
    assert isinstance(problem, Problem)
    return problem


def each_their_own() -> Problem:
    """Four people with work that nobody else does, as much for each: four bounds."""
    skills = tuple(Skill)
    people = (person(f"who {s}", skills=frozenset({str(s)})) for s in skills)
    works = (work(f"of {s}", step("do", 60, 4, skill=s)) for s in skills)
    return small_day(*works, people=tuple(people))


def digest(day: DayModel) -> str:
    return hashlib.sha256(str(day.model.proto).encode()).hexdigest()


def asked(problem: Problem) -> list[str]:
    """What is asked of the solver, and what is said of the bounds."""
    whole = day_model(problem, None, 0)
    plan = by_hand(problem, work_s=0.1)
    assert plan is not None
    happened = as_planned(problem, plan, NOW_MIN)
    later = put_off(problem, plan, happened)
    rest = rest_model(residual_of(problem, happened), happened, plan, later)
    bounds = (*lower_bounds(problem), *lower_bounds(each_their_own()))
    whys = [f"{bound.minute} {bound.why}" for bound in bounds]
    return [digest(whole), digest(rest.day), *whys]


@pytest.mark.parametrize("order", ["1", "2", "3"])
def test_another_process_asks_the_same(order: str) -> None:
    there = subprocess.run(
        [sys.executable, __file__],
        env={
            **os.environ,
            "PYTHONHASHSEED": order,
            "PYTHONPATH": os.pathsep.join(sys.path),
        },
        capture_output=True,
        text=True,
        check=True,
    )
    assert there.stdout.splitlines() == asked(demo_day())


if __name__ == "__main__":
    for line in asked(demo_day()):
        sys.stdout.write(f"{line}\n")
