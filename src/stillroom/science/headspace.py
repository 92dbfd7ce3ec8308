"""
The headspace: room for what swells, and the vacuum that is left when it has cooled.

An ideal gas of air and steam over contents that shrink. It shows why jars vent in the
canner and what a short fill does; a published headspace stays as published.
"""

from __future__ import annotations

from stillroom.science.ranges import Floats, within
from stillroom.science.water import density_kg_m3, saturation_pressure_pa


def expansion(from_k: Floats, to_k: Floats) -> Floats:
    """
    Growth in volume of water-like contents.

    Parameters
    ----------
    from_k, to_k : float or ndarray
        273.15 to 403.15. [K]

    Returns
    -------
    float or ndarray
        Share of the volume at ``from_k``; negative where it shrinks. Syrups about the
        same. [1]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{100 * expansion(293.15, 368.15):.1f} %")
    3.8 %

    References
    ----------
    .. [1] Density of saturated water, fitted to IAPWS-95.
    """
    return density_kg_m3(from_k) / density_kg_m3(to_k) - 1.0


def pressure_when_cold_pa(
    *,
    closed_k: Floats,
    cold_k: Floats,
    air_pa: Floats,
    contents_m3: Floats,
    headspace_m3: Floats,
    water_activity: Floats = 1.0,  # type: ignore[assignment]
) -> Floats:
    """
    Pressure in a jar once it has cooled, if it was closed at a temperature.

    Parameters
    ----------
    closed_k, cold_k : float or ndarray
        Headspace when the lid closed, and now, 273.15 to 403.15. [K]
    air_pa : float or ndarray
        Air outside as it closed, 50 000 to 250 000; it vented till then. [Pa]
    contents_m3, headspace_m3 : float or ndarray
        As it closed, 1e-5 to 0.01, and 1e-6 to 0.01. [m³]
    water_activity : float or ndarray
        Of the contents, 0.5 to 1. [1]

    Returns
    -------
    float or ndarray
        Absolute pressure: a lower figure, since the lid gives and air dissolves. [Pa]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> for celsius in (60.0, 93.0):
    ...     p = pressure_when_cold_pa(closed_k=celsius + 273.15, cold_k=293.15,
    ...         air_pa=101_325.0, contents_m3=450e-6, headspace_m3=25e-6)
    ...     print(f"{(101_325 - p) / 3386.389:.1f} inHg of vacuum")
    12.6 inHg of vacuum
    25.9 inHg of vacuum

    References
    ----------
    .. [1] Partial pressures of ideal gases: (p - aw psat) T2/T1 V1/V2 + aw psat(T2).
    """
    closed = _in("closed_k", closed_k, 273.15, 403.15, "Give kelvin: °C + 273.15.")
    cold = _in("cold_k", cold_k, 273.15, 403.15, "Give kelvin: °C + 273.15.")
    outside = _in("air_pa", air_pa, 50_000.0, 250_000.0, "Give absolute pascals.")
    contents = _in("contents_m3", contents_m3, 1e-5, 0.01, "450 mL is 450e-6.")
    room = _in("headspace_m3", headspace_m3, 1e-6, 0.01, "25 mL is 25e-6.")
    activity = _in("water_activity", water_activity, 0.5, 1.0, "Water is 1.")
    air = _in(
        "air in the headspace, Pa",
        outside - activity * saturation_pressure_pa(closed),
        0.0,
        250_000.0,
        "At that heat there is only steam in it: take the boiling point or less.",
    )
    # Cooling, the contents leave their room to the gas.
    grown = room - contents * expansion(closed, cold)
    held = air * (cold / closed) * (room / grown)
    return held + activity * saturation_pressure_pa(cold)


def vacuum_pa(air_pa: Floats, pressure_in_jar_pa: Floats) -> Floats:
    """
    Vacuum of a jar: what presses its lid down.

    Parameters
    ----------
    air_pa, pressure_in_jar_pa : float or ndarray
        Absolute, outside and inside, 0 to 250 000. [Pa]

    Returns
    -------
    float or ndarray
        Difference; negative where the lid is pushed up. [Pa]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{vacuum_pa(101_325.0, 13_520.0) / 1000:.0f} kPa")
    88 kPa
    """
    outside = _in("air_pa", air_pa, 0.0, 250_000.0, "Give absolute pascals.")
    inside = _in(
        "pressure_in_jar_pa", pressure_in_jar_pa, 0.0, 250_000.0, "Absolute pascals."
    )
    return outside - inside


def _in(name: str, value: Floats, low: float, high: float, hint: str) -> Floats:
    return within(name, value, low, high, source="jars in a kitchen", hint=hint)
