"""
How many times the book's figure: fitted on the logarithm, shrunk to the book.

A day's figure over the book's is taken as log-normal. Middle and variance have the
conjugate prior, normal and scaled inverse chi-squared (Gelman, Carlin, Stern, Dunson,
Vehtari and Rubin, Bayesian Data Analysis, 3rd ed. 2013, section 3.3; known from
memory). With the book's figure worth ``k`` runs, ``n`` runs of mean ``m`` give

- middle: ``(k m0 + n m) / (k + n)``, so that it is the book's at ``n = 0`` and the
  keeper's own as ``n`` grows;
- variance: ``(k s0^2 + sum (x - m)^2 + k n / (k + n) (m - m0)^2) / (k + n)``;
- the middle lies about its estimate as Student's t of ``k + n`` degrees with the
  variance over ``k + n``; the next day as the same t, with ``1 + 1 / (k + n)`` times
  the variance.

Before that, a wild day is pulled in: what lies more than ``WILD`` spreads from the
median counts as if it lay just there (Huber and Ronchetti, Robust Statistics, 2nd ed.
2009, section 1.7, "metrically Winsorized"; known from memory). Median and spread are
of the runs together with ``k`` runs of the book's, so that one day among few has no
more to say than one among many.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from stillroom.learning.quantiles import t_quantile

WORTH = 4
"""Runs that the book's figure is worth: an assumption, common practice, no source."""
USUAL_SPREAD = 0.2
"""
Standard deviation of the logarithm before anything is known. [1]

About what the book's own spread of a duration says: eight tenths to half as much again.
"""
WILD = 2.5
"""Spreads from the median beyond which a day is pulled in."""
_QUARTILE = 0.6744897501960817
_OF_MAD = 1.4826022185056018
"""The spread of a normal distribution over its median absolute deviation."""


@dataclass(frozen=True, slots=True)
class Pace:
    """The logarithm of a figure over the book's, and what is known of it."""

    middle: float
    spread: float
    """Standard deviation of a day."""
    worth: float
    """Runs it rests on, with those of the book."""
    runs: int

    def sure(self, share: float) -> float:
        """Return what the middle lies below with this certainty."""
        width = self.spread / math.sqrt(self.worth)
        return self.middle + t_quantile(share, self.worth) * width

    def day(self, share: float) -> float:
        """Return what the next day lies below with this certainty."""
        width = self.spread * math.sqrt(1.0 + 1.0 / self.worth)
        return self.middle + t_quantile(share, self.worth) * width


BOOK = Pace(middle=0.0, spread=USUAL_SPREAD, worth=float(WORTH), runs=0)
"""As the book has it: nothing learned."""


def fitted(logs: Sequence[float], prior: Pace = BOOK, worth: int = WORTH) -> Pace:
    """
    Return what runs tell, shrunk to ``prior``.

    Parameters
    ----------
    logs : sequence of float
        Natural logarithm of each run's figure over the book's.
    prior : Pace
        Where it begins: the book, or the same work for other products.
    worth : int
        Runs that the prior is worth, 1 or more.

    Examples
    --------
    >>> fitted([]) == BOOK
    True
    >>> fitted([0.3] * 4).middle
    0.15
    """
    if worth < 1:
        raise ValueError(f"worth = {worth} is less than 1")
    n, k = len(logs), float(worth)
    near = pulled_in(logs, prior, worth)
    mean = sum(near) / n if n else prior.middle
    middle = (k * prior.middle + n * mean) / (k + n)
    squares = k * prior.spread**2 + sum((x - mean) ** 2 for x in near)
    squares += k * n / (k + n) * (mean - prior.middle) ** 2
    return Pace(middle, math.sqrt(squares / (k + n)), k + n, n)


def pulled_in(logs: Sequence[float], prior: Pace, worth: int) -> tuple[float, ...]:
    """Return the runs with wild ones moved to the end of what is usual."""
    quartile = _QUARTILE * prior.spread
    half = [prior.middle - quartile, prior.middle + quartile]
    all_runs = [*logs, *half * (worth // 2), *[prior.middle] * (worth % 2)]
    at = median(all_runs)
    usual = _OF_MAD * median(abs(x - at) for x in all_runs)
    reach = WILD * max(usual, 0.25 * prior.spread)
    return tuple(min(at + reach, max(at - reach, x)) for x in logs)
