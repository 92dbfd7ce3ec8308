"""
The canner: water with filled jars in it, heated to a full boil.

One node of water and pot, coupled to the heat that the jars take up. Steps of the two
together balance to the last digit: what the fire gives is what water, jars and room
got. These minutes place a load on a day; a process starts at the full boil itself.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.science.cylinder import Cylinder
from stillroom.science.modes import Modes, mean_modes
from stillroom.science.ranges import OutOfRange, within

_STEP_S = 15.0
_LONGEST_S = 4.0 * 3600.0
_WATER_J_PER_KG_K = 4_190.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Canner:
    """
    Water, pot and fire.

    Parameters
    ----------
    water_kg : float
        1 to 60. [kg]
    net_w : float
        Heat that reaches the water, efficiency counted, 100 to 20 000. [W]
    loss_w_per_k : float
        To the room, for each kelvin above it, 0 to 50; 5 with the lid on is an
        estimate. [W/K]
    room_k : float
        273.15 to 318.15. [K]
    metal_j_per_k : float
        Heat that pot, rack and the glass of the jars hold, 0 to 20 000. [J/K]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.
    """

    water_kg: float
    net_w: float
    loss_w_per_k: float = 5.0
    room_k: float = 293.15
    metal_j_per_k: float = 0.0

    def __post_init__(self) -> None:
        _in("water_kg", self.water_kg, 1.0, 60.0, "Give kilograms: a litre is 1.")
        _in("net_w", self.net_w, 100.0, 20_000.0, "Give the share that arrives.")
        _in("loss_w_per_k", self.loss_w_per_k, 0.0, 50.0, "Lid on: about 5.")
        _in("room_k", self.room_k, 273.15, 318.15, "Give kelvin: °C + 273.15.")
        _in("metal_j_per_k", self.metal_j_per_k, 0.0, 20_000.0, "5 kg of steel: 2500.")


@dataclass(frozen=True, slots=True, kw_only=True)
class ComeUp:
    """How water and jars warmed, up to the full boil or to the end of the time."""

    time_s: NDArray[float64]
    water_k: NDArray[float64]
    jar_mean_k: NDArray[float64]
    full_boil_s: float | None
    """``None`` where this fire never gets there."""
    given_j: float
    """Heat from the fire, which water, jars and room share without remainder."""
    to_room_j: float
    to_water_j: float
    to_jars_j: float


def come_up(
    canner: Canner,
    jar: Cylinder,
    jars: int,
    *,
    water_k: float,
    jar_k: float,
    boils_k: float,
    well_mixed: bool = False,
) -> ComeUp:
    """
    Bring a canner with jars in it to a full boil.

    Parameters
    ----------
    canner : Canner
        Water, pot and fire.
    jar : Cylinder
        One jar, its fill and surfaces.
    jars : int
        How many, 0 to 40.
    water_k, jar_k : float
        At the start, 263.15 to ``boils_k``. [K]
    boils_k : float
        Where water boils today, 353.15 to 378.15. [K]
    well_mixed : bool
        For thin contents that stir themselves, which take up heat faster.

    Returns
    -------
    ComeUp
        Histories, and when it boils.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> quart = Cylinder(radius_m=0.045, height_m=0.145, diffusivity_m2_s=1.4e-7,
    ...     conductivity_w_per_m_k=0.5, side_w_m2_k=272.7, bottom_w_m2_k=214.3,
    ...     top_w_m2_k=20.0)
    >>> up = come_up(Canner(water_kg=9.0, net_w=1500.0), quart, 7, water_k=355.15,
    ...     jar_k=355.15, boils_k=373.12)
    >>> print(f"{up.full_boil_s / 60:.0f} min")
    12 min

    References
    ----------
    .. [1] Heat balance of the water; conduction in the jars as in `cylinder`, the
       mean over their volume. Measured come-ups from 180 °F: 4.3 to 21 min (IAFP 2013).
    """
    boils = _in("boils_k", boils_k, 353.15, 378.15, "Take today's boiling point.")
    start = _in("water_k", water_k, 263.15, boils, "Give kelvin: °C + 273.15.")
    food = _in("jar_k", jar_k, 253.15, 400.0, "Give kelvin: °C + 273.15.")
    count = int(_in("jars", jars, 0, 40, "Give a number of jars."))
    if jar.shape:
        raise OutOfRange("a canner takes one kind of jar: give figures, not arrays.")
    rows = jar.rows()
    seen = _one_node(rows) if well_mixed else mean_modes(rows)
    radius, height, diffusivity, conductivity = (float(x) for x in rows[:4, 0])
    jar_j_per_k = conductivity / diffusivity * np.pi * radius**2 * height
    return _run(canner, seen, count * jar_j_per_k, start, food, boils)


def _run(
    canner: Canner,
    seen: Modes,
    jars_j_per_k: float,
    start: float,
    food: float,
    boils: float,
) -> ComeUp:
    water_j_per_k = canner.water_kg * _WATER_J_PER_KG_K + canner.metal_j_per_k
    # The last mode stands for all that are left out, as in `cylinder`.
    weight = np.append(seen.weight.ravel(), seen.rest_weight)
    decay = np.append(seen.decay.ravel(), seen.rest_decay)
    lag = np.append((seen.weight / seen.decay).ravel(), seen.rest_ramp_s)
    left = np.exp(-decay * _STEP_S)
    whole_lag = float(seen.ramp_s[0])
    v = weight * (food - start)
    water, mean, slope = start, food, 0.0
    time = [0.0]
    waters, means = [water], [mean]
    lost = 0.0
    boils_at: float | None = None
    while time[-1] < _LONGEST_S:
        # All is linear in the slope of the water over the step: solve the balance.
        still = v - slope * lag
        fixed = water + float((still * left).sum()) - mean
        per_slope = _STEP_S - whole_lag + float((lag * left).sum())
        room = canner.loss_w_per_k * (water - canner.room_k)
        new = ((canner.net_w - room) * _STEP_S - jars_j_per_k * fixed) / (
            water_j_per_k * _STEP_S
            + jars_j_per_k * per_slope
            + 0.5 * canner.loss_w_per_k * _STEP_S**2
        )
        v = (still + new * lag) * left
        slope = new
        before = water
        water = water + slope * _STEP_S
        mean = water + float(v.sum()) - slope * whole_lag
        lost += canner.loss_w_per_k * _STEP_S * (0.5 * (before + water) - canner.room_k)
        time.append(time[-1] + _STEP_S)
        waters.append(water)
        means.append(mean)
        if water >= boils:
            boils_at = time[-2] + (boils - before) / slope
            break
        if abs(slope) < 1e-7 and time[-1] > 3600.0:
            break  # it only keeps warm
    given = canner.net_w * time[-1]
    return ComeUp(
        time_s=np.array(time),
        water_k=np.array(waters),
        jar_mean_k=np.array(means),
        full_boil_s=boils_at,
        given_j=given,
        to_room_j=lost,
        to_water_j=water_j_per_k * (water - start),
        to_jars_j=jars_j_per_k * (mean - food),
    )


def _one_node(rows: NDArray[float64]) -> Modes:
    """A jar that stirs itself: the surfaces only, one decay."""
    radius, height, diffusivity, conductivity, side, bottom, top = rows
    through = side * 2.0 * np.pi * radius * height
    through = through + (bottom + top) * np.pi * radius**2
    held = conductivity / diffusivity * np.pi * radius**2 * height
    rate = through / held
    nothing = np.zeros_like(rate)
    return Modes(
        weight=np.ones((rate.size, 1, 1)),
        decay_radial=rate[:, None],
        decay_axial=nothing[:, None],
        ramp_s=1.0 / rate,
        rest_weight=nothing,
        rest_ramp_s=nothing,
        rest_decay=np.ones_like(rate),
    )


def water_after_wait_k(
    canner: Canner,
    water_k: float,
    wait_s: float,
    *,
    topped_up_kg: float = 0.0,
    topped_up_k: float = 293.15,
) -> float:
    """
    Water of a canner between two loads: for a hot restart.

    Parameters
    ----------
    canner : Canner
        Its fire counts as off.
    water_k : float
        As the first load came out, 273.15 to 378.15. [K]
    wait_s : float
        Until the next goes in, 0 to 100 000. [s]
    topped_up_kg, topped_up_k : float
        Water poured in to make up for steam, 0 to 20, 273.15 to 373.15. [kg], [K]

    Returns
    -------
    float
        Temperature that the next come-up starts from. [K]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> hot = water_after_wait_k(Canner(water_kg=9.0, net_w=1500.0), 372.0, 1200.0)
    >>> print(f"{hot - 273.15:.0f} °C after 20 min with the lid on")
    87 °C after 20 min with the lid on

    References
    ----------
    .. [1] Newton's law of cooling, then a mixture.
    """
    hot = _in("water_k", water_k, 273.15, 378.15, "Give kelvin: °C + 273.15.")
    wait = _in("wait_s", wait_s, 0.0, 1e5, "Give seconds.")
    more = _in("topped_up_kg", topped_up_kg, 0.0, 20.0, "Give kilograms.")
    cold = _in("topped_up_k", topped_up_k, 273.15, 373.15, "°C + 273.15.")
    held = canner.water_kg * _WATER_J_PER_KG_K + canner.metal_j_per_k
    stays = float(np.exp(-canner.loss_w_per_k * wait / held))
    kept = canner.room_k + (hot - canner.room_k) * stays
    poured = more * _WATER_J_PER_KG_K
    return (held * kept + poured * cold) / (held + poured)


def _in(name: str, value: float, low: float, high: float, hint: str) -> float:
    return within(name, value, low, high, source="domestic canners", hint=hint)
