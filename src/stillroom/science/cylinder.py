"""
Heat in a cylinder that conducts: what a filled jar is, to the physicist.

A finite cylinder of radius R and height H, wrapped in three surface coefficients (side,
bottom, top), in a medium whose temperature is a broken line in time. Each mode of

    T = medium + sum v_mn J0(lam_m r/R) (cos(b_n z/H) + B1/b_n sin(b_n z/H)) - s W

only decays between two kinks of that line, so a step of any length is exact. ``s`` is
the slope of the medium and ``s W`` the lag behind an endless ramp, in closed form:
without it the modes that are left out would cost whole kelvins.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy import float64
from numpy.typing import ArrayLike, NDArray

from stillroom.science.modes import Axial, Modes, modes_at
from stillroom.science.ranges import OutOfRange, within

Array = NDArray[float64]

_MOST_MODES = (15, 60)
_CHUNK = 256
"""Jars worked on together, so that their modes stay in the processor's cache."""
_RANGES = {
    "radius_m": (0.005, 0.2, "preserving jars", "Give metres: 38 mm is 0.038."),
    "height_m": (0.01, 0.5, "preserving jars", "Give metres: 105 mm is 0.105."),
    "diffusivity_m2_s": (
        5e-8,
        5e-7,
        "foods (1.05e-7 to 1.82e-7 in printed tables) and a margin",
        "Give m²/s: jelly is about 1.4e-7.",
    ),
    "conductivity_w_per_m_k": (0.05, 2.0, "foods", "Give W/(m K): jelly is 0.5."),
    "side_w_m2_k": (0.5, 20_000.0, "air to condensing steam", "Give W/(m² K)."),
    "bottom_w_m2_k": (0.5, 20_000.0, "air to condensing steam", "Give W/(m² K)."),
    "top_w_m2_k": (0.5, 20_000.0, "air to condensing steam", "Give W/(m² K)."),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cylinder:
    """
    A cylinder, or many at once, with its surface coefficients.

    Parameters
    ----------
    radius_m, height_m : float or ndarray
        Inside radius, and height of the fill. [m]
    diffusivity_m2_s : float or ndarray
        Thermal diffusivity of the food, 5e-8 to 5e-7. [m²/s]
    conductivity_w_per_m_k : float or ndarray
        Thermal conductivity of the food, 0.05 to 2. [W/(m K)]
    side_w_m2_k, bottom_w_m2_k, top_w_m2_k : float or ndarray
        Coefficients from the medium to the food, wall included. [W/(m² K)]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Notes
    -----
    Fields broadcast against each other: one figure each is one jar, arrays are many.
    """

    radius_m: float | Array
    height_m: float | Array
    diffusivity_m2_s: float | Array
    conductivity_w_per_m_k: float | Array
    side_w_m2_k: float | Array
    bottom_w_m2_k: float | Array
    top_w_m2_k: float | Array

    def __post_init__(self) -> None:
        for field in fields(self):
            low, high, source, hint = _RANGES[field.name]
            value = getattr(self, field.name)
            within(field.name, value, low, high, source=source, hint=hint)

    @property
    def shape(self) -> tuple[int, ...]:
        """Shape of the collection; empty for one jar."""
        values = (np.shape(getattr(self, field.name)) for field in fields(self))
        return np.broadcast_shapes(*values)

    def rows(self) -> Array:
        """All fields in their order, one column a jar, shape (7, n)."""
        values = [getattr(self, field.name) for field in fields(self)]
        return np.stack([np.broadcast_to(v, self.shape).ravel() for v in values])


def history_k(
    jar: Cylinder,
    time_s: ArrayLike,
    medium_k: ArrayLike,
    start_k: float | Array,
    out_s: ArrayLike | None = None,
    *,
    r_share: float = 0.0,
    z_share: float | Array = 0.5,
    modes: tuple[int, int] | None = None,
) -> Array:
    """
    Temperature at one point of a jar while the medium follows a broken line.

    Parameters
    ----------
    jar : Cylinder
        One jar, or n of them.
    time_s, medium_k : array-like, shape (k,)
        Corners of the line. A time given twice is a jump, such as a lift. [s], [K]
    start_k : float or ndarray
        The whole jar at the first corner, 230 to 450. [K]
    out_s : array-like, shape (m,), optional
        When to answer, not decreasing, within the line; its corners otherwise. [s]
    r_share, z_share : float
        Point: share of the radius, and of the height from the bottom; ``z_share`` may
        be given jar by jar. [1]
    modes : tuple of int
        Radial (up to 15) and axial modes; as many as the point needs otherwise, which
        is 0.005 K at the middle of a jar.

    Returns
    -------
    ndarray, shape (m,) or (n, m)
        Temperature at the point. [K]

    Raises
    ------
    OutOfRange
        If times run backward, or a figure lies outside its range.

    Examples
    --------
    >>> pint = Cylinder(radius_m=0.038, height_m=0.105, diffusivity_m2_s=1.4e-7,
    ...     conductivity_w_per_m_k=0.5, side_w_m2_k=272.727, bottom_w_m2_k=214.286,
    ...     top_w_m2_k=20.0)
    >>> middle = history_k(pint, [0, 3600], [373.15, 373.15], 343.15, [1800, 3600])
    >>> print([f"{t - 273.15:.1f} °C" for t in middle])
    ['81.5 °C', '93.3 °C']

    References
    ----------
    .. [1] Carslaw and Jaeger, Conduction of Heat in Solids, product solutions for the
       finite cylinder with radiation at its surfaces.
    """
    corners = _times("time_s", time_s)
    medium = within(
        "medium_k",
        np.asarray(medium_k, dtype=float),
        230.0,
        450.0,
        source="kitchens, freezers and canners",
        hint="Give kelvin: °C + 273.15.",
    )
    if corners.shape != medium.shape or corners.size < 2:
        raise OutOfRange(
            "time_s and medium_k need the same length, two corners at least: they came "
            f"with {corners.size} and {medium.size}"
        )
    start = within(
        "start_k",
        np.broadcast_to(np.asarray(start_k, dtype=float), jar.shape).ravel(),
        230.0,
        450.0,
        source="kitchens, freezers and canners",
        hint="Give kelvin: °C + 273.15.",
    )
    out = corners if out_s is None else _times("out_s", out_s)
    if out[0] < corners[0] or out[-1] > corners[-1]:
        raise OutOfRange(
            f"out_s from {out[0]:g} to {out[-1]:g} s leaves the medium's line, "
            f"{corners[0]:g} to {corners[-1]:g} s. Nothing is extrapolated: draw the "
            "medium on."
        )
    rows = jar.rows()
    heights = np.broadcast_to(np.asarray(z_share, dtype=float), jar.shape).ravel()
    told = np.empty((rows.shape[1], out.size))
    hush_s = _hush_s(rows, heights, r_share)
    alike = np.argsort(hush_s, kind="stable")
    for first in range(0, rows.shape[1], _CHUNK):
        some = alike[first : first + _CHUNK]
        hush = float(hush_s[some[0]])
        seen = modes_at(
            rows[:, some],
            heights[some],
            r_share=r_share,
            modes=modes or _modes_for(rows[:, some], hush),
        )
        part = np.empty((some.size, out.size))
        _march(seen, hush, corners, medium, start[some], out, part)
        told[some] = part
    return told.reshape(*jar.shape, out.size)


def _march(
    seen: Modes,
    hush_s: float,
    corners: Array,
    medium: Array,
    start: Array,
    out: Array,
    told: Array,
) -> None:
    """
    Fill ``told`` (n, m) with the temperatures at the times ``out``.

    A corner of the medium is let in ``hush_s`` after its time: until then nothing of it
    has reached the point, and a sum of finitely many modes would only ring.
    """
    events = _events(corners, medium, start)
    lag = seen.weight / seen.decay
    arrived = seen.left_after(hush_s)
    rest_arrived = np.exp(-seen.rest_decay * hush_s)
    v = np.zeros_like(seen.weight)
    rest = np.zeros_like(start)
    surround, slope = start, 0.0
    ends = [*(time + hush_s for time, _, _ in events[1:]), np.inf]
    place = int(np.searchsorted(out, events[0][0] + hush_s))
    told[:, :place] = start[:, None]
    for (time, jump, turn), end in zip(events, ends, strict=True):
        now = time + hush_s
        v += (turn * lag - jump[:, None, None] * seen.weight) * arrived
        rest = rest + (turn * seen.rest_ramp_s - jump * seen.rest_weight) * rest_arrived
        surround, slope = surround + jump + turn * hush_s, slope + turn
        upto = int(np.searchsorted(out, end))
        if upto > place:
            age = out[place:upto] - now
            radial = np.exp(-seen.decay_radial[:, :, None] * age)
            axial = np.exp(-seen.decay_axial[:, :, None] * age)
            told[:, place:upto] = (
                (radial * (v @ axial)).sum(1)
                + rest[:, None] * np.exp(-seen.rest_decay[:, None] * age)
                + (surround - slope * seen.ramp_s)[:, None]
                + slope * age
            )
            place = upto
        if place == out.size:
            return
        v *= seen.left_after(end - now)
        rest = rest * np.exp(-seen.rest_decay * (end - now))
        surround = surround + slope * (end - now)


def _events(
    corners: Array, medium: Array, start: Array
) -> list[tuple[float, Array, float]]:
    """Jump and change of slope of the medium at each of its corners."""
    events = []
    jump, slope = medium[0] - start, 0.0
    for i in range(corners.size - 1):
        length = corners[i + 1] - corners[i]
        if length == 0.0:
            jump = jump + (medium[i + 1] - medium[i])
            continue
        turned = (medium[i + 1] - medium[i]) / length
        if turned != slope or jump.any():
            events.append((float(corners[i]), jump, float(turned - slope)))
        jump, slope = np.zeros_like(start), turned
    return events


def _hush_s(rows: Array, z_share: Array, r_share: float) -> Array:
    """
    How long the point hears nothing of a change outside, shape (n,). [s]

    After ``d²/(4 a c²)`` a wall at the distance d has sent erfc(c) of its step; c = 3.2
    is 6e-6, a fifth of a millikelvin of 40 K.
    """
    radius, height, diffusivity = rows[0], rows[1], rows[2]
    nearest = np.minimum(radius * (1.0 - r_share), height * z_share)
    nearest = np.minimum(nearest, height * (1.0 - z_share))
    hush: Array = nearest**2 / (4.0 * diffusivity * 3.2**2)
    return hush


def _modes_for(rows: Array, hush_s: float) -> tuple[int, int]:
    """As many modes as have not died away by the end of the hush."""
    reach = np.sqrt(4.0 * rows[2] * hush_s) * 3.2
    most_r, most_z = _MOST_MODES
    with np.errstate(divide="ignore"):
        radial = np.ceil(6.0 * (rows[0] / reach).max())
        axial = np.ceil(6.0 * (rows[1] / reach).max())
    return int(np.clip(radial, 6, most_r)), int(np.clip(axial, 10, most_z))


def cold_spot(jar: Cylinder) -> Array:
    """
    Height of the point that warms last, on the axis, as a share of the fill.

    Parameters
    ----------
    jar : Cylinder
        One jar, or n of them.

    Returns
    -------
    ndarray
        Where the slowest mode is greatest, ``atan(B1/b)/b``: above the middle, because
        the headspace heats less than the bottom does. [1]
    """
    axial = Axial(jar.rows(), 1)
    spot: Array = np.arctan(axial.bottom / axial.root) / axial.root
    return np.asarray(spot[:, 0].reshape(jar.shape))[()]


def slowest_mode(jar: Cylinder, z_share: float | Array = 0.5) -> tuple[Array, Array]:
    """
    Heating-rate index and lag factor: the straight part of the heating curve.

    Parameters
    ----------
    jar : Cylinder
        One jar, or n of them.
    z_share : float or ndarray
        Height of the point on the axis, as a share of the fill. [1]

    Returns
    -------
    tuple of ndarray
        ``fh`` = ln 10 / decay of the slowest mode [s], and ``j``, its share of a
        uniform start at that point [1].
    """
    rows = jar.rows()
    heights = np.broadcast_to(np.asarray(z_share, dtype=float), jar.shape).ravel()
    seen = modes_at(rows, heights, modes=(1, 1))
    index = np.log(10.0) / seen.decay[:, 0, 0]
    lag = seen.weight[:, 0, 0]
    return index.reshape(jar.shape)[()], lag.reshape(jar.shape)[()]


def _times(name: str, values: ArrayLike) -> Array:
    times = within(
        name,
        np.atleast_1d(np.asarray(values, dtype=float)),
        -1e7,
        1e7,
        source="one day's work",
        hint="Give seconds.",
    )
    if times.size and (np.diff(times) < 0.0).any():
        at = int(np.argmax(np.diff(times) < 0.0)) + 1
        raise OutOfRange(
            f"{name}[{at}] = {times[at]:g} s comes before {times[at - 1]:g} s. Times "
            "run forward: sort them, and mend the clock."
        )
    return times
