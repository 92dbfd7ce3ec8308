"""
Measure ten thousand simulated days against the same days run event by event.

Prints for each made-up day the nodes and arcs, the median seconds of the pass forward
and of pass and draws together, the seconds that as many days would take one by one
(timed on a few, scaled up), the ratio, and the largest difference of a finish.

Run: ``python benchmarks/odds.py --days d1 d3 --runs 5``
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import time

from event_by_event import run_one_day
from made_up_days import day_names, made_up_day

from stillroom.planning.forward import Pass
from stillroom.planning.odds import DAYS, minutes_of_days
from stillroom.planning.plan import plan_day
from stillroom.planning.precedence import precedence_of
from stillroom.planning.timetable import Answer


def measure(name: str, seconds: float, runs: int, one_by_one: int) -> None:
    """Plan one day, simulate it both ways, and print a line."""
    problem = made_up_day(name)
    answer = plan_day(problem, seconds=seconds)
    if not isinstance(answer, Answer):
        print(f"{name:22} no plan: {'; '.join(answer.clashes)}")
        return
    plan = answer.timetable
    net = precedence_of(problem, plan)
    ready = Pass(net)
    passes, wholes = [], []
    for run in range(runs):
        began = time.perf_counter()
        minutes = minutes_of_days(net, problem, plan, days=DAYS, seed=run + 1)
        drawn = time.perf_counter()
        days = ready.forward(minutes)
        done = time.perf_counter()
        passes.append(done - drawn)
        wholes.append(done - began)
    began = time.perf_counter()
    slow = [run_one_day(net, minutes[:, k].tolist())[1] for k in range(one_by_one)]
    each = (time.perf_counter() - began) / one_by_one
    difference = max(abs(s - float(days.finish[k])) for k, s in enumerate(slow))
    one_pass, whole = statistics.median(passes), statistics.median(wholes)
    print(
        f"{name:22} {len(net.nodes):5} {len(net.arcs):5} {one_pass:8.4f} {whole:8.3f} "
        f"{each * DAYS:8.1f} {each * DAYS / one_pass:7.0f} {each * DAYS / whole:7.0f} "
        f"{difference:9.1e}"
    )


def main() -> None:
    """Read the options and measure."""
    parser = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    parser.add_argument("--seconds", type=float, default=3.0, help="for each plan")
    parser.add_argument("--days", nargs="*", default=None, help="d1 .. d6")
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--one-by-one", type=int, default=200, help="days run slowly")
    options = parser.parse_args()
    print(
        f"{platform.python_implementation()} {platform.python_version()}, "
        f"{os.cpu_count()} cores, load average {os.getloadavg()[0]:.1f} before; "
        f"{DAYS} days"
    )
    print(
        f"{'day':22} {'nodes':>5} {'arcs':>5} {'pass s':>8} {'+draws s':>8} "
        f"{'events s':>8} {'x pass':>7} {'x both':>7} {'apart':>9}"
    )
    for name in options.days or day_names():
        measure(name, options.seconds, options.runs, options.one_by_one)
    print(f"load average {os.getloadavg()[0]:.1f} after")


if __name__ == "__main__":
    main()
