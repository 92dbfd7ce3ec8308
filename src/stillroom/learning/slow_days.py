"""
How much of the spread is the day's own: on a slow day everything is slow.

Components of variance of one random effect, by the method of moments, with days of
different numbers of steps (Searle, Casella and McCulloch, Variance Components, 1992,
section 3.6; known from memory): with ``a`` days of ``n_i`` steps, ``N`` in all, the
mean squares between and within days give ``within = MSW`` and
``between = (MSB - MSW) / n0``, ``n0 = (N - sum n_i^2 / N) / (a - 1)``. Their share
``between / (between + within)`` is then shrunk to the book's, worth `WORTH_DAYS` days.
"""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.learning.pace import Pace, pulled_in
from stillroom.methods.learned import SlowDay
from stillroom.planning.day_odds.draws import SHARED_SLOW_DAY

WORTH_DAYS = 6
"""Days that the book's share is worth: an assumption, common practice, no source."""
LEAST_DAYS = 3


def slow_day(days: Sequence[Sequence[float]]) -> SlowDay | None:
    """
    Return what all steps of a day have in common; `None` where it cannot be told.

    Parameters
    ----------
    days : sequence of sequences of float
        For each day, how far the logarithm of each step lay from its usual.

    Examples
    --------
    >>> slow_day([[0.1, 0.2]]) is None
    True
    """
    told = [tuple(day) for day in days if len(day) > 1]
    if len(told) < LEAST_DAYS:
        return None
    share = share_between(_pulled_in(told))
    if share is None:
        return None
    shrunk = WORTH_DAYS * SHARED_SLOW_DAY + len(told) * share
    return SlowDay(
        share=shrunk / (WORTH_DAYS + len(told)), days=len(told), book=SHARED_SLOW_DAY
    )


def share_between(days: Sequence[Sequence[float]]) -> float | None:
    """
    Return the share of the variance that lies between days, 0 to 1.

    `None` where nothing varies at all.
    """
    a, total = len(days), sum(len(day) for day in days)
    mean = sum(sum(day) for day in days) / total
    means = [sum(day) / len(day) for day in days]
    msb = sum(len(d) * (m - mean) ** 2 for d, m in zip(days, means, strict=True)) / (
        a - 1
    )
    msw = sum((x - m) ** 2 for d, m in zip(days, means, strict=True) for x in d) / (
        total - a
    )
    n0 = (total - sum(len(day) ** 2 for day in days) / total) / (a - 1)
    between = max(0.0, (msb - msw) / n0)
    return between / (between + msw) if between + msw > 0.0 else None


def _pulled_in(days: Sequence[Sequence[float]]) -> list[list[float]]:
    """Pull wild steps in, as among all steps of all days."""
    every = [x for day in days for x in day]
    mean = sum(every) / len(every)
    spread = (sum((x - mean) ** 2 for x in every) / len(every)) ** 0.5
    near = iter(pulled_in(every, Pace(mean, spread, 1.0, 0), 1))
    return [[next(near) for _ in day] for day in days]
