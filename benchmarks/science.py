"""
Arrays against a Python loop, and the aims that the science was built to.

    .venv/bin/python benchmarks/science.py
"""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable

import numpy as np

from stillroom.science import boiling, water
from stillroom.science.canner import Canner, come_up
from stillroom.science.jar import jar_in_water
from stillroom.science.lethality import ACID_FOOD, lethality_min

RNG = np.random.default_rng(11)


def median_s(work: Callable[[], object], repeats: int = 5) -> float:
    """Median time of some runs after a first. [s]"""
    work()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> int:
    """Measure and print; only errors fail, cores are noisy."""
    pressure = RNG.uniform(70e3, 105e3, 1_000_000)
    solids = RNG.uniform(0.1, 0.8, 1_000_000)
    minutes = np.arange(1000.0) * 30.0
    logs = RNG.uniform(340.0, 372.0, (1000, 1000))
    quart = jar_in_water("quart")
    pot = Canner(water_kg=9.0, net_w=1500.0)

    def up() -> object:
        return come_up(pot, quart, 7, water_k=355.15, jar_k=355.15, boils_k=373.1)

    few = slice(0, 2000)
    rows = [
        (
            "1e6 boiling points",
            0.3,
            lambda: water.boiling_point_k(pressure),
            lambda: [water.boiling_point_k(float(p)) for p in pressure[few]],
            500,
        ),
        (
            "1e6 syrup boiling points",
            0.5,
            lambda: boiling.boiling_point_rise_k(solids, pressure),
            lambda: [
                boiling.boiling_point_rise_k(float(w), float(p))
                for w, p in zip(solids[few], pressure[few], strict=True)
            ],
            500,
        ),
        (
            "F of 1,000 logs x 1,000 readings",
            0.03,
            lambda: lethality_min(minutes, logs, ACID_FOOD),
            lambda: [lethality_min(minutes, row, ACID_FOOD) for row in logs[:50]],
            20,
        ),
        ("canner come-up, 7 quarts", 0.05, up, None, 1),
    ]
    print(f"load average {os.getloadavg()[0]:.2f}, {os.cpu_count()} cores, median of 5")
    for name, aim, arrays, loop, scale in rows:
        seconds = median_s(arrays)
        line = f"{name:34} {1e3 * seconds:8.1f} ms  (aim {1e3 * aim:.0f} ms)"
        if loop is not None:
            slow = scale * median_s(loop, 3)
            line += f"  loop {slow:7.2f} s, {slow / seconds:5.0f} x"
        print(line)
    wrong = np.abs(
        water.boiling_point_k(pressure[:100])
        - [water.boiling_point_k(float(p)) for p in pressure[:100]]
    ).max()
    return 0 if wrong < 1e-9 else 1


if __name__ == "__main__":
    raise SystemExit(main())
