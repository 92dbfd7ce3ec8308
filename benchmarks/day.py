"""
Measure the day planner on the made-up days.

Prints, for each day, how long the first plan took, finish and bound after some seconds,
the finish by hand and the ratio to it. Times depend on the machine and on what else it
does, so the load average and the processor's seconds are printed too: run it more than
once, and read the median. ``demo`` is the day that a new keeper is shown; "rides" is
how often jars of one batch ride in one load, so that each split batch adds one.

Run: ``python benchmarks/day.py --seconds 8 --days demo d2 d3 --runs 3``
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import time
from collections.abc import Sequence

from made_up_days import day_names, made_up_day

from stillroom.methods.today import air_in
from stillroom.planning.batches import make_batches
from stillroom.planning.choices import Place
from stillroom.planning.dayfile import demo_day_text, read_day
from stillroom.planning.kitchen_problem import problem_of
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.shelf import Shelf
from stillroom.planning.timetable import Answer
from stillroom.refusal import Refusal

MOMENTS_S = (1.0, 5.0, 10.0, 20.0)

DEMO = "demo"


def problem_named(name: str) -> Problem:
    """A made-up day, or the one that the program brings along."""
    if name != DEMO:
        return made_up_day(name)
    day = read_day(demo_day_text())
    air = air_in(day.kitchen)
    assert not isinstance(air, Refusal)
    made = make_batches(day, Place(kitchen=day.kitchen, air=air), Shelf(day.shelf))
    problem = problem_of(day, made, air)
    assert not isinstance(problem, Refusal)
    return problem


def gap_curve(answer: Answer, seconds: float) -> list[str]:
    """Finish plus lateness, and its bound, at each moment that was reached."""
    shown = []
    for moment in MOMENTS_S:
        if moment > seconds:
            break
        by_then = [(value, bound) for at, value, bound in answer.trace if at <= moment]
        if not by_then:
            shown.append("-")
            continue
        value = min(v for v, _ in by_then)
        bound = max(b for _, b in by_then)
        shown.append(f"{value}/{bound}")
    return shown


def measure(name: str, seconds: float, workers: int, seeds: Sequence[int]) -> None:
    """Plan one day once for each seed and print a line for each, then the medians."""
    finishes, firsts, ratios = [], [], []
    for seed in seeds:
        problem = problem_named(name)
        worked = time.process_time()
        answer = plan_day(problem, seconds=seconds, workers=workers, seed=seed)
        if not isinstance(answer, Answer):
            print(f"{name:22} seed {seed}: no plan: {'; '.join(answer.clashes)}")
            continue
        worked = time.process_time() - worked
        jars = sum(b.jars for b in problem.batches)
        by_hand = answer.by_hand_min
        ratio = answer.finish_min / by_hand if by_hand else float("nan")
        finishes.append(answer.finish_min)
        firsts.append(answer.first_plan_s)
        ratios.append(ratio)
        curve = "  ".join(f"{c:>9}" for c in gap_curve(answer, seconds))
        proven = "proven" if answer.proven else f"gap {answer.gap:.0%}"
        print(
            f"{name:22} {jars:4} {seed:4} {answer.first_plan_s:7.3f} "
            f"{answer.solve_s:6.1f}  {curve}  {answer.finish_min:4} "
            f"{answer.lateness:4} {answer.lower_bound_min:5} {proven:8} "
            f"{by_hand or '-':>5} {ratio:5.2f} {len(answer.timetable.loads):5} "
            f"{sum(len(x.jars) for x in answer.timetable.loads):5} {worked:6.1f} "
            f"{os.getloadavg()[0]:5.1f}"
        )
    if len(finishes) > 1:
        print(
            f"{'median':22} first {statistics.median(firsts):.3f} s, "
            f"finish {statistics.median(finishes):g}, "
            f"of by hand {statistics.median(ratios):.2f}"
        )


def main() -> None:
    """Read the options and measure."""
    parser = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    parser.add_argument("--seconds", type=float, default=20.0, help="for each plan")
    parser.add_argument("--days", nargs="*", default=None, help="demo, d1 .. d6")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--runs", type=int, default=1, help="seeds 1 .. RUNS")
    options = parser.parse_args()
    names = options.days or (DEMO, *day_names())
    print(
        f"{platform.python_implementation()} {platform.python_version()}, "
        f"{os.cpu_count()} cores, load average {os.getloadavg()[0]:.1f} before"
    )
    moments = [m for m in MOMENTS_S if m <= options.seconds]
    heads = "  ".join(f"{f'at {m:g} s':>9}" for m in moments)
    print(
        f"{'day':22} {'jars':>4} {'seed':>4} {'first s':>7} {'all s':>6}  {heads}  "
        f"{'fin':>4} {'late':>4} {'bound':>5} {'':8} {'hand':>5} {'ratio':>5} "
        f"loads rides {'cpu s':>6} {'load':>5}"
    )
    for name in names:
        seeds = range(1, options.runs + 1)
        measure(name, options.seconds, options.workers, seeds)
    print(f"load average {os.getloadavg()[0]:.1f} after")


if __name__ == "__main__":
    main()
