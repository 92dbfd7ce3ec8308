"""
Measure the day planner on the demo day, on the made-up days and on drawn ones.

For each day and seed a line: jars, when the first plan was there, finish plus lateness
and its bound after some seconds, the finish by hand and the ratio to it, by how much it
is above the best plan known (``best_known.csv``), loads, and how often jars of a batch
ride in one ("rides": each split batch adds one). ``--plain`` solves each day with the
plain model too, in as many seconds. ``--random N`` plans N drawn days once each (of so
many ``--people`` or ``--jars``) and prints the medians alone. Times depend on the
machine and on what else it does: the load average and the processor's seconds stand
beside; run more than once, read the median.

Run: ``python benchmarks/day.py --seconds 20 --days demo d3 d5 --runs 3 --plain``
     ``python benchmarks/day.py --random 100 --people 2 --seconds 5``
     ``python benchmarks/day.py --random 20 --jars 80 --seconds 20``
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import time
from collections.abc import Sequence

from best_known import Known, known_plans
from drawn_days import drawn_name
from made_up_days import day_names
from named_days import DEMO, full_name, problem_named
from plain_model import plain_plan

from stillroom.planning.how_good.lateness import POINTS_A_LATE_MINUTE
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer

MOMENTS_S = (1.0, 5.0, 10.0, 20.0, 60.0)
LITTLE_S = 0.5
"""A search that ended so shortly before a moment has reached it. [s]"""

Trace = Sequence[tuple[float, int, int]]


def gap_curve(trace: Trace, seconds: float) -> list[str]:
    """Finish plus lateness, and its bound, at each moment that was reached."""
    shown = []
    for moment in MOMENTS_S:
        if moment > seconds:
            break
        until = moment + (LITTLE_S if moment == seconds else 0.0)
        by_then = [(value, bound) for at, value, bound in trace if at <= until]
        if not by_then:
            shown.append("-")
            continue
        value = min(v for v, _ in by_then)
        bound = max(b for _, b in by_then)
        shown.append(f"{value}/{bound}")
    return shown


def above_known(answer: Answer, known: Known | None) -> float:
    """By how much of it a plan is later than the best known, lateness counted."""
    if known is None:
        return float("nan")
    worth = known.finish_min + POINTS_A_LATE_MINUTE * known.late_min
    mine = answer.finish_min + POINTS_A_LATE_MINUTE * answer.lateness
    return mine / worth - 1.0


def _shown(above: float) -> str:
    return "-" if above != above else f"{above:+.1%}"


def measure(
    name: str, seconds: float, workers: int, seeds: Sequence[int], *, plain: bool
) -> None:
    """Plan one day once for each seed and print a line for each, then the medians."""
    finishes, firsts, ratios, gaps, aboves = [], [], [], [], []
    problem, known = problem_named(name), known_plans().get(full_name(name))
    for seed in seeds:
        worked = time.process_time()
        answer = plan_day(problem, seconds=seconds, workers=workers, seed=seed)
        if not isinstance(answer, Answer):
            print(f"{name:22} seed {seed}: no plan in {seconds:g} s")
            continue
        worked = time.process_time() - worked
        by_hand = answer.by_hand_min
        ratio = answer.finish_min / by_hand if by_hand else float("nan")
        above = above_known(answer, known)
        finishes.append(answer.finish_min)
        firsts.append(answer.first_plan_s)
        ratios.append(ratio)
        gaps.append(answer.gap)
        aboves.append(above)
        proven = "proven" if answer.proven else f"gap {answer.gap:.1%}"
        print(
            f"{_start(name, problem, seed, answer.first_plan_s, answer.solve_s)}"
            f"{_columns(answer.trace, seconds)}  {answer.finish_min:4} "
            f"{answer.lateness:4} {answer.lower_bound_min:5} {proven:9} "
            f"{by_hand or '-':>5} {ratio:5.2f} {_shown(above):>6} "
            f"{len(answer.timetable.loads):5} "
            f"{sum(len(x.jars) for x in answer.timetable.loads):5} {worked:6.1f} "
            f"{os.getloadavg()[0]:5.1f}",
            flush=True,
        )
        if plain:
            print_plain(name, problem, seconds, workers, seed)
    if len(finishes) > 1:
        print(
            f"{'median':22} first {statistics.median(firsts):.3f} s, "
            f"finish {statistics.median(finishes):g}, "
            f"gap {statistics.median(gaps):.1%}, "
            f"of by hand {statistics.median(ratios):.2f}, "
            f"above the best known {_shown(statistics.median(aboves))}",
            flush=True,
        )


def print_plain(
    name: str, problem: Problem, seconds: float, workers: int, seed: int
) -> None:
    """Solve a day with the plain model and print its line."""
    worked, began = time.process_time(), time.monotonic()
    plain = plain_plan(problem, seconds=seconds, workers=workers, seed=seed)
    worked, took = time.process_time() - worked, time.monotonic() - began
    finish = plain.finish_min
    gap = "no plan"
    if finish is not None:
        least = plain.bound_min - POINTS_A_LATE_MINUTE * plain.lateness
        gap = "proven" if plain.proven else f"gap {(finish - least) / finish:.1%}"
    print(
        f"{_start(name, problem, seed, plain.first_s, took)}"
        f"{_columns(plain.trace, seconds)}  {finish or '-':>4} {plain.lateness:4} "
        f"{plain.bound_min:5} {gap:9} plain {worked:38.1f} {os.getloadavg()[0]:5.1f}",
        flush=True,
    )


def _start(
    name: str, problem: Problem, seed: int, first_s: float | None, all_s: float
) -> str:
    jars = sum(b.jars for b in problem.batches)
    first = "-" if first_s is None else f"{first_s:.3f}"
    return f"{name:22} {jars:4} {seed:4} {first:>7} {all_s:6.1f}  "


def _columns(trace: Trace, seconds: float) -> str:
    return "  ".join(f"{c:>9}" for c in gap_curve(trace, seconds))


def measure_random(
    many: int, people: int | None, jars: int | None, seconds: float, workers: int
) -> None:
    """Plan drawn days once each; print how the ratio to by hand is spread."""
    ratios: list[float] = []
    gaps: list[float] = []
    by_hand_fails = no_plan = proven = late = 0
    for seed in range(1, many + 1):
        name = drawn_name(seed, people=people, jars=jars)
        answer = plan_day(problem_named(name), seconds=seconds, workers=workers)
        if not isinstance(answer, Answer):
            no_plan += 1
            print(f"{name}: no plan in {seconds:g} s", flush=True)
            continue
        proven += answer.proven
        late += answer.lateness > 0
        gaps.append(answer.gap)
        if answer.by_hand_min is None:
            by_hand_fails += 1
        else:
            ratios.append(answer.finish_min / answer.by_hand_min)
        if seed % 10 == 0 and ratios:
            print(
                f"{seed:4} days: median {statistics.median(ratios):.3f} of by hand, "
                f"load {os.getloadavg()[0]:.1f}",
                flush=True,
            )
    if len(ratios) < 2:
        print("too few days had a plan by hand")
        return
    few, some, most = statistics.quantiles(gaps, n=4)
    low, middle, high = statistics.quantiles(ratios, n=4)
    tenths = statistics.quantiles(ratios, n=10)
    print(
        f"{len(ratios)} of {many} drawn days with a plan by hand: ratio to it, median "
        f"{middle:.3f}; a half lies between {low:.3f} and {high:.3f}, eight in ten "
        f"between {tenths[0]:.3f} and {tenths[-1]:.3f}, worst {max(ratios):.3f}"
    )
    print(
        f"proven gap, median {some:.1%}; a half lies between {few:.1%} and {most:.1%}; "
        f"proven {proven}, with something late {late}, no plan by hand "
        f"{by_hand_fails}, no plan at all {no_plan}"
    )


def main() -> None:
    """Read the options and measure."""
    parser = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    parser.add_argument("--seconds", type=float, default=20.0, help="for each plan")
    parser.add_argument(
        "--days", nargs="*", default=None, help="demo, d1 .. d6, j240p4c3-1 ..."
    )
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--runs", type=int, default=1, help="seeds 1 .. RUNS")
    parser.add_argument("--plain", action="store_true", help="the plain model beside")
    parser.add_argument("--random", type=int, default=0, metavar="N", help="drawn days")
    parser.add_argument("--people", type=int, default=None, help="on the drawn days")
    parser.add_argument("--jars", type=int, default=None, help="on the drawn days")
    options = parser.parse_args()
    print(
        f"{platform.python_implementation()} {platform.python_version()}, "
        f"{os.cpu_count()} cores, load average {os.getloadavg()[0]:.1f} before"
    )
    if options.random:
        measure_random(
            options.random,
            options.people,
            options.jars,
            options.seconds,
            options.workers,
        )
    else:
        moments = [m for m in MOMENTS_S if m <= options.seconds]
        heads = "  ".join(f"{f'at {m:g} s':>9}" for m in moments)
        print(
            f"{'day':22} {'jars':>4} {'seed':>4} {'first s':>7} {'all s':>6}  {heads}"
            f"  {'fin':>4} {'late':>4} {'bound':>5} {'':9} {'hand':>5} {'ratio':>5} "
            f"{'known':>6} loads rides {'cpu s':>6} {'load':>5}"
        )
        for name in options.days or (DEMO, *day_names()):
            seeds = range(1, options.runs + 1)
            measure(name, options.seconds, options.workers, seeds, plain=options.plain)
    print(f"load average {os.getloadavg()[0]:.1f} after")


if __name__ == "__main__":
    main()
