"""
Modes of heat in a cylinder: their shapes, how fast each decays, and the lag of a ramp.

Arrays throughout: a column of figures for each jar, as `cylinder.Cylinder.rows` gives.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.science._bessel import (
    LEAST_BIOT,
    MOST_BIOT,
    cylinder_roots,
    i0e_i1e,
    j0_j1,
)
from stillroom.science.ranges import within

Array = NDArray[float64]

MEAN_MODES = (8, 20)
"""Radial and axial modes where the mean over the jar is wanted."""


@dataclass(frozen=True, slots=True)
class Modes:
    """
    Modes of n cylinders, seen at one point or as the mean over the volume.

    ``weight`` is what each mode has of a uniform start, ``decay_radial`` and
    ``decay_axial`` add up to its decay. ``ramp_s`` is the lag behind a unit ramp. The
    modes left out are taken together as one more, which decays like the slowest of
    them: so nothing jumps where the medium has a corner.
    """

    weight: Array  # (n, radial, axial)
    decay_radial: Array  # (n, radial) [1/s]
    decay_axial: Array  # (n, axial) [1/s]
    ramp_s: Array  # (n,)
    rest_weight: Array  # (n,), what the modes left out have of a uniform start
    rest_ramp_s: Array  # (n,), and of the lag
    rest_decay: Array  # (n,), the slowest of them [1/s]

    @property
    def decay(self) -> Array:
        """Decay of each mode, shape (n, radial, axial). [1/s]"""
        decay: Array = self.decay_radial[:, :, None] + self.decay_axial[:, None, :]
        return decay

    def left_after(self, duration_s: float) -> Array:
        """Share of each mode that is left, shape (n, radial, axial). [1]"""
        radial = np.exp(-self.decay_radial * duration_s)
        axial = np.exp(-self.decay_axial * duration_s)
        left: Array = radial[:, :, None] * axial[:, None, :]
        return left


def modes_at(
    rows: Array, z_share: Array, *, r_share: float = 0.0, modes: tuple[int, int]
) -> Modes:
    """
    Modes of cylinders as seen at a point.

    Parameters
    ----------
    rows : ndarray, shape (7, n)
        `Cylinder.rows`.
    z_share : ndarray, shape (n,)
        Height of the point over the height of the fill, 0 to 1. [1]
    r_share : float
        Radius of the point over the radius of the jar, 0 to 1. [1]
    modes : tuple of int
        Radial and axial modes.
    """
    radial, axial = Radial(rows, modes[0]), Axial(rows, modes[1])
    share = within(
        "r_share", r_share, 0.0, 1.0, source="points in the jar", hint="Give a share."
    )
    z = within(
        "z_share", z_share, 0.0, 1.0, source="points in the jar", hint="Give a share."
    )[:, None]
    seen_r = radial.coefficient
    if share > 0.0:
        seen_r = seen_r * j0_j1(radial.root * share)[0]
    b = axial.root
    shape_z = np.cos(b * z) + axial.bottom / b * np.sin(b * z)
    seen_z = axial.coefficient * shape_z
    x = b * rows[0][:, None] / rows[1][:, None]
    falls = radial.fall(x)
    if share > 0.0:
        falls = falls * i0e_i1e(x * share)[0] * np.exp(x * (share - 1.0))
    else:
        falls = falls * np.exp(-x)
    ramp = axial.slab_ramp_s(z[:, 0]) - (seen_z * axial.spread_s * falls).sum(1)
    return _with_rest(seen_r, seen_z, radial, axial, ramp)


def mean_modes(rows: Array, *, modes: tuple[int, int] = MEAN_MODES) -> Modes:
    """
    Modes of cylinders in the mean over their volume: what their heat content goes by.

    Parameters
    ----------
    rows : ndarray, shape (7, n)
        `Cylinder.rows`.
    modes : tuple of int
        Radial and axial modes.
    """
    radial, axial = Radial(rows, modes[0]), Axial(rows, modes[1])
    mean_r = radial.coefficient * 2.0 * radial.biot * radial.j0 / radial.root**2
    mean_z = axial.coefficient * axial.integral
    x = axial.root * rows[0][:, None] / rows[1][:, None]
    falls = radial.fall(x) * 2.0 * i0e_i1e(x)[1] / x
    ramp = axial.slab_mean_s() - (mean_z * axial.spread_s * falls).sum(1)
    return _with_rest(mean_r, mean_z, radial, axial, ramp)


def _with_rest(
    seen_r: Array, seen_z: Array, radial: Radial, axial: Axial, ramp: Array
) -> Modes:
    """Modes, and the one that stands for all that are left out."""
    weight = seen_r[:, :, None] * seen_z[:, None, :]
    decay = radial.decay[:, :, None] + axial.decay[:, None, :]
    return Modes(
        weight=weight,
        decay_radial=radial.decay,
        decay_axial=axial.decay,
        ramp_s=ramp,
        rest_weight=1.0 - weight.sum((1, 2)),
        rest_ramp_s=ramp - (weight / decay).sum((1, 2)),
        rest_decay=np.minimum(
            radial.next_decay + axial.decay[:, 0], axial.next_decay + radial.decay[:, 0]
        ),
    )


class Radial:
    """Modes across the jar: lam J1(lam) = Bi J0(lam)."""

    def __init__(self, rows: Array, count: int) -> None:
        radius, diffusivity, side = rows[0], rows[2], rows[4]
        biot = within(
            "Biot number of the side",
            side * radius / rows[3],
            LEAST_BIOT,
            MOST_BIOT,
            source="the table of roots",
            hint="Check the surface coefficient and the conductivity.",
        )
        self.biot = biot[:, None]
        roots, j0 = cylinder_roots(biot, count + 1)
        self.root, self.j0 = roots[:, :-1], j0[:, :-1]
        self.coefficient = 2.0 * self.biot / ((self.root**2 + self.biot**2) * self.j0)
        self.decay = diffusivity[:, None] * (self.root / radius[:, None]) ** 2
        self.next_decay = diffusivity * (roots[:, -1] / radius) ** 2

    def fall(self, x: Array) -> Array:
        """Bi / (Bi I0(x) + x I1(x)), times exp(x)."""
        zero, one = i0e_i1e(x)
        falls: Array = self.biot / (self.biot * zero + x * one)
        return falls


class Axial:
    """Modes along the jar, its two ends apart: b - atan(B1/b) - atan(B2/b) = n pi."""

    def __init__(self, rows: Array, count: int) -> None:
        height, diffusivity, conductivity = rows[1], rows[2], rows[3]
        self._height, self._diffusivity = height, diffusivity
        self.bottom = (rows[5] * height / conductivity)[:, None]
        self.top = (rows[6] * height / conductivity)[:, None]
        roots = axial_roots(self.bottom[:, 0], self.top[:, 0], count + 1)
        self.root = roots[:, :-1]
        b, low, high = self.root, self.bottom, self.top
        self.integral = (np.sin(b) + low / b * (1.0 - np.cos(b))) / b
        norm = ((b**2 + low**2) * (1.0 + high / (b**2 + high**2)) + low) / (2.0 * b**2)
        self.coefficient = self.integral / norm
        self.spread_s = (height**2 / diffusivity)[:, None] / b**2
        self.decay = 1.0 / self.spread_s
        self.next_decay = diffusivity / height**2 * roots[:, -1] ** 2

    def slab_ramp_s(self, z_share: Array) -> Array:
        """Lag behind a unit ramp if the jar were a slab: a parabola."""
        rise, foot, scale = self._parabola()
        return scale * (foot + z_share * (rise - 0.5 * z_share))

    def slab_mean_s(self) -> Array:
        """Mean of that lag over the height."""
        rise, foot, scale = self._parabola()
        mean: Array = scale * (foot + rise / 2.0 - 1.0 / 6.0)
        return mean

    def _parabola(self) -> tuple[Array, Array, Array]:
        low, high = self.bottom[:, 0], self.top[:, 0]
        rise = (1.0 + high / 2.0) / (1.0 + high + high / low)
        return rise, rise / low, self._height**2 / self._diffusivity


def axial_roots(bottom: Array, top: Array, count: int) -> Array:
    """
    First roots of ``b - (n-1) pi = atan(B1/b) + atan(B2/b)``.

    The left less the right rises and bends down, so that Newton's steps from the left
    of a root never overshoot it.

    Parameters
    ----------
    bottom, top : ndarray, shape (n,)
        Biot numbers of the two ends, on the whole height. [1]
    count : int
        How many.

    Returns
    -------
    ndarray, shape (n, count)
        Roots. [1]
    """
    low, high = bottom[:, None], top[:, None]
    turns = np.arange(count) * np.pi
    b = np.broadcast_to(turns, (low.size, count)).copy()
    b[:, 0] = 1e-6
    for _ in range(30):
        miss = b - turns - np.arctan(low / b) - np.arctan(high / b)
        step = miss / (1.0 + low / (b**2 + low**2) + high / (b**2 + high**2))
        b = b - step
        if np.abs(step).max() < 1e-9:  # the next step would be its square
            break
    return b
