"""
The figures behind four things that a keeper asks "why?" about.

Why eight degrees and not 65 %; why the jar pops, cracks or stays soft; why the canner
is so slow, and sooner the second time; why the gauge goes up with the hills. Each
function gathers figures for a page or a printed answer. Nothing is decided here.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.science import air, boiling, gel, glass, headspace, sugars, water
from stillroom.science.canner import Canner, come_up, water_after_wait_k
from stillroom.science.estimate import Estimate
from stillroom.science.jar import (
    heating_rate_index,
    jar_in_air,
    jar_in_water,
    lag_factor,
)
from stillroom.science.ranges import within
from stillroom.science.setting import time_to_set

BEST_SOLIDS = 0.65
INVERTED_BY_THE_RULE = 0.27
"""Share of the sugar inverted at which 8 °F and 65 % agree: computed by `boiling`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EightDegrees:
    """The kitchen's 8 °F against "65 %", with the figures that settle it."""

    rule_k: float
    pure_rise_k: float
    """Of pure sucrose at 65 %. [K]"""
    inverted_rise_k: float
    """Of 65 % with 27 % of its sugar inverted. [K]"""
    pure_solids: float
    """Of pure sucrose that boils 8 °F above water. [1]"""
    solids: Estimate
    """Of a real jelly there, thermometer and all. [1]"""
    inverted: Estimate
    """Share of the sugar that this boil inverts. [1]"""
    water_activity: float
    """Of the jar at 65 % with that share inverted, 25 °C. [1]"""
    crystals: sugars.CrystalRisk
    gel: tuple[gel.Gel, ...]


