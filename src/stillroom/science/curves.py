"""The three drawn curves: what elevation, pot and jar do, as points to draw."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.science import air, fire, gel, water
from stillroom.science.cylinder import Cylinder, history_k, slowest_mode
from stillroom.science.estimate import EstimatedCurve
from stillroom.science.jar import jar_in_air, jar_in_water, middle_curve
from stillroom.science.ranges import OutOfRange, within

Array = NDArray[float64]

REST_S = 300.0
"""Heat off, lid off, then five minutes before the jars are lifted (published)."""


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """Points of a curve that follows from published equations alone."""

    x: Array
    y: Array
    x_unit: str
    unit: str
    source: str


def boil_by_elevation(
    lowest_m: float = 0.0, highest_m: float = 3_000.0, points: int = 61
) -> tuple[Curve, Curve]:
    """
    Boiling water and the jellying point against elevation, on a standard day.

    Parameters
    ----------
    lowest_m, highest_m : float
        Ends, -300 to 4 000, rising. [m]
    points : int
        How many, 2 to 1 000.

    Returns
    -------
    tuple of Curve
        Boiling point of water, and 8 °F above it. [K] over [m]

    Examples
    --------
    >>> boil, jelly = boil_by_elevation(points=4)
    >>> [f"{kelvin - 273.15:.1f}" for kelvin in boil.y]
    ['100.0', '96.6', '93.3', '90.0']
    """
    metres = _spread(lowest_m, highest_m, points)
    boils = water.boiling_point_k(air.pressure_pa(metres))
    source = "U.S. Standard Atmosphere, 1976; IAPWS R7-97(2012)"
    return (
        Curve(metres, boils, "m", "K", source),
        Curve(
            metres,
            gel.jelly_point_k(boils),
            "m",
            "K",
            f"{source}; USDA Complete Guide, Guide 7: 8 °F above",
        ),
    )


def back_to_boil_by_batch(
    *,
    burner_w: float,
    efficiency: float,
    boils_k: float,
    sugar_per_mix: float,
    mix_solids: float = 0.12,
    pot_kg: float = 0.0,
    largest_kg: float = 6.0,
    points: int = 60,
    loss_w: float = 0.0,
    boiled_k: float | None = None,
) -> Curve:
    """
    Time back to the boil against the size of the batch, on one fire and in one pot.

    Parameters
    ----------
    burner_w, efficiency, boils_k, mix_solids, pot_kg, loss_w, boiled_k : float
        As in `fire.back_to_boil_s`.
    sugar_per_mix : float
        Sugar to one part of juice or fruit by weight, 0.05 to 2. [1]
    largest_kg : float
        Juice or fruit of the largest batch, 0.2 to 30. [kg]
    points : int
        How many, 2 to 1 000.

    Returns
    -------
    Curve
        Seconds over kilograms of juice or fruit. [s] over [kg]

    Examples
    --------
    >>> curve = back_to_boil_by_batch(burner_w=3500.0, efficiency=0.4, boils_k=375.0,
    ...     sugar_per_mix=1.2, largest_kg=4.0, points=4)
    >>> [f"{seconds / 60:.0f}" for seconds in curve.y]
    ['2', '3', '5', '7']
    """
    parts = within(
        "sugar_per_mix",
        sugar_per_mix,
        0.05,
        2.0,
        source="jams and jellies",
        hint="Give kg of sugar to a kg of juice or fruit.",
    )
    largest = within(
        "largest_kg", largest_kg, 0.2, 30.0, source="home batches", hint="Give kg."
    )
    mix = _spread(0.0, largest, points + 1)[1:]
    every = np.ones_like(mix)
    seconds = fire.back_to_boil_s(
        mix_kg=mix,
        mix_solids=mix_solids * every,
        sugar_kg=parts * mix,
        boils_k=boils_k * every,
        burner_w=burner_w * every,
        efficiency=efficiency * every,
        boiled_k=boiled_k,
        pot_kg=pot_kg,
        loss_w=loss_w,
    )
    return Curve(mix, seconds, "kg", "s", "heat balance of pot, mix and sugar")


def middle_of_jar(
    size: str,
    *,
    start_k: float,
    boils_k: float,
    come_up_s: float,
    process_s: float,
    room_k: float = 293.15,
    cooling_s: float = 3_600.0,
    points: int = 121,
) -> tuple[Curve, EstimatedCurve]:
    """
    Bath, and slowest point of a jar, over a round of the canner and its cooling.

    Parameters
    ----------
    size : str
        ``half-pint``, ``pint`` or ``quart``.
    start_k : float
        Jar as it goes in; the bath starts there too. [K]
    boils_k : float
        Where water boils today. [K]
    come_up_s, process_s, cooling_s : float
        Lengths of the round: to the full boil, the published process, and after the
        heat is off, 60 to 20 000. [s]
    room_k : float
        Air that it cools in. [K]
    points : int
        How many, 2 to 1 000.

    Returns
    -------
    tuple of Curve and EstimatedCurve
        Bath, and the jar's middle with its spread: the middle goes on rising after the
        heat is off. [K] over [s]

    Notes
    -----
    The jar rests 5 min in the hot bath and is lifted into air. There its wall takes the
    temperature of the whole jar, which then falls as a jar in still air does: the heat
    it gives off is right, its spread inside a little too even. It explains, and nothing
    is made from it.

    Examples
    --------
    >>> bath, middle = middle_of_jar("pint", start_k=355.15, boils_k=373.15,
    ...     come_up_s=900.0, process_s=600.0)
    >>> bool(middle.value.max() < bath.y.max())
    True
    """
    lengths = [
        within(
            name,
            value,
            60.0,
            20_000.0,
            source="rounds of a canner",
            hint="Give seconds.",
        )
        for name, value in (
            ("come_up_s", come_up_s),
            ("process_s", process_s),
            ("cooling_s", cooling_s),
        )
    ]
    if not room_k < start_k <= boils_k:
        raise OutOfRange(
            f"start_k = {start_k:g} lies outside {room_k:g} (the room) to {boils_k:g} "
            "(the boil), the range of a round of the canner. Give kelvin: °C + 273.15."
        )
    lift = lengths[0] + lengths[1] + REST_S
    corners = np.array([0.0, lengths[0], lift])
    bath = np.array([start_k, boils_k, boils_k])
    jar = jar_in_water(size)
    whole_k = _mean_k(jar, corners, bath, start_k)
    # An exponential fall, drawn by eight chords.
    falls = np.linspace(0.0, lengths[2], 9)
    decay_s = float(slowest_mode(jar_in_air(size))[0]) / np.log(10.0)
    outside = room_k + (whole_k - room_k) * np.exp(-falls / decay_s)
    corners = np.append(corners, lift + falls)  # the lift is a jump: a corner twice
    bath = np.append(bath, outside)
    end = lift + lengths[2]
    time = _spread(0.0, end, points)
    middle = middle_curve(jar, corners, bath, start_k, time)
    drawn = np.interp(time, corners, bath)
    return Curve(time, drawn, "s", "K", "the round as it was given"), middle


def _mean_k(jar: Cylinder, time_s: Array, bath_k: Array, start_k: float) -> float:
    """Mean temperature of a jar at the end of a line, by Gauss's points. [K]"""
    nodes, weights = np.polynomial.legendre.leggauss(5)
    total = 0.0
    for area, weight_r in zip(0.5 * (nodes + 1.0), weights, strict=True):
        for z, weight_z in zip(0.5 * (nodes + 1.0), weights, strict=True):
            (point,) = history_k(
                jar,
                time_s,
                bath_k,
                start_k,
                time_s[-1:],
                r_share=float(np.sqrt(area)),
                z_share=float(z),
            )
            total += 0.25 * weight_r * weight_z * float(point)
    return total


def _spread(low: float, high: float, points: int) -> Array:
    if not high > low:
        raise OutOfRange(
            f"a curve from {low:g} to {high:g} has no length: give low, high."
        )
    count = within(
        "points", points, 2, 1001, source="curves on a page", hint="61 is plenty."
    )
    return np.linspace(low, high, int(count))
