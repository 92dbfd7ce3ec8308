"""
Durations of many days, drawn at once.

A duration that is not certain is log-normal on each side of its plan: the median is the
planned minute, and one day in twenty is below the low end of its spread, one in twenty
above the high end. A share ``rho`` of the variance is the day's own: on a slow day
everything is slow.

The days are a Latin hypercube [1]_: all days together take each step through all of its
fortunes, one in each of as many equally likely slices as there are days, in an order of
its own. What happens on any one day is as likely as if it were drawn alone, and the
averages over the days are steadier than of days drawn singly.

References
----------
.. [1] M. D. McKay, R. J. Beckman and W. J. Conover, "A comparison of three methods for
   selecting values of input variables in the analysis of output from a computer code",
   Technometrics 21(2), 1979, 239-245. From memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from stillroom.methods.step import Spread

Array = NDArray[np.floating]

SHARED_SLOW_DAY = 0.3
"""
Share of the variance of log durations that all steps of a day have in common.

Common practice, no source: an assumption until there are days of one's own to fit.
"""

Z_95 = 1.6448536269514722
"""The standard normal is below it nineteen times in twenty."""

LEAST_MIN = 0.5
"""A spread that begins at zero is taken to begin here: zero has no logarithm. [min]"""

TICKS_A_MINUTE = 64
"""
Durations are whole ticks, about a second each.

Sums of them are then exact in single precision up to 2^18 minutes, so that no rounding
decides which of two things came first.
"""

FEWEST_SLICES = 4096
"""Slices where fewer days are asked for: each day then takes its share of them."""


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


class Draws:
    """
    The fortunes of ``days`` days, made ready; each row is worked out when asked for.

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

    Raises
    ------
    ValueError
        If ``days`` or ``rho`` lies outside its range.
    """

    def __init__(
        self,
        planned_min: Sequence[int],
        spreads: Sequence[Spread | None],
        *,
        days: int,
        seed: int = 1,
        rho: float = SHARED_SLOW_DAY,
    ) -> None:
        if days < 1:
            raise ValueError(f"days = {days} is less than 1")
        if not 0.0 <= rho <= 1.0:
            raise ValueError(f"rho = {rho} is outside 0 to 1")
        self.days = days
        self.laws = [
            (
                int(planned),
                None if spread is None or not planned else log_widths(spread),
            )
            for planned, spread in zip(planned_min, spreads, strict=True)
        ]
        slices = max(days, FEWEST_SLICES, 4 * len(self.laws))
        generator = np.random.default_rng(seed)
        shared, own = np.float32(np.sqrt(rho)), np.float32(np.sqrt(1.0 - rho))
        self.slow_day = shared * generator.permutation(_quantiles(slices))[:days]
        ring = own * generator.permutation(_quantiles(slices))
        self.ring = np.concatenate([ring, ring[:days]])
        self.room = np.empty(days, dtype=np.float32)
        # no two rows begin to read at one place: on a day, their fortunes are different
        self.begins = generator.permutation(slices)[: len(self.laws)].tolist()

    def row(self, number: int, first: int, room: Array) -> Array | float:
        """
        Durations of one row from day ``first`` on. [min]

        Worked out in ``room`` and returned there; a fixed one is a plain number.
        """
        planned, widths = self.laws[number]
        if widths is None:
            return float(planned)
        day = slice(first, first + len(room))
        begin = self.begins[number] + first
        np.add(self.ring[begin : begin + len(room)], self.slow_day[day], out=room)
        below, above = widths
        if below == above:
            np.multiply(room, below, out=room)
        else:  # of the two lines through the median, the one of its own side
            of_its_side = np.maximum if above > below else np.minimum
            other = self.room[: len(room)]
            np.multiply(room, below, out=other)
            np.multiply(room, above, out=room)
            of_its_side(room, other, out=room)
        np.exp(room, out=room)
        np.multiply(room, float(planned * TICKS_A_MINUTE), out=room)
        np.rint(room, out=room)
        np.multiply(room, 1.0 / TICKS_A_MINUTE, out=room)
        return room

    def all_rows(self) -> Array:
        """
        All durations.

        Returns
        -------
        ndarray of shape (rows, days)
            Single precision, whole ticks. [min]
        """
        minutes = np.empty((len(self.laws), self.days), dtype=np.float32)
        for number, room in enumerate(minutes):
            found = self.row(number, 0, room)
            if isinstance(found, float):
                room.fill(found)
        return minutes


@lru_cache(maxsize=4)
def _quantiles(slices: int) -> NDArray[np.float32]:
    """Middles of equally likely slices of the standard normal, in order."""
    half = slices // 2
    normal = NormalDist()
    low = np.array([normal.inv_cdf((k + 0.5) / slices) for k in range(half)])
    middle = [0.0] if slices % 2 else []
    found = np.concatenate([low, middle, -low[::-1]]).astype(np.float32)
    found.flags.writeable = False
    return found