def the_eight_degrees(
    pressure_pa: float, *, ph: float, boil_s: float, store_k: float = 283.15
) -> EightDegrees:
    """
    Why a jelly is stopped 8 °F above water, and what that makes of it.

    Parameters
    ----------
    pressure_pa : float
        Air in the kitchen today, 50 000 to 110 000. [Pa]
    ph : float
        Of the mix, 2.6 to 4. [1]
    boil_s : float
        Length of the boil, 60 to 7 200. [s]
    store_k : float
        Coldest that the jars will stand, 273.15 to 313.15. [K]

    Returns
    -------
    EightDegrees
        Figures, none of them a rule.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> why = the_eight_degrees(101_325.0, ph=3.1, boil_s=900.0)
    >>> print(f"{why.pure_rise_k:.1f} K, {100 * why.pure_solids:.0f} %")
    3.8 K, 68 %
    """
    acid = within(
        "ph", ph, 2.6, 4.0, source="jellies", hint="Give the pH of the cooled mix."
    )
    length = within(
        "boil_s", boil_s, 60.0, 7_200.0, source="jelly boils", hint="Give seconds."
    )
    boils = water.boiling_point_k(pressure_pa) + gel.RISE_K
    inverted = sugars.estimated_inversion([0.0, length], [boils, boils], acid)
    return EightDegrees(
        rule_k=gel.RISE_K,
        pure_rise_k=boiling.boiling_point_rise_k(BEST_SOLIDS, pressure_pa),
        inverted_rise_k=boiling.boiling_point_rise_k(
            BEST_SOLIDS, pressure_pa, INVERTED_BY_THE_RULE
        ),
        pure_solids=boiling.solids_from_rise(gel.RISE_K, pressure_pa),
        solids=boiling.estimated_solids(gel.RISE_K, pressure_pa),
        inverted=inverted,
        water_activity=boiling.water_activity_in_jar(BEST_SOLIDS, inverted.value),
        crystals=sugars.crystal_risk(BEST_SOLIDS, inverted.value, store_k),
        gel=gel.gel_window(acid, BEST_SOLIDS),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class JarFigures:
    """What heat and cold do to one filled jar."""

    swells: float
    """Contents from cold to the boil, share of their volume. [1]"""
    vacuum_pa: float
    """Once cold, if the lid closed at the filling's heat: an upper figure. [Pa]"""
    vacuum_after_venting_pa: float
    """Once cold, if it vented to within a kelvin of the boil. [Pa]"""
    shock_k: float
    shock_is_large: bool
    """Above the limit at which to warn, `glass.SHOCK_LIMIT_K`."""
    heating: Estimate
    cooling: Estimate
    lag: Estimate
    soft_for: Estimate


def the_jar(
    size: str,
    *,
    filled_k: float,
    jar_k: float,
    pressure_pa: float,
    room_k: float = 293.15,
    degree_of_esterification: float = 0.62,
    contents_m3: float = 450e-6,
    headspace_m3: float = 25e-6,
) -> JarFigures:
    """
    Why a lid is drawn in, a jar cracks, and a jelly is soft for an hour.

    Parameters
    ----------
    size : str
        ``half-pint``, ``pint`` or ``quart``.
    filled_k, jar_k : float
        The filling as it goes in, and the empty jar. [K]
    pressure_pa : float
        Air in the kitchen today. [Pa]
    room_k : float
        Air that it cools in. [K]
    degree_of_esterification : float
        Of the pectin, 0.5 to 0.85. [1]
    contents_m3, headspace_m3 : float
        Of the jar as filled. [m³]

    Returns
    -------
    JarFigures
        Figures, none of them a rule.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> jar = the_jar("pint", filled_k=358.15, jar_k=293.15, pressure_pa=95_000.0)
    >>> jar.shock_is_large
    True
    >>> print(f"{jar.vacuum_pa / 1000:.0f} kPa")
    73 kPa
    """
    boils = water.boiling_point_k(pressure_pa)

    def vacuum(closed_k: float) -> float:
        cold = headspace.pressure_when_cold_pa(
            closed_k=closed_k,
            cold_k=room_k,
            air_pa=pressure_pa,
            contents_m3=contents_m3,
            headspace_m3=headspace_m3,
        )
        return headspace.vacuum_pa(pressure_pa, cold)

    shock = glass.shock_k(jar_k, filled_k)
    return JarFigures(
        swells=headspace.expansion(room_k, boils),
        vacuum_pa=vacuum(min(filled_k, boils - 1.0)),
        vacuum_after_venting_pa=vacuum(boils - 1.0),
        shock_k=shock,
        shock_is_large=shock > glass.SHOCK_LIMIT_K,
        heating=heating_rate_index(jar_in_water(size)),
        cooling=heating_rate_index(jar_in_air(size)),
        lag=lag_factor(jar_in_water(size)),
        soft_for=time_to_set(
            size,
            gel.setting_temperature(degree_of_esterification),
            filled_k=filled_k,
            room_k=room_k,
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CannerFigures:
    """The first load to a full boil, and the next one after a wait. [min]"""

    first: Estimate | None
    """``None`` where this fire never gets there."""
    again: Estimate | None
    waits_at_k: float
    """Water as the next load goes in. [K]"""


def the_canner(
    canner: Canner,
    size: str,
    jars: int,
    *,
    water_k: float,
    jar_k: float,
    boils_k: float,
    wait_s: float,
) -> CannerFigures:
    """
    Why a full canner is slow to boil, and how much a hot restart saves.

    Parameters
    ----------
    canner : Canner
        Water, pot and fire.
    size : str
        ``half-pint``, ``pint`` or ``quart``.
    jars : int
        How many, 0 to 40.
    water_k, jar_k : float
        As the first load goes in. [K]
    boils_k : float
        Where water boils today. [K]
    wait_s : float
        From one load out to the next in, the fire off. [s]

    Returns
    -------
    CannerFigures
        From food that conducts (quickest) to food that stirs itself (slowest).

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> why = the_canner(Canner(water_kg=9.0, net_w=1500.0), "quart", 7,
    ...     water_k=333.15, jar_k=343.15, boils_k=372.0, wait_s=900.0)
    >>> why.again.value < why.first.value
    True
    """
    kept = water_after_wait_k(canner, boils_k - 0.5, wait_s)

    def minutes(start_k: float) -> Estimate | None:
        jar = jar_in_water(size)
        ups = [
            come_up(
                canner,
                jar,
                jars,
                water_k=start_k,
                jar_k=jar_k,
                boils_k=boils_k,
                well_mixed=mixed,
            ).full_boil_s
            for mixed in (False, True)
        ]
        told = sorted(up / 60.0 for up in ups if up is not None)
        if len(told) < 2:
            return None
        return Estimate(
            value=0.5 * (told[0] + told[1]),
            unit="min",
            low=told[0],
            high=told[1],
            basis=f"{jars} {size} jars, water from {start_k - 273.15:.0f} °C",
            source="heat balance of water and jars; measured 4.3 to 21 min from 180 °F "
            "(IAFP 2013)",
        )

    return CannerFigures(first=minutes(water_k), again=minutes(kept), waits_at_k=kept)


DIAL_GAUGE_PSI = ((2_000.0, 11.0), (4_000.0, 12.0), (6_000.0, 13.0), (8_000.0, 14.0))
"""Upper edge of a band and its pressure in published dial-gauge tables. [ft], [psi]"""


def steam_at_band_edges() -> tuple[tuple[float, float], ...]:
    """
    Steam in a dial-gauge canner at the upper edge of each published band.

    Returns
    -------
    tuple of tuple of float
        Elevation and temperature: the pound more for every 2 000 ft keeps the steam at
        115.2 to 115.5 °C. [m], [K]

    Examples
    --------
    >>> [f"{kelvin - 273.15:.1f}" for _, kelvin in steam_at_band_edges()]
    ['115.2', '115.2', '115.3', '115.5']

    References
    ----------
    .. [1] USDA Complete Guide, dial-gauge tables; U.S. Standard Atmosphere, 1976;
       IAPWS R7-97(2012), Eq. 31. Pure steam: air left in the canner lowers it.
    """
    edges = []
    for feet, psi in DIAL_GAUGE_PSI:
        metres = feet * 0.3048
        inside = air.gauge_to_absolute_pa(psi * 6894.757293168, air.pressure_pa(metres))
        edges.append((metres, water.boiling_point_k(inside)))
    return tuple(edges)
