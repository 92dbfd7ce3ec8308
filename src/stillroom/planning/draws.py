"""
Durations of many days, drawn at once.

A duration that is not certain is log-normal on each side of its plan: the median is the
planned minute, and one day in twenty is below the low end of its spread, one in twenty
above the high end. A share ``rho`` of the variance is the day's own: on a slow day
everything is slow.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stillroom.methods.step import Spread

Array = NDArray[np.float64]

SHARED_SLOW_DAY = 0.3
"""
Share of the variance of log durations that all steps of a day have in common.

Common practice, no source: an assumption until there are days of one's own to fit.
"""

Z_95 = 1.6448536269514722
"""The standard normal is below it nineteen times in twenty."""

LEAST_MIN = 0.5
"""A spread that begins at zero is taken to begin here: zero has no logarithm. [min]"""


def log_widths(spread: Spread) -> tuple[float, float]:
    """
    Standard deviation of the logarithm below and above the median.

    >>> tuple(round(s, 3) for s in log_widths(Spread(10, 20, 40)))
    (0.421, 0.421)
    """
    likely = max(float(spread.likely), LEAST_MIN)
    low = min(max(float(spread.low), LEAST_MIN), likely)
    high = max(float(spread.high), likely)
    below, above = np.log(likely / low) / Z_95, np.log(high / likely) / Z_95
    return float(below), float(above)


def drawn_minutes(
    planned_min: Sequence[int],
    spreads: Sequence[Spread | None],
    *,
    days: int,
    seed: int = 1,
    rho: float = SHARED_SLOW_DAY,
) -> Array:
    """
    Durations of ``days`` days.

    Parameters
    ----------
    planned_min : sequence of int
        Median of each duration. [min]
    spreads : sequence of Spread or None
        One for each; `None` where it is fixed.
    days : int
        How many days, 1 or more.
    seed : int
        Same seed, same days.
    rho : float
        Share of the variance that is the day's, 0 to 1.

    Returns
    -------
    ndarray of shape (len(planned_min), days)
        [min]

    Raises
    ------
    ValueError
        If ``days`` or ``rho`` lies outside its range.
    """
    if days < 1:
        raise ValueError(f"days = {days} is less than 1")
    if not 0.0 <= rho <= 1.0:
        raise ValueError(f"rho = {rho} is outside 0 to 1")
    # one draw for the day and one for each duration, whether it is fixed or not, so
    # that a step more or less does not change the days of the others more than it must
    generator = np.random.default_rng(seed)
    slow_day = np.sqrt(rho) * generator.standard_normal(days)
    minutes = np.empty((len(planned_min), days))
    for row, (planned, spread) in enumerate(zip(planned_min, spreads, strict=True)):
        z = generator.standard_normal(days)
        if spread is None or planned == 0:
            minutes[row] = planned
            continue
        z *= np.sqrt(1.0 - rho)
        z += slow_day
        below, above = log_widths(spread)
        minutes[row] = planned * np.exp(np.where(z < 0.0, below, above) * z)
    return minutes
