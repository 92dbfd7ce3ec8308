"""The days that the planner is measured on: drawn by name, and the best plans known."""

from __future__ import annotations

import importlib
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest

from stillroom.planning.how_good.lateness import weighted_lateness
from stillroom.planning.why_not.refuse import refuse_nonsense

FOLDER = Path(__file__).parents[2] / "benchmarks"


@pytest.fixture
def benchmark(monkeypatch: pytest.MonkeyPatch):
    """Import a file of the benchmarks, which find each other beside them."""
    monkeypatch.syspath_prepend(str(FOLDER))

    def by_name(name: str) -> ModuleType:
        return importlib.import_module(name)

    return by_name


@pytest.mark.parametrize("name", ["j20p1c1-1", "j80p2c1-7", "j240p4c3-1"])
def test_a_name_says_the_whole_day(benchmark, name: str) -> None:
    drawn = benchmark("drawn_days")
    one = drawn.drawn_day(name)
    assert one == drawn.drawn_day(name)
    assert one != drawn.drawn_day(name.rsplit("-", 1)[0] + "-99")
    jars, people, canners, _ = map(int, drawn.NAME.fullmatch(name).groups())
    assert sum(b.jars for b in one.batches) == jars
    assert (len(one.people), len(one.canners)) == (people, canners)
    refuse_nonsense(one)


def test_drawn_names_are_of_all_sizes_that_are_promised(benchmark) -> None:
    drawn = benchmark("drawn_days")
    names = [drawn.drawn_name(seed) for seed in range(200)]
    sizes = [tuple(map(int, drawn.NAME.fullmatch(n).groups()[:3])) for n in names]
    assert {people for _, people, _ in sizes} == {1, 2, 3, 4}
    assert {canners for _, _, canners in sizes} == {1, 2, 3}
    assert "p2" in drawn.drawn_name(1, people=2)


@pytest.mark.parametrize("name", ["j80", "j250p2c1-1", "j80p5c1-1", "j80p2c4-1", "d3"])
def test_a_day_that_cannot_be_drawn_is_refused(benchmark, name: str) -> None:
    with pytest.raises(KeyError, match=r"say j<jars>|are drawn"):
        benchmark("drawn_days").drawn_day(name)


def test_each_best_plan_that_still_holds_ends_as_its_row_says(benchmark) -> None:
    known = benchmark("best_known")
    named = benchmark("named_days")
    rows = known.known_plans()
    held = 0
    for name, row in rows.items():
        problem = named.problem_named(name)
        plan = known.kept_plan(name, problem)
        if plan is None:  # a rule was added since: it counts for nothing
            continue
        held += 1
        assert (plan.finish_min, row.late_min) == (
            row.finish_min,
            weighted_lateness(problem, plan),
        )
        assert row.bound_min <= row.finish_min + 2 * row.late_min
    assert held, f"no plan of {len(rows)} holds any more: run the measurement again"


def test_a_best_plan_is_kept_and_read_as_it_was(
    benchmark, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    known = benchmark("best_known")
    named = benchmark("named_days")
    problems = {name: named.problem_named(name) for name in known.known_plans()}
    kept = {name: known.kept_plan(name, each) for name, each in problems.items()}
    name = next(name for name, plan in kept.items() if plan is not None)
    problem, plan = problems[name], kept[name]
    monkeypatch.setattr(known, "TABLE", tmp_path / "best_known.csv")
    monkeypatch.setattr(known, "PLANS", tmp_path / "plans")
    row = known.Known(name, plan.finish_min, 0, 1, 2, "by hand, or so")
    known.keep(row, plan)
    assert known.known_plans() == {name: row}
    assert known.kept_plan(name, problem) == plan
    broken = replace(problem, people=problem.people[:1])
    assert known.kept_plan(name, broken) is None
