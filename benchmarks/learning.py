"""
How often the stated intervals hold, what a wild day moves, and what learning costs.

    python benchmarks/learning.py

Kitchens are drawn from what the prior says of kitchens, runs from the kitchen; shares
are of 4,000 draws, so that a share of 0.90 is known to within 0.01.
"""

from __future__ import annotations

import math
import statistics
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from stillroom.learning.pace import USUAL_SPREAD, WORTH, fitted
from stillroom.learning.record import learned_from
from stillroom.learning.shares import UNSEALED, UNSEALED_WORTH, shared
from stillroom.records.days import open_records
from stillroom.smallholding.year import write_year

DRAWS = 4_000
REPEATS = 5


def paces() -> None:
    """Intervals of the middle and of the next day, by number of runs."""
    print("runs   middle in its 90 %   next day in its 90 %   error of the middle")
    for runs in (1, 3, 7, 20, 60):
        generator = np.random.default_rng(runs)
        middle = day = 0
        errors = []
        for _ in range(DRAWS):
            variance = WORTH * USUAL_SPREAD**2 / generator.chisquare(WORTH)
            truth = generator.normal(0.0, math.sqrt(variance / WORTH))
            logs = generator.normal(truth, math.sqrt(variance), runs + 1)
            pace = fitted(list(logs[:-1]))
            middle += pace.sure(0.05) < truth < pace.sure(0.95)
            day += pace.day(0.05) < logs[-1] < pace.day(0.95)
            errors.append(abs(math.exp(pace.middle - truth) - 1))
        error = statistics.median(errors)
        print(
            f"{runs:4}   {middle / DRAWS:18.3f}   {day / DRAWS:20.3f}   {error:17.1%}"
        )


def wild() -> None:
    """What one day moves that took ``times`` as long as the book says."""
    print("\nruns   wild day   moves the middle by   a plain mean by")
    for runs in (3, 6, 12):
        for times in (2, 10, 100):
            moved, plain = [], []
            for seed in range(400):
                logs = list(np.random.default_rng(seed).normal(0.1, 0.15, runs))
                log = math.log(times)
                both = fitted([*logs, log]).middle - fitted(logs).middle
                moved.append(abs(math.expm1(both)))
                before = sum(logs) / (runs + WORTH)
                after = (sum(logs) + log) / (runs + 1 + WORTH)
                plain.append(abs(math.expm1(after - before)))
            print(
                f"{runs:4}   {times:6} ×   {statistics.median(moved):18.1%}   "
                f"{statistics.median(plain):14.1%}"
            )


def seals() -> None:
    """Interval of the share of jars that do not seal, by number of lots."""
    print("\nlots   share in its 90 %")
    a, b = UNSEALED_WORTH * UNSEALED, UNSEALED_WORTH * (1 - UNSEALED)
    for lots in (2, 12, 60):
        generator = np.random.default_rng(lots)
        hits = 0
        for _ in range(DRAWS):
            truth = generator.beta(a, b)
            jars = generator.integers(6, 10, lots)
            seen = [(int(generator.binomial(n, truth)), int(n)) for n in jars]
            found = shared(seen, book=UNSEALED, worth=UNSEALED_WORTH)
            hits += found.low < truth < found.high
        print(f"{lots:4}   {hits / DRAWS:17.3f}")


def cost() -> None:
    """Seconds of the processor to write the invented year, and to learn from it."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "demo.db"
        began = time.process_time()
        year = write_year(file)
        wrote = time.process_time() - began
        took = []
        with open_records(file) as records:
            for _ in range(REPEATS):
                began = time.process_time()
                learned_from(records.ledger, kitchen="Hollow Larch")
                took.append(time.process_time() - began)
    print(
        f"\nThe invented year: {year.events:,} entries, {wrote:.1f} s of the processor;"
        f" learning from it {statistics.median(took):.2f} s (median of {REPEATS})."
    )


if __name__ == "__main__":
    paces()
    wild()
    seals()
    cost()
    sys.exit(0)
