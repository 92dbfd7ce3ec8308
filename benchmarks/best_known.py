"""
The best plan known of each made-up day, from long searches, and how it was got.

``best_known.csv`` has the figures; ``best_plans/`` has the plans themselves, so that
each figure can be judged again and the next search begins where the last one ended. A
plan that the judge no longer passes (a rule was added) counts for nothing.

Run: ``python benchmarks/best_known.py --long 1200 --days d3 d5``
"""

from __future__ import annotations

import argparse
import csv
import json
import random
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any

from made_up_days import day_names
from named_days import full_name, problem_named

import stillroom.planning.cpsat.solve as solving
from stillroom.planning.bounding.bounds import Bound, lower_bound_min
from stillroom.planning.bounding.together import FINEST, bound_together
from stillroom.planning.bounding.windows import window_bound_min
from stillroom.planning.cpsat.solve import Search, find_timetable
from stillroom.planning.hand.by_hand import by_hand
from stillroom.planning.how_good.lateness import score, weighted_lateness
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Problem
from stillroom.planning.start import start_of
from stillroom.planning.timetable import (
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)

TABLE = Path(__file__).parent / "best_known.csv"
PLANS = Path(__file__).parent / "best_plans"
PARTS_S = 60.0
"""One search part by part, from the best plan or from another order by hand. [s]"""
WHOLE_S = 150.0
"""One search over the whole day at once. [s]"""


@dataclass(frozen=True, slots=True)
class Known:
    """One row of the table."""

    day: str
    finish_min: int
    late_min: int
    """Weighted minutes by which wants are missed."""
    bound_min: int
    """Highest minute that is proven: no plan has a smaller finish plus lateness."""
    seconds: int
    """Spent in all, over all searches so far. [s]"""
    how: str


def known_plans() -> dict[str, Known]:
    """Rows of the table by the day's name."""
    if not TABLE.exists():
        return {}
    with TABLE.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    return {
        row["day"]: Known(
            row["day"],
            int(row["finish_min"]),
            int(row["late_min"]),
            int(row["bound_min"]),
            int(row["seconds"]),
            row["how"],
        )
        for row in rows
    }


def keep(known: Known, plan: Timetable) -> None:
    """Write a row and its plan; the other rows stay."""
    rows = {**known_plans(), known.day: known}
    with TABLE.open("w", encoding="utf-8", newline="") as out:
        names = [f.name for f in fields(Known)]
        writer = csv.DictWriter(out, names, lineterminator="\n")
        writer.writeheader()
        writer.writerows(asdict(rows[name]) for name in sorted(rows))
    PLANS.mkdir(exist_ok=True)
    text = json.dumps(_folded(plan), indent=0, separators=(",", ":"))
    (PLANS / f"{known.day}.json").write_text(text + "\n", encoding="utf-8")


def kept_plan(name: str, problem: Problem) -> Timetable | None:
    """Return the stored plan of a day if there is one and it still breaks no rule."""
    path = PLANS / f"{name}.json"
    if not path.exists():
        return None
    plan = _unfolded(json.loads(path.read_text(encoding="utf-8")))
    return None if violations(problem, plan) else plan


def _folded(plan: Timetable) -> dict[str, list[list[Any]]]:
    """Rows of values, in the order of the fields."""
    return {
        part: [list(asdict(row).values()) for row in getattr(plan, part)]
        for part in ("steps", "loads", "breaks")
    }


def _unfolded(read: dict[str, list[list[Any]]]) -> Timetable:
    def rows(kind: type[Any], part: str) -> tuple[Any, ...]:
        names = [f.name for f in fields(kind)]
        return tuple(
            # a plan that was kept before a field was there has its default
            kind(**dict(zip(names, row, strict=False)))
            for row in read.get(part, ())
        )

    loads = rows(PlacedLoad, "loads")
    for load in loads:
        object.__setattr__(load, "jars", tuple((b, n) for b, n in load.jars))
    return Timetable(
        steps=rows(PlacedStep, "steps"),
        loads=loads,
        breaks=rows(PlacedBreak, "breaks"),
    )


