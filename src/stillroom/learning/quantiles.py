"""
Quantiles of Student's t and of the beta distribution, by the incomplete beta function.

The continued fraction is 26.5.8 of Abramowitz and Stegun, Handbook of Mathematical
Functions (1964), evaluated by Lentz's method; t follows from it by 26.7.1 (both known
from memory; the tests hold them against a general library).
"""

from __future__ import annotations

import math
from collections.abc import Callable

_TINY = 1e-300
_STEPS = 500
_HALVINGS = 200


def beta_share_below(x: float, a: float, b: float) -> float:
    """
    Return the share of a beta distribution that lies below ``x``. [1]

    Parameters
    ----------
    x : float
        0 to 1.
    a, b : float
        Above 0.

    Examples
    --------
    >>> beta_share_below(0.3, 1.0, 1.0)  # all shares alike
    0.3
    """
    if not 0.0 < x < 1.0:
        return float(x >= 1.0)
    front = math.exp(
        math.lgamma(a + b)
        - math.lgamma(a)
        - math.lgamma(b)
        + a * math.log(x)
        + b * math.log1p(-x)
    )
    if x > (a + 1.0) / (a + b + 2.0):  # the fraction converges fast on one side only
        return 1.0 - front * _fraction(1.0 - x, b, a) / b
    return front * _fraction(x, a, b) / a


def _fraction(x: float, a: float, b: float) -> float:
    value = upper = 1.0
    lower = 1.0 / _not_zero(1.0 - (a + b) * x / (a + 1.0))
    value = lower
    for m in range(1, _STEPS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            lower = 1.0 / _not_zero(1.0 + term * lower)
            upper = _not_zero(1.0 + term / upper)
            value *= lower * upper
        if abs(lower * upper - 1.0) < 1e-15:
            break
    return value


def _not_zero(number: float) -> float:
    return number if abs(number) > _TINY else _TINY


def beta_quantile(share: float, a: float, b: float) -> float:
    """
    Return the value below which a share of a beta distribution lies. [1]

    >>> round(beta_quantile(0.5, 2.0, 2.0), 12)
    0.5
    """
    _within(share)
    return _halved(lambda x: beta_share_below(x, a, b), share, 0.0, 1.0)


def t_quantile(share: float, degrees: float) -> float:
    """
    Return the value below which a share of Student's t lies.

    Parameters
    ----------
    share : float
        Above 0, below 1.
    degrees : float
        Degrees of freedom, above 0; they need not be whole.

    Examples
    --------
    >>> round(t_quantile(0.95, 4.0), 3)
    2.132
    """
    _within(share)
    if share == 0.5:
        return 0.0
    # 26.7.1: with x = n / (n + t^2) the two tails together are I_x(n/2, 1/2)
    tails = 2.0 * min(share, 1.0 - share)
    x = _halved(lambda x: beta_share_below(x, degrees / 2.0, 0.5), tails, 0.0, 1.0)
    distance = math.sqrt(degrees * (1.0 - x) / max(x, _TINY))
    return distance if share > 0.5 else -distance


def _within(share: float) -> None:
    if not 0.0 < share < 1.0:
        raise ValueError(f"share = {share} is outside 0 to 1")


def _halved(
    below: Callable[[float], float], share: float, low: float, high: float
) -> float:
    """Halve until the two ends are one number."""
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if below(middle) < share:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
