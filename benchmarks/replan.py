"""
Measure how a slipping day is planned again: time, finish, and how much moves.

For each made-up day and each moment a running step is made late; the rest is planned
again within some seconds. Beside it the old order, put off, and what that breaks.

Run: ``python benchmarks/replan.py --days d3 d4 --seconds 2 --slips 6``
"""

from __future__ import annotations

import argparse
import os
import platform
import random
import statistics

from made_up_days import day_names, made_up_day

from stillroom.planning.happened import as_planned
from stillroom.planning.plan import plan_day
from stillroom.planning.put_off import put_off
from stillroom.planning.replan import SOLVED, replan
from stillroom.planning.timetable import Answer

LATE_MIN = (10, 25, 40)


def measure(name: str, plan_seconds: float, seconds: float, slips: int) -> None:
    """Plan one day, let it slip in several ways, and print a line for each."""
    problem = made_up_day(name)
    answer = plan_day(problem, seconds=plan_seconds)
    if not isinstance(answer, Answer):
        print(f"{name}: no plan")
        return
    plan = answer.timetable
    drawn = random.Random(1)
    times, moved_shares, by, solved = [], [], [], 0
    for _ in range(slips):
        step = drawn.choice(
            [s for s in plan.steps if s.quarters and s.end_min - s.start_min >= 10]
        )
        late = drawn.choice(LATE_MIN)
        now = step.end_min - 1
        happened = as_planned(
            problem, plan, now, late_min={(step.batch, step.step): late}
        )
        later = put_off(problem, plan, happened)
        shifted = later.start
        found = replan(problem, plan, happened, seconds=seconds)
        last = {(s.batch, s.step): s.end_min - s.start_min for s in plan.steps}
        kept = max(shifted[key] + minutes for key, minutes in last.items())
        kept = max(
            [kept]
            + [
                shifted[load.id, "lift"] + load.out_min - load.lift_min
                for load in plan.loads
            ]
        )
        moved = [m for m in found.moves if m.by_min]
        solved += found.made_by == SOLVED
        times.append(found.seconds)
        by.append(found.new.finish_min - plan.finish_min)
        moved_shares.append(len(moved) / max(1, found.open_steps))
        print(
            f"{name:22} {now:4} {step.step:20} +{late:2} {found.seconds:5.2f} s "
            f"{'proven' if found.proven else '':6} {plan.finish_min:4} -> "
            f"{found.new.finish_min:4} (order kept {kept:4}"
            f"{'' if later.limits_kept else '!'}), {len(moved):3} of "
            f"{found.open_steps:3} move, {sum(abs(m.by_min) for m in moved):5} min, "
            f"{sum(m.was_by != m.is_by for m in found.moves):3} hands, "
            f"{len(found.broken)} give way"
        )
    print(
        f"{'median of ' + name[:2]:22} {statistics.median(times):.2f} s (longest "
        f"{max(times):.2f}), {statistics.median(by):g} min later, "
        f"{statistics.median(moved_shares):.0%} moves; solved {solved} of {slips}"
    )


def main() -> None:
    """Read the options and measure."""
    parser = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    parser.add_argument("--plan-seconds", type=float, default=10.0)
    parser.add_argument("--seconds", type=float, default=2.0, help="for each replan")
    parser.add_argument("--days", nargs="*", default=None, help="d1 .. d6")
    parser.add_argument("--slips", type=int, default=6)
    options = parser.parse_args()
    print(
        f"{platform.python_implementation()} {platform.python_version()}, "
        f"{os.cpu_count()} cores, load average {os.getloadavg()[0]:.1f} before"
    )
    for name in options.days or day_names():
        measure(name, options.plan_seconds, options.seconds, options.slips)
    print(f"load average {os.getloadavg()[0]:.1f} after")


if __name__ == "__main__":
    main()
