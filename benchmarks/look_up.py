"""
The first look-up in the book, in a process of its own: the aim is 0.3 s.

Beside it the same process table read by the csv module alone, and the start of Python
with nothing in it.

    .venv/bin/python benchmarks/look_up.py
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

TIMES = 15
START = "pass"
PLAIN = """
import csv
from importlib.resources import files
with (files("stillroom.book") / "data" / "processes.csv").open(encoding="utf-8") as f:
    rows = list(csv.DictReader(f))
"""
LOOK_UP = """
from stillroom.book.processes import process_for
process_for("plum jelly", jar="pint", elevation_ft=0)
"""


def seconds(code: str) -> float:
    """How long a process takes for it. [s]"""
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True)
    return time.perf_counter() - began


def main() -> int:
    """Measure in turn and print the medians; only errors fail, cores are noisy."""
    names = {"start of Python": START, "table by csv": PLAIN, "first look-up": LOOK_UP}
    took: dict[str, list[float]] = {name: [] for name in names}
    for _ in range(TIMES):
        for name, code in names.items():
            took[name].append(seconds(code))
    plain = statistics.median(took["table by csv"])
    for name, each in took.items():
        middle = statistics.median(each)
        print(f"{name:16s} {middle:6.3f} s, {middle / plain:5.2f} of the table by csv")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
