"""
A jar of food that conducts: how its middle warms and cools, as an estimate.

Thick foods (jelly, butters, purees) conduct and follow this model; thin ones stir
themselves, warm several times faster, and get a measured index or none at all. Nothing
here shortens, lengthens or replaces a published process.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy import float64
from numpy.typing import ArrayLike, NDArray

from stillroom.science import glass
from stillroom.science.cylinder import Cylinder, cold_spot, history_k, slowest_mode
from stillroom.science.estimate import Estimate, EstimatedCurve
from stillroom.science.ranges import OutOfRange, within

SIZES_M = {
    "half-pint": (0.032, 0.075),
    "pint": (0.038, 0.105),
    "quart": (0.045, 0.145),
}
"""Inside radius and height of the fill, of typical straight jars: from memory. [m]"""
DIFFUSIVITY_M2_S = (1.3e-7, 1.4e-7, 1.5e-7)
"""
Of jelly and fruit butters, low, usual and high: from memory, inside the printed 1.05e-7
to 1.82e-7 of fruits and purees. [m²/s]
"""
CONDUCTIVITY_W_PER_M_K = 0.5
HEADSPACE_W_M2_K = 20.0
"""From the medium through the headspace to the food: from memory. [W/(m² K)]"""
SOURCE = (
    "conduction in a finite cylinder (Carslaw and Jaeger); diffusivity and surface "
    "coefficients from memory"
)


def jar_in_water(size: str) -> Cylinder:
    """
    A jar under boiling water: 3 mm of glass at the side, 4 mm at the bottom.

    Parameters
    ----------
    size : str
        ``half-pint``, ``pint`` or ``quart``.

    Returns
    -------
    Cylinder
        To be fed to this module and to `canner`.

    Raises
    ------
    OutOfRange
        If the size is not one of these.

    Examples
    --------
    >>> jar_in_water("pint").height_m
    0.105
    """
    film = glass.BOILING_WATER_W_M2_K * 1.5
    return _jar(
        size,
        side_w_m2_k=glass.wall_w_m2_k(film, 0.003),
        bottom_w_m2_k=glass.wall_w_m2_k(film, 0.004),
        top_w_m2_k=HEADSPACE_W_M2_K,
    )


def jar_in_air(size: str) -> Cylinder:
    """
    A jar on the counter, out of draughts: some 10 W/(m² K) all round.

    Parameters
    ----------
    size : str
        ``half-pint``, ``pint`` or ``quart``.

    Returns
    -------
    Cylinder
        To be fed to this module.

    Raises
    ------
    OutOfRange
        If the size is not one of these.

    Examples
    --------
    >>> jar_in_air("quart").side_w_m2_k
    10.0
    """
    air = glass.STILL_AIR_W_M2_K
    return _jar(size, side_w_m2_k=air, bottom_w_m2_k=air, top_w_m2_k=air)


def heating_rate_index(jar: Cylinder) -> Estimate:
    """
    Heating-rate index fh: time in which the middle closes nine tenths of its gap.

    Parameters
    ----------
    jar : Cylinder
        One jar; in air it is the cooling-rate index fc.

    Returns
    -------
    Estimate
        Minutes; the spread is that of the food's diffusivity.

    Examples
    --------
    >>> print(heating_rate_index(jar_in_water("pint")))
    65 min (61 to 70; an estimate: a jar that conducts, R 38 mm, H 105 mm)
    """
    _single(jar)
    slow, usual, quick = (
        float(slowest_mode(with_diffusivity(jar, share))[0]) / 60.0
        for share in (0, 1, 2)
    )
    return Estimate(
        value=usual, unit="min", low=quick, high=slow, basis=_words(jar), source=SOURCE
    )


def lag_factor(jar: Cylinder, z_share: float = 0.5) -> Estimate:
    """
    Lag factor j: how far the straight part of the heating curve is put off.

    Parameters
    ----------
    jar : Cylinder
        One jar.
    z_share : float
        Height of the point on the axis over the fill. [1]

    Returns
    -------
    Estimate
        Pure number, 2.04 at most at the middle of a cylinder. [1]

    Examples
    --------
    >>> print(lag_factor(jar_in_water("pint")))
    1.9 (1.8 to 2.0; an estimate: a jar that conducts, R 38 mm, H 105 mm)
    """
    _single(jar)
    value = float(slowest_mode(jar, z_share)[1])
    return Estimate(
        value=value,
        unit="1",
        low=max(0.0, value - 0.08),
        high=value + 0.08,
        basis=_words(jar),
        source=SOURCE,
    )


def middle_curve(
    jar: Cylinder,
    time_s: ArrayLike,
    medium_k: ArrayLike,
    start_k: float,
    out_s: ArrayLike | None = None,
) -> EstimatedCurve:
    """
    How the slowest point of a jar warms and cools, with its spread.

    Parameters
    ----------
    jar : Cylinder
        One jar.
    time_s, medium_k : array-like, shape (k,)
        Corners of the bath's temperature; see `cylinder.history_k`. [s], [K]
    start_k : float
        The whole jar at the first corner. [K]
    out_s : array-like, shape (m,), optional
        When to answer. [s]

    Returns
    -------
    EstimatedCurve
        Temperature at the cold spot over time. [K] over [s]

    Raises
    ------
    OutOfRange
        If times run backward, or a figure lies outside its range.

    Examples
    --------
    >>> curve = middle_curve(jar_in_water("pint"), [0, 1800], [373.15] * 2, 353.15)
    >>> print(f"{curve.value[-1] - 273.15:.0f} °C after half an hour at the boil")
    88 °C after half an hour at the boil
    """
    _single(jar)
    spot = float(cold_spot(jar))
    times = np.asarray(time_s if out_s is None else out_s, dtype=float)
    runs = np.stack(
        [
            history_k(
                with_diffusivity(jar, share),
                time_s,
                medium_k,
                start_k,
                times,
                z_share=spot,
            )
            for share in (0, 1, 2)
        ]
    )
    return EstimatedCurve(
        x=times,
        value=runs[1],
        low=runs.min(0),
        high=runs.max(0),
        x_unit="s",
        unit="K",
        basis=f"{_words(jar)}, at {spot:.2f} of its height",
        source=SOURCE,
    )


def middle_by_measured_index(
    index: Estimate, lag: Estimate, time_s: ArrayLike, bath_k: float, start_k: float
) -> EstimatedCurve:
    """
    How the middle of a jar warms that stirs itself, from its own measured curve.

    Parameters
    ----------
    index, lag : Estimate
        From `log.heating_index`. [min], [1]
    time_s : array-like, shape (m,)
        Time in the bath, 0 or later. [s]
    bath_k, start_k : float
        A steady bath, and the jar as it went in, colder. [K]

    Returns
    -------
    EstimatedCurve
        The straight part of the curve, never under the start. [K] over [s]

    Raises
    ------
    OutOfRange
        If the jar is no colder than the bath, or a figure lies outside its range.

    Examples
    --------
    >>> index = Estimate(value=10, unit="min", low=9, high=11, basis="log", source="-")
    >>> lag = Estimate(value=1.2, unit="1", low=1.1, high=1.3, basis="log", source="-")
    >>> curve = middle_by_measured_index(index, lag, [0, 600], 373.15, 323.15)
    >>> print(f"{curve.value[1] - 273.15:.0f} °C after ten minutes")
    94 °C after ten minutes

    References
    ----------
    .. [1] Ball (1923): bath - jar = j (bath - start) 10 ** (-t/fh), a straight line on
       his paper. For thin foods there is no other answer here than a measured one.
    """
    times = within(
        "time_s",
        np.asarray(time_s, dtype=float),
        0.0,
        1e6,
        source="one day's work",
        hint="Give seconds in the bath.",
    )
    gap = within(
        "bath_k - start_k",
        bath_k - start_k,
        0.1,
        150.0,
        source="jars that are heated",
        hint="Give the bath and the colder jar in kelvin.",
    )

    def line(minutes: float, share: float) -> NDArray[float64]:
        left = np.minimum(1.0, share * 10.0 ** (-times / 60.0 / minutes))
        return np.asarray(bath_k - gap * left)

    return EstimatedCurve(
        x=times,
        value=line(index.value, lag.value),
        low=line(index.high, lag.high),
        high=line(index.low, lag.low),
        x_unit="s",
        unit="K",
        basis=f"measured: fh {index.value:.0f} min, j {lag.value:.2f}",
        source="Ball (1923), the straight line; one jar, one day",
    )


def _jar(
    size: str, *, side_w_m2_k: float, bottom_w_m2_k: float, top_w_m2_k: float
) -> Cylinder:
    if size not in SIZES_M:
        raise OutOfRange(
            f"no inside measures are known for a {size!r} jar: give one of "
            f"{', '.join(SIZES_M)}, or measure it and make a Cylinder."
        )
    radius, height = SIZES_M[size]
    return Cylinder(
        radius_m=radius,
        height_m=height,
        diffusivity_m2_s=DIFFUSIVITY_M2_S[1],
        conductivity_w_per_m_k=CONDUCTIVITY_W_PER_M_K,
        side_w_m2_k=side_w_m2_k,
        bottom_w_m2_k=bottom_w_m2_k,
        top_w_m2_k=top_w_m2_k,
    )


def with_diffusivity(jar: Cylinder, which: int) -> Cylinder:
    """Return the jar with its diffusivity scaled to the low, usual or high."""
    scale = DIFFUSIVITY_M2_S[which] / DIFFUSIVITY_M2_S[1]
    return replace(jar, diffusivity_m2_s=jar.diffusivity_m2_s * scale)


def _single(jar: Cylinder) -> None:
    if jar.shape:
        raise OutOfRange("an estimate is of one jar: give figures, not arrays.")


def _words(jar: Cylinder) -> str:
    return (
        f"a jar that conducts, R {1000 * float(jar.radius_m):.0f} mm, "
        f"H {1000 * float(jar.height_m):.0f} mm"
    )
