"""
Bessel functions and the roots that heat conduction in a cylinder needs.

The trapezoid rule on Bessel's integral is exact to rounding for the arguments in use:
its error with 2 N points round the circle is of the order of the function of order 2 N.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy import float64
from numpy.typing import NDArray

Array = NDArray[float64]

MOST_MODES = 16
LEAST_BIOT, MOST_BIOT = 1e-4, 1e4
_GRID = 241
_ANGLES = (np.arange(64) + 0.5) * (np.pi / 64)
_SIN, _COS = np.sin(_ANGLES), np.cos(_ANGLES)


def j0_j1(x: Array) -> tuple[Array, Array]:
    """Bessel functions of the first kind, orders 0 and 1, for 0 <= x < 60. [1]"""
    turn = x[..., None] * _SIN
    return np.cos(turn).mean(-1), np.cos(_ANGLES - turn).mean(-1)


def i0e_i1e(x: Array) -> tuple[Array, Array]:
    """Modified Bessel functions, orders 0 and 1, times exp(-x), 0 <= x < 300. [1]"""
    grown = np.exp(x[..., None] * (_COS - 1.0))
    return grown.mean(-1), (grown * _COS).mean(-1)


def cylinder_roots(biot: Array, modes: int) -> tuple[Array, Array]:
    """
    First roots of ``lam J1(lam) = Bi J0(lam)``, and J0 there.

    Cubic Hermite interpolation over log Bi between exact roots, with the exact slopes
    ``dlam/dlnBi = Bi lam/(lam² + Bi²)`` and ``dJ0/dlnBi = -Bi² J0/(lam² + Bi²)``.

    Parameters
    ----------
    biot : ndarray, shape (n,)
        Side coefficient times radius over conductivity, 1e-4 to 1e4. [1]
    modes : int
        How many, up to 16.

    Returns
    -------
    tuple of ndarray, shape (n, modes)
        Roots, within 1e-7, and J0 at them. [1]
    """
    grid, table, slopes = _root_table()
    step = grid[1] - grid[0]
    where = np.clip((np.log(biot) - grid[0]) / step, 0.0, _GRID - 1.000001)
    cell = where.astype(int)
    s = (where - cell)[:, None, None]
    f0, f1 = table[cell][:, :modes], table[cell + 1][:, :modes]
    d0, d1 = step * slopes[cell][:, :modes], step * slopes[cell + 1][:, :modes]
    cubic = f0 + s * (
        d0 + s * (3.0 * (f1 - f0) - 2.0 * d0 - d1 + s * (2.0 * (f0 - f1) + d0 + d1))
    )
    return cubic[..., 0], cubic[..., 1]


@cache
def _root_table() -> tuple[Array, Array, Array]:
    """Grid of log Bi; (root, J0) and their slopes, shape (grid, modes, 2)."""
    grid = np.linspace(np.log(LEAST_BIOT), np.log(MOST_BIOT), _GRID)
    biot = np.exp(grid)[:, None]
    # Each root lies between a zero of J1 (0 for the first) and the next zero of J0.
    low = np.concatenate([[0.0], _zeros(1, MOST_MODES - 1)])
    low, high = np.broadcast_arrays(low, _zeros(0, MOST_MODES))
    low, high = (np.tile(end, (_GRID, 1)) for end in (low, high))
    # Between its ends lam J1 - Bi J0 changes sign once; which way alternates with m.
    sign = np.where(np.arange(MOST_MODES) % 2 == 0, 1.0, -1.0)
    for _ in range(7):
        middle = 0.5 * (low + high)
        zero, one = j0_j1(middle)
        right = sign * (middle * one - biot * zero) < 0.0
        low, high = np.where(right, middle, low), np.where(right, high, middle)
    root = 0.5 * (low + high)
    for _ in range(5):
        zero, one = j0_j1(root)
        newton = root - (root * one - biot * zero) / (root * zero + biot * one)
        root = np.where((newton > 0.5 * low) & (newton < 2.0 * high), newton, root)
    zero = j0_j1(root)[0]
    both = root**2 + biot**2
    table = np.stack([root, zero], axis=-1)
    slopes = np.stack([biot * root / both, -(biot**2) * zero / both], axis=-1)
    return grid, table, slopes


def _zeros(order: int, count: int) -> Array:
    """First positive zeros of J0 or J1: McMahon's guess and Newton's steps."""
    x = np.pi * (np.arange(1.0, count + 1.0) + (0.25 if order else -0.25))
    for _ in range(5):
        zero, one = j0_j1(x)
        # J0' = -J1; J1' = J0 - J1/x
        x = x - one / (zero - one / x) if order else x + zero / one
    return x
