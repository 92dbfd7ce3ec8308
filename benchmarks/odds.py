"""
Measure ten thousand simulated days against the same days run event by event.

Prints for each made-up day the nodes and arcs (and those that no others imply), the
median milliseconds of the pass to the finishes, of draws and pass together, and of all
starts and ends; the seconds that as many days take one after another, event by event,
with the durations given and with its own draws (timed on a few, scaled up); the ratios
of like to like, and the largest difference of a finish on days of the same durations.

What does not change from day to day is made ready beforehand on both sides. Times are
the processor's, of one thread on both sides, so that a busy machine disturbs them less.

Run: ``python benchmarks/odds.py --days d1 d3 d5 --runs 25``
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import time
from collections.abc import Callable

from event_by_event import Happenings, OneDayAtATime
from made_up_days import day_names, made_up_day

from stillroom.planning.day_odds.draws import Draws
from stillroom.planning.day_odds.finishing import Finishing
from stillroom.planning.day_odds.forward import Pass, spreads_of
from stillroom.planning.day_odds.odds import DAYS
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import Answer
from stillroom.planning.waits.precedence import precedence_of


def median_s(does: Callable[[], object], runs: int) -> float:
    """Processor seconds that something takes: the median, the first time left out."""
    does()
    seconds = []
    for _ in range(runs):
        began = time.thread_time()
        does()
        seconds.append(time.thread_time() - began)
    return statistics.median(seconds)


def measure(name: str, seconds: float, runs: int, one_by_one: int) -> None:
    """Plan one day, simulate it both ways, and print a line."""
    problem = made_up_day(name)
    answer = plan_day(problem, seconds=seconds)
    if not isinstance(answer, Answer):
        print(f"{name:22} no plan: {'; '.join(answer.clashes)}")
        return
    net = precedence_of(problem, answer.timetable)
    planned = [node.planned_min for node in net.nodes]
    spreads = spreads_of(net, problem, answer.timetable)

    def drawn() -> Draws:
        return Draws(planned, spreads, days=DAYS)

    ready = Pass(net)
    finishing = Finishing(ready)
    minutes = drawn().all_rows()
    finish = finishing.finishes(minutes)
    one_pass = median_s(lambda: finishing.finishes(minutes), runs)
    whole = median_s(lambda: finishing.finishes(drawn()), runs)
    every_start = median_s(lambda: ready.forward(drawn().all_rows()), runs)

    happenings, own = Happenings(net), OneDayAtATime(planned, spreads)
    columns = [minutes[:, k].tolist() for k in range(one_by_one)]
    slow = [happenings.run_one_day(day)[1] for day in columns]
    apart = max(abs(s - float(finish[k])) for k, s in enumerate(slow))
    few = max(1, runs // 5)
    events = median_s(lambda: [happenings.run_one_day(day) for day in columns], few)
    both = median_s(
        lambda: [happenings.run_one_day(own.minutes()) for _ in columns], few
    )
    events, both = events / one_by_one * DAYS, both / one_by_one * DAYS
    arcs = f"{len(net.arcs)}/{sum(map(len, ready.waits))}"
    print(
        f"{name:22} {len(net.nodes):5} {arcs:>8} {1e3 * one_pass:8.2f} "
        f"{1e3 * whole:8.2f} {1e3 * every_start:8.2f} {events:8.2f} {both:8.2f} "
        f"{events / one_pass:7.0f} {both / whole:7.0f} {apart:6.3g} "
        f"{os.getloadavg()[0]:5.1f}",
        flush=True,
    )


def main() -> None:
    """Read the options and measure."""
    parser = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    parser.add_argument("--seconds", type=float, default=3.0, help="for each plan")
    parser.add_argument("--days", nargs="*", default=None, help="d1 .. d6")
    parser.add_argument("--runs", type=int, default=25)
    parser.add_argument("--one-by-one", type=int, default=200, help="days run slowly")
    options = parser.parse_args()
    print(
        f"{platform.python_implementation()} {platform.python_version()}, "
        f"{os.cpu_count()} cores, load average {os.getloadavg()[0]:.1f} before; "
        f"{DAYS} days"
    )
    print(
        f"{'day':22} {'nodes':>5} {'arcs':>8} {'pass ms':>8} {'+draw ms':>8} "
        f"{'all ms':>8} {'events s':>8} {'+draw s':>8} {'x pass':>7} {'x both':>7} "
        f"{'apart':>6} {'load':>5}"
    )
    for name in options.days or day_names():
        measure(name, options.seconds, options.runs, options.one_by_one)


if __name__ == "__main__":
    main()
