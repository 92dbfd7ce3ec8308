"""
Lethality: what a temperature history did, by the general method.

It answers "what happened?" and never "how long?": no process time is made here, and the
figures are estimates that nothing published is made from.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import ArrayLike, NDArray

from stillroom.science._maths import exp, log
from stillroom.science.estimate import Estimate
from stillroom.science.ranges import Floats, OutOfRange, within

_LN10 = 2.302585092994046
LONGEST_GAP_S = 300.0
"""Between two readings: longer, and the trapezoid is a guess."""
FEWEST_READINGS = 3


@dataclass(frozen=True, slots=True)
class Reference:
    """Temperature that minutes are stated at, and z. [K], [K]"""

    name: str
    temperature_k: float
    z_k: float


F0 = Reference("F0, 121.1 °C, z 10 K", 394.25, 10.0)
"""Of low-acid food; 250 °F is 121.11 °C, which moves F by 0.3 %."""
ACID_FOOD = Reference("P, 93.3 °C, z 8.9 K", 366.45, 8.9)
"""Of acid food: 200 °F, z 16 °F."""


def lethal_rate(temperature_k: Floats, reference: Reference) -> Floats:
    """
    Minutes at the reference that one minute at this temperature is worth.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 433.15. [K]
    reference : Reference
        `F0` or `ACID_FOOD`.

    Returns
    -------
    float or ndarray
        ``10 ** ((T - Tref) / z)``. [1]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{lethal_rate(373.15, ACID_FOOD):.2f}")
    5.66

    References
    ----------
    .. [1] Bigelow et al. (1920), the general method.
    """
    kelvin = within(
        "temperature_k",
        temperature_k,
        273.15,
        433.15,
        source="jars in a kitchen, 0 to 160 °C",
        hint="Give kelvin: °C + 273.15; was it read in °F?",
    )
    return exp(_LN10 / reference.z_k * (kelvin - reference.temperature_k))


def estimated_lethality(
    time_s: ArrayLike,
    temperature_k: ArrayLike,
    reference: Reference,
    *,
    reading_off_k: float = 0.5,
) -> Estimate:
    """
    Lethality of a log or of a model's run, at the point it was taken.

    Parameters
    ----------
    time_s : array-like, shape (n,)
        Rising, no gap over 5 min, 3 readings at least. [s]
    temperature_k : array-like, shape (n,)
        At the cold spot if it is to mean anything. [K]
    reference : Reference
        `F0` or `ACID_FOOD`.
    reading_off_k : float
        How far every reading may be off, 0 to 3. [K]

    Returns
    -------
    Estimate
        Minutes at the reference.

    Raises
    ------
    OutOfRange
        If there are too few readings, a gap, or times that do not rise.

    Notes
    -----
    Cooling counts: in air it is 48 to 95 % of the lethality of home-canned acid foods
    (Willmore et al. 2015). Nothing of that may be taken off a published time.

    Examples
    --------
    >>> print(estimated_lethality([0, 60, 120], [366.45] * 3, ACID_FOOD))
    2.0 min (1.8 to 2.3; an estimate: 2 min of readings, P, 93.3 °C, z 8.9 K)

    References
    ----------
    .. [1] Bigelow et al. (1920): trapezoids on the rate, not on the temperature.
    """
    time = np.asarray(time_s, dtype=float)
    kelvin = np.asarray(temperature_k, dtype=float)
    _check_log(time, kelvin)
    off = within(
        "reading_off_k",
        reading_off_k,
        0.0,
        3.0,
        source="thermometers worth reading",
        hint="Give kelvin.",
    )
    minutes = lethality_min(time, kelvin, reference)
    apart = float(exp(_LN10 / reference.z_k * off))
    return Estimate(
        value=float(minutes),
        unit="min",
        low=float(minutes) / apart,
        high=float(minutes) * apart,
        basis=f"{(time[-1] - time[0]) / 60:.0f} min of readings, {reference.name}",
        source="general method (Bigelow et al. 1920); no process is made from it",
    )


def lethality_min(
    time_s: NDArray[float64], temperature_k: NDArray[float64], reference: Reference
) -> NDArray[float64]:
    """
    Bare integral of the lethal rate, for many histories at once.

    Parameters
    ----------
    time_s : ndarray, shape (n,)
        Rising. [s]
    temperature_k : ndarray, shape (..., n)
        One history a row. [K]
    reference : Reference
        `F0` or `ACID_FOOD`.

    Returns
    -------
    ndarray, shape (...)
        Minutes at the reference. [min]

    Examples
    --------
    >>> rows = np.full((2, 3), 366.45)
    >>> lethality_min(np.array([0.0, 60.0, 120.0]), rows, ACID_FOOD).tolist()
    [2.0, 2.0]
    """
    rate = lethal_rate(temperature_k, reference)
    return np.asarray(np.trapezoid(rate, time_s, axis=-1) / 60.0)[()]


def decimal_reduction_s(
    duration_s: Floats, count_before: Floats, count_after: Floats
) -> Floats:
    """
    D value: the time at one temperature in which nine of ten die.

    Parameters
    ----------
    duration_s : float or ndarray
        Between the two counts, above 0 to 1e6. [s]
    count_before, count_after : float or ndarray
        Survivors, falling. [1]

    Returns
    -------
    float or ndarray
        D value. [s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the count did not fall.

    Examples
    --------
    >>> print(f"{decimal_reduction_s(300.0, 4600.0, 160.0) / 60:.3f} min")
    3.428 min
    """
    time = within(
        "duration_s", duration_s, 1e-3, 1e6, source="laboratories", hint="Give s."
    )
    fell = within(
        "count_before / count_after",
        count_before / count_after,
        1.000001,
        1e18,
        source="dying organisms",
        hint="Give the larger count as count_before.",
    )
    return time * _LN10 / log(fell)


def survivors(
    count: Floats, lethality_s: Floats, decimal_reduction_s: Floats
) -> Floats:
    """
    How many of a number of organisms outlive a lethality.

    Parameters
    ----------
    count : float or ndarray
        At the start, 0 to 1e20. [1]
    lethality_s : float or ndarray
        At the temperature of D, 0 to 1e6. [s]
    decimal_reduction_s : float or ndarray
        D at that temperature, 1e-3 to 1e6. [s]

    Returns
    -------
    float or ndarray
        ``N0 10 ** (-F/D)``; under 1 it is a chance. [1]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> print(f"{survivors(10.0, 2.88, 1.5):.3f}")
    0.120
    """
    start = within("count", count, 0.0, 1e20, source="spoilage", hint="Give a count.")
    killed = within(
        "lethality_s", lethality_s, 0.0, 1e6, source="processes", hint="Give seconds."
    )
    d = within(
        "decimal_reduction_s",
        decimal_reduction_s,
        1e-3,
        1e6,
        source="spoilage organisms",
        hint="Give seconds.",
    )
    return start * exp(-_LN10 * killed / d)


def equivalent_s(
    duration_s: Floats, from_k: Floats, to_k: Floats, z_k: Floats
) -> Floats:
    """
    Duration at one temperature that does what another does at its own.

    Parameters
    ----------
    duration_s : float or ndarray
        At ``from_k``, 0 to 1e6. [s]
    from_k, to_k : float or ndarray
        273.15 to 433.15. [K]
    z_k : float or ndarray
        Kelvin for a tenfold rate, 3 to 30. [K]

    Returns
    -------
    float or ndarray
        For understanding a D value in a table; never a process time. [s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> print(f"{equivalent_s(600.0, 394.15, 413.15, 8.0):.2f} s")
    2.53 s
    """
    time = within(
        "duration_s", duration_s, 0.0, 1e6, source="laboratories", hint="Give s."
    )
    z = within("z_k", z_k, 3.0, 30.0, source="published z values", hint="Give K.")
    ends = [
        within(
            name,
            value,
            273.15,
            433.15,
            source="printed D values, 0 to 160 °C",
            hint="Give kelvin: °C + 273.15.",
        )
        for name, value in (("from_k", from_k), ("to_k", to_k))
    ]
    return time * exp(_LN10 * (ends[0] - ends[1]) / z)


def _check_log(time: NDArray[float64], kelvin: NDArray[float64]) -> None:
    if time.size != kelvin.size or time.size < FEWEST_READINGS:
        raise OutOfRange(
            f"{time.size} times and {kelvin.size} readings came; lethality needs "
            f"{FEWEST_READINGS} of each at least, in pairs. Log oftener."
        )
    steps = np.diff(time)
    if not (steps > 0.0).all():
        at = int(np.argmin(steps > 0.0)) + 1
        raise OutOfRange(
            f"time_s[{at}] = {time[at]:g} s does not come after {time[at - 1]:g} s: "
            "each reading needs its own, later time."
        )
    if steps.max() > LONGEST_GAP_S:
        at = int(np.argmax(steps)) + 1
        raise OutOfRange(
            f"{steps.max():.0f} s without a reading before time_s[{at}]: gaps over "
            f"{LONGEST_GAP_S:.0f} s are not filled in. Log once a minute."
        )
