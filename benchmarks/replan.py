"""
Measure how a slipping day is planned again: time, finish, and how much moves.

For each made-up day some steps are made late early in the day, in its middle and late;
the rest is planned again within some seconds. Beside it what the old order would come
to if it were put off: its end, and the minutes by which limits would give way.

Run: ``python benchmarks/replan.py --days d3 d4 --seconds 2 --slips 7``
"""

from __future__ import annotations

import argparse
import os
import platform
import random
import statistics
from dataclasses import dataclass

from made_up_days import day_names, made_up_day

from stillroom.planning.begun.as_planned import as_planned
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.leave_out import gives_way_min
from stillroom.planning.second_thoughts.replan import Replanned, replan
from stillroom.planning.timetable import Answer, Timetable

LATE_MIN = (10, 25, 40)
LEAST_MIN = 10
"""Shorter steps are made late only where there are no others."""
THIRDS = ("early", "middle", "late")


@dataclass(frozen=True)
class Slip:
    """A slip, and the day planned again."""

    found: Replanned
    gives_way: int
    """Minutes and places by which limits give way, summed."""

    @property
    def later(self) -> int:
        """Minutes by which the day ends later."""
        return self.found.new.finish_min - self.found.old.finish_min

    @property
    def moved(self) -> float:
        """Share of what had not begun that begins at another minute."""
        moves = [m for m in self.found.moves if m.by_min and not m.rests]
        return len(moves) / max(1, self.found.open_steps)


def slipped(
    problem: Problem, plan: Timetable, third: int, drawn: random.Random, seconds: float
) -> Slip:
    """Make one step of a third of the day late, and plan the rest again."""
    part = plan.finish_min / 3
    steps = [
        s
        for s in plan.steps
        if s.quarters and third * part <= s.end_min <= (third + 1) * part
    ]
    long_ones = [s for s in steps if s.end_min - s.start_min >= LEAST_MIN]
    steps = long_ones or steps
    step, late = drawn.choice(steps), drawn.choice(LATE_MIN)
    now = step.end_min - 1
    happened = as_planned(problem, plan, now, late_min={(step.batch, step.step): late})
    found = replan(problem, plan, happened, seconds=seconds)
    over = gives_way_min(found)
    old = found.old_order
    order = "cannot be worked"
    if old is not None:
        order = f"{old.finish_min:4}, {old.gives_way:3} min of limits"
    moves = [m for m in found.moves if m.by_min and not m.rests]
    print(
        f"  {now:4} {step.step:18} +{late:2}: {found.seconds:5.2f} s "
        f"{'proven' if found.proven else '':6} {plan.finish_min:4} -> "
        f"{found.new.finish_min:4}, {over:3} min of limits (old order put off: "
        f"{order}), {len(moves):3} of {found.open_steps:3} move"
    )
    return Slip(found, over)


def measure(
    name: str, plan_seconds: float, seconds: float, slips: int, seed: int
) -> None:
    """Plan one day, let it slip in several ways, and print the medians."""
    problem = made_up_day(name)
    answer = plan_day(problem, seconds=plan_seconds)
    if not isinstance(answer, Answer):
        print(f"{name}: no plan")
        return
    drawn = random.Random(seed)
    for third, word in enumerate(THIRDS):
        print(f"{name}, {word}:")
        found = [
            slipped(problem, answer.timetable, third, drawn, seconds)
            for _ in range(slips)
        ]
        old = [
            s.found.old_order.finish_min - s.found.old.finish_min
            for s in found
            if s.found.old_order is not None
        ]
        times = [s.found.seconds for s in found]
        print(
            f"  median {statistics.median(times):.2f} s (longest {max(times):.2f}), "
            f"{statistics.median(s.later for s in found):g} min later (old order "
            f"{statistics.median(old) if old else '-'}), "
            f"{statistics.median(s.moved for s in found):.0%} moves, "
            f"{statistics.median(s.gives_way for s in found):g} min of limits; "
            f"proven {sum(s.found.proven for s in found)} of {slips}"
        )


def main() -> None:
    """Read the options and measure."""
    parser = argparse.ArgumentParser(description=__doc__.strip().splitlines()[0])
    parser.add_argument("--plan-seconds", type=float, default=10.0)
    parser.add_argument("--seconds", type=float, default=2.0, help="for each replan")
    parser.add_argument("--days", nargs="*", default=None, help="d1 .. d6")
    parser.add_argument("--slips", type=int, default=7, help="in each third of a day")
    parser.add_argument("--seed", type=int, default=1, help="of the slips")
    options = parser.parse_args()
    print(
        f"{platform.python_implementation()} {platform.python_version()}, "
        f"{os.cpu_count()} cores, load average {os.getloadavg()[0]:.1f} before"
    )
    for name in options.days or day_names():
        measure(
            name, options.plan_seconds, options.seconds, options.slips, options.seed
        )
    print(f"load average {os.getloadavg()[0]:.1f} after")


if __name__ == "__main__":
    main()
