"""
Ways out of drawn days that miss by a little, by an hour, by hours.

Each day of two people is shortened by so many minutes against the best plan found with
its end left open; then it is asked in so many seconds which batches fit, and for the
ways out beside that, as for a day of a keeper. Counted is how many days get three ways,
each of them judged on the changed day, and what they cost.

What it took are processor seconds. ``--counted`` counts the work of the search and not
the clock, so that a busy machine gives the same.

    python benchmarks/ways_out.py --days 10 --miss 15 60 180 --seconds 2 8
"""

from __future__ import annotations

import argparse
import statistics
import time
from dataclasses import replace

from drawn_days import drawn_day

from stillroom.planning.cpsat.solve import Search
from stillroom.planning.judge.check import violations
from stillroom.planning.problem import Break, Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.too_small import SHARE_OF_CHOOSING
from stillroom.planning.way_changes import changed, is_more_than
from stillroom.planning.ways.held_plan import PlanOfSome
from stillroom.planning.ways.way_plans import with_end_open
from stillroom.planning.ways.ways_out import Ways, ways_out
from stillroom.planning.what_fits import what_fits

WORKERS = 2
MANY = 90
"""A day of so many jars ends hours later, whatever is tried."""


def shortened(problem: Problem, end: int) -> Problem:
    """The day ends at a minute, for everybody."""
    people = tuple(
        replace(
            p,
            leaves_min=min(p.leaves_min, end),
            breaks=tuple(_within(rest, end) for rest in p.breaks if _fits(rest, end)),
        )
        for p in problem.people
    )
    return replace(problem, horizon_min=end, people=people)


def _fits(rest: Break, end: int) -> bool:
    return rest.earliest_min + rest.duration_min <= end


def _within(rest: Break, end: int) -> Break:
    """The rest, begun so that it is over when the day is."""
    latest = min(rest.latest_start_min, end - rest.duration_min)
    return replace(rest, latest_start_min=latest)


def main() -> None:
    """Print a row for each day, and the table."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[1])
    asked.add_argument("--days", type=int, default=10)
    asked.add_argument("--miss", type=int, nargs="+", default=[15, 60, 180])
    asked.add_argument("--seconds", type=float, nargs="+", default=[2.0, 8.0])
    asked.add_argument("--first", type=float, default=6.4, help="for the open end")
    asked.add_argument("--counted", action="store_true", help="work, not the clock")
    asked.add_argument("--from-day", type=int, default=0)
    asked.add_argument("--jars", type=int, help="of every day; 30 to 80 where not said")
    given = asked.parse_args()
    print("day           jars miss  seconds  took  ways  costs")
    rows: dict[tuple[int, float], list[tuple[int, float, int]]] = {}
    counted = given.counted
    for seed in range(given.from_day, given.from_day + given.days):
        jars = given.jars or 30 + 10 * (seed % 6)
        name = f"j{jars}p2c{1 + seed % 2}-{seed}"
        whole = drawn_day(name)
        reached = with_end_open(
            replace(whole, horizon_min=60), _search(given.first, counted)
        )
        if reached is None:
            print(f"{name}: no plan however long the day is")
            continue
        for miss in given.miss:
            problem = shortened(whole, reached.finish_min - miss)
            # as the search for the day itself leaves it
            start = with_end_open(problem, _search(given.first, counted))
            for seconds in given.seconds:
                found, took = _asked(problem, start, seconds, counted)
                _judge(problem, found)
                if any(not way.changes for way in found.ways):
                    print(f"{name:14}{jars:3}{miss:5}  fits after all")
                    continue
                costs = [way.cost_min for way in found.ways if not way.is_shown]
                row = rows.setdefault((miss, seconds), [])
                row.append((len(costs), took, costs[0] if costs else 0))
                print(
                    f"{name:14}{jars:3}{miss:5}{seconds:8g}{took:7.1f}"
                    f"{len(costs):5}   {costs} {found.why_fewer}",
                    flush=True,
                )
    print("\nmiss  seconds  days  three ways  median took  median cheapest")
    for (miss, seconds), row in sorted(rows.items()):
        three = sum(many == 3 for many, _, _ in row)
        print(
            f"{miss:4}{seconds:9g}{len(row):6}{three:12}"
            f"{statistics.median(t for _, t, _ in row):13.1f}"
            f"{statistics.median(c for _, _, c in row):17g}"
        )


def _search(seconds: float, counted: bool) -> Search:
    return Search(time.monotonic() + seconds, WORKERS, 1, counted, seconds)


def _asked(
    problem: Problem, reached: Timetable | None, seconds: float, counted: bool
) -> tuple[Ways, float]:
    began, work = time.monotonic(), time.process_time()
    order = [b.id for b in problem.batches]
    fits = what_fits(
        problem,
        order,
        seconds=SHARE_OF_CHOOSING * seconds,
        workers=WORKERS,
        deterministic=counted,
        reached=reached,
    )
    shown = None
    if fits is not None and fits.left_out:
        kept = tuple(b.id for b in fits.problem.batches)
        shown = PlanOfSome(kept=kept, plan=fits.answer.timetable)
    left = began + seconds - time.monotonic()
    left = (1 - SHARE_OF_CHOOSING) * seconds if counted else left
    found = ways_out(
        problem, _search(left, counted), missed=order, reached=reached, shown=shown
    )
    return found, time.process_time() - work


def _judge(problem: Problem, found: Ways) -> None:
    """Each way holds, and none is another with something more."""
    for n, way in enumerate(w for w in found.ways if not w.is_shown):
        broken = violations(changed(problem, way.changes), way.timetable)
        assert not broken, (way.says, broken)
        for other in found.ways[:n]:
            assert not is_more_than(way.changes, other.changes)
            assert way.cost_min >= other.cost_min


if __name__ == "__main__":
    main()