# --- searching on -------------------------------------------------------------------


def improve(name: str, seconds: float, workers: int) -> None:
    """Search on from the stored plan, in turns, and store what is better."""
    problem = problem_named(name)
    before = known_plans().get(name)
    best = kept_plan(name, problem)
    spent = before.seconds if before and best is not None else 0
    how = before.how if before and best is not None else "by hand"
    began = time.monotonic()
    turn = random.Random(spent)
    if best is None:
        best = _another_start(problem, 1)
        if best is None:
            print(f"{name}: no plan to begin with")
            return
    bound = _bound(problem, best, before.bound_min if before else 0, seconds / 4)
    print(f"{name}: begins at {score(problem, best)}, bound {bound}", flush=True)
    for kind, share in _kinds():
        left = seconds - (time.monotonic() - began)
        if left < 5.0:
            break
        seed = turn.randrange(1, 10**6)
        start = best
        if kind == "another start":
            start = _another_start(problem, seed) or best
        turn_s = min(share, left)
        found = _search(problem, start, turn_s, workers, seed, whole=kind == "whole")
        bound = max(bound, found[1])
        plan = found[0]
        note = ""
        if plan is not None and not violations(problem, plan):
            worth = score(problem, plan)
            note = f" {worth}"
            if worth < score(problem, best):
                best, how = plan, f"{kind}, seed {seed}, {workers} workers"
        gone = time.monotonic() - began
        print(
            f"{name} {gone:6.0f} s  {kind}:{note}; best {score(problem, best)}, "
            f"bound {bound}",
            flush=True,
        )
        late = weighted_lateness(problem, best)
        total = spent + round(gone)
        keep(Known(name, best.finish_min, late, bound, total, how), best)
        if bound >= score(problem, best):
            print(f"{name}: proven")
            break


def _bound(problem: Problem, best: Timetable, known: int, seconds: float) -> int:
    """Minute that is proven within so many seconds, or was known before. [min]"""
    until = time.monotonic() + seconds
    least = max(known, window_bound_min(problem, lower_bound_min(problem)))
    found = bound_together(
        problem,
        Bound(least, "known before"),
        at_most=best.finish_min,
        finest=FINEST,
        is_over=lambda: time.monotonic() >= until,
    )
    return max(least, found.minute)


def _another_start(problem: Problem, seed: int) -> Timetable | None:
    """A plan made by turns, or by hand in another order, as the search begins."""
    first = by_hand(problem, shuffle_seconds=2.0, seed=seed)
    begun = start_of(problem, first, seconds=10.0, seed=seed, counted=True)
    return begun.plan


def _kinds() -> Iterator[tuple[str, float]]:
    """Kinds of search in turn, for as long as there is time. [s]"""
    while True:
        yield "parts", PARTS_S
        yield "whole", WHOLE_S
        yield "another start", PARTS_S


def _search(
    problem: Problem,
    start: Timetable,
    seconds: float,
    workers: int,
    seed: int,
    *,
    whole: bool,
) -> tuple[Timetable | None, int]:
    search = Search(time.monotonic() + seconds, workers, seed, seconds=seconds)
    few = solving.FEW_STEPS
    try:
        if whole:  # a day of any size is then searched as one
            solving.FEW_STEPS = 10**6
        found = find_timetable(problem, start, search)
    finally:
        solving.FEW_STEPS = few
    return found.timetable, found.bound


def main() -> None:
    """Read the options and search on."""
    parser = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    parser.add_argument("--long", type=float, default=1200.0, help="seconds a day")
    parser.add_argument("--days", nargs="*", default=None)
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    for name in options.days or day_names():
        improve(full_name(name), options.long, options.workers)


if __name__ == "__main__":
    main()
