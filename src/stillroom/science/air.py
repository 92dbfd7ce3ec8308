"""
Air pressure: what presses on the water in the kitchen, by elevation or by barometer.

Constants are those of the U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF), its own
gas constant among them: today's value would give another pressure than it prints.
"""

from __future__ import annotations

from stillroom.science import water
from stillroom.science.ranges import Floats, OutOfRange, within

SEA_LEVEL_PRESSURE_PA = 101_325.0
SEA_LEVEL_TEMPERATURE_K = 288.15
LAPSE_RATE_K_PER_M = -0.0065
STANDARD_GRAVITY_M_S2 = 9.80665
MOLAR_MASS_KG_MOL = 0.0289644
GAS_CONSTANT_J_MOL_K = 8.31432
EARTH_RADIUS_M = 6_356_766.0

_SOURCE = "the U.S. Standard Atmosphere, 1976, as used here"
_LOWEST_M, _HIGHEST_M = -300.0, 4_000.0
_EXPONENT = (
    STANDARD_GRAVITY_M_S2
    * MOLAR_MASS_KG_MOL
    / (GAS_CONSTANT_J_MOL_K * LAPSE_RATE_K_PER_M)
)


def pressure_pa(elevation_m: Floats) -> Floats:
    """
    Air pressure on a standard day at an elevation above sea level.

    Parameters
    ----------
    elevation_m : float or ndarray
        Geometric height above mean sea level, -300 to 4 000. [m]

    Returns
    -------
    float or ndarray
        Absolute pressure, same shape. [Pa]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above. Nothing is extrapolated.

    Notes
    -----
    The weather alone moves the pressure by some 3 % either way: a barometer reading or
    the kitchen's own boiling water is better than the elevation.

    Examples
    --------
    >>> print(f"{pressure_pa(655.0):.0f} Pa")
    93701 Pa

    References
    ----------
    .. [1] U.S. Standard Atmosphere, 1976, equations 18 (geopotential height) and 33a
       (pressure in a layer with a lapse rate); lowest layer, 0 to 11 km.
    """
    z = within(
        "elevation_m",
        elevation_m,
        _LOWEST_M,
        _HIGHEST_M,
        source=_SOURCE,
        hint="Give metres above sea level, or a barometer reading.",
    )
    return _layer_pressure_pa(EARTH_RADIUS_M * z / (EARTH_RADIUS_M + z))


def elevation_m(pressure_pa: Floats) -> Floats:
    """
    Elevation at which a standard day has this pressure: inverse of `pressure_pa`.

    Parameters
    ----------
    pressure_pa : float or ndarray
        Absolute (station) pressure, about 61 640 to 104 981. [Pa]

    Returns
    -------
    float or ndarray
        Geometric height above mean sea level, same shape. [m]

    Raises
    ------
    OutOfRange
        If the pressure belongs to an elevation outside -300 to 4 000 m.

    Examples
    --------
    >>> print(f"{elevation_m(93_701.0):.0f} m")
    655 m
    """
    p = within(
        "pressure_pa",
        pressure_pa,
        _LOWEST_PA,
        _HIGHEST_PA,
        source=_SOURCE,
        hint="Give the absolute pressure at the station, not reduced to sea level.",
    )
    ratio: Floats = (p / SEA_LEVEL_PRESSURE_PA) ** (1.0 / _EXPONENT)
    h = SEA_LEVEL_TEMPERATURE_K / LAPSE_RATE_K_PER_M * (1.0 / ratio - 1.0)
    return EARTH_RADIUS_M * h / (EARTH_RADIUS_M - h)


def station_pressure_pa(altimeter_setting_pa: Floats, elevation_m: Floats) -> Floats:
    """
    Pressure at the kitchen from what a weather service prints for sea level.

    Parameters
    ----------
    altimeter_setting_pa : float or ndarray
        Altimeter setting (QNH), 90 000 to 110 000. A forecast's "sea-level pressure" is
        near enough the same. [Pa]
    elevation_m : float or ndarray
        Elevation of the kitchen, -300 to 4 000. [m]

    Returns
    -------
    float or ndarray
        Absolute pressure at that elevation. [Pa]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{station_pressure_pa(101_325.0, 1524.0) / 100:.0f} hPa")
    843 hPa

    References
    ----------
    .. [1] Ratio of the standard atmosphere, ``(1 - 0.0065 Z / 288.15) ** 5.2559``; the
       difference of geometric and geopotential height is left out, as is customary for
       altimeters.
    """
    setting = within(
        "altimeter_setting_pa",
        altimeter_setting_pa,
        90_000.0,
        110_000.0,
        source="sea-level pressures ever met with",
        hint="Give the sea-level reading in Pa; a reading taken in the kitchen needs "
        "no reduction.",
    )
    z = within(
        "elevation_m",
        elevation_m,
        _LOWEST_M,
        _HIGHEST_M,
        source=_SOURCE,
        hint="Give metres above sea level.",
    )
    return setting * (_layer_pressure_pa(z) / SEA_LEVEL_PRESSURE_PA)


def gauge_to_absolute_pa(gauge_pa: Floats, air_pa: Floats) -> Floats:
    """
    Pressure in a vessel from its gauge: a gauge reads the excess over the air outside.

    Parameters
    ----------
    gauge_pa : float or ndarray
        Reading, 0 to 200 000; 10 psi is 68 948. [Pa]
    air_pa : float or ndarray
        Pressure of the air at the gauge, 60 000 to 110 000. [Pa]

    Returns
    -------
    float or ndarray
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{gauge_to_absolute_pa(68_948.0, 101_325.0) / 1000:.1f} kPa")
    170.3 kPa

    References
    ----------
    .. [1] Definition of gauge pressure.
    """
    gauge = within(
        "gauge_pa",
        gauge_pa,
        0.0,
        200_000.0,
        source="gauges of domestic canners, up to 29 psi",
        hint="Give pascals: 1 psi is 6894.76.",
    )
    return gauge + _station("air_pa", air_pa)


def kitchen_pressure_pa(
    *,
    barometer_pa: float | None = None,
    altimeter_setting_pa: float | None = None,
    boils_reading_k: float | None = None,
    elevation_m: float | None = None,
) -> float:
    """
    Air pressure in the kitchen from the best evidence there is, named as what it is.

    Parameters
    ----------
    barometer_pa : float, optional
        A barometer in the kitchen, not reduced: taken as it is. [Pa]
    altimeter_setting_pa : float, optional
        What a weather service prints for sea level; needs ``elevation_m``. [Pa]
    boils_reading_k : float, optional
        A trusted thermometer in pure water at a full boil. [K]
    elevation_m : float, optional
        Height above sea level: alone, a standard day is taken. [m]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, two barometers speak at once, or none does.

    Examples
    --------
    >>> p = kitchen_pressure_pa(altimeter_setting_pa=101_900.0, elevation_m=655.0)
    >>> print(f"{p / 100:.0f} hPa")
    942 hPa
    >>> print(f"{kitchen_pressure_pa(boils_reading_k=371.15) / 100:.0f} hPa")
    944 hPa

    References
    ----------
    .. [1] `station_pressure_pa`, `pressure_pa`, `water.saturation_pressure_pa`.
    """
    told = (barometer_pa, altimeter_setting_pa, boils_reading_k)
    if sum(one is not None for one in told) > 1:
        raise OutOfRange(
            "barometer_pa, altimeter_setting_pa and boils_reading_k are three ways to "
            "say one thing: give only the one that you trust most."
        )
    if barometer_pa is not None:
        return _station("barometer_pa", barometer_pa)
    if boils_reading_k is not None:
        reading = within(
            "boils_reading_k",
            boils_reading_k,
            358.15,
            375.15,
            source="water at a full boil in a kitchen, 85 to 102 °C",
            hint="Give kelvin: °C + 273.15.",
        )
        return water.saturation_pressure_pa(reading)
    if elevation_m is None:
        raise OutOfRange(
            "neither a barometer nor an elevation came: give barometer_pa, "
            "boils_reading_k, or elevation_m, with altimeter_setting_pa where known."
        )
    if altimeter_setting_pa is not None:
        return station_pressure_pa(altimeter_setting_pa, elevation_m)
    return pressure_pa(elevation_m)


def _station(name: str, pressure_pa: Floats) -> Floats:
    return within(
        name,
        pressure_pa,
        60_000.0,
        110_000.0,
        source="air on the ground, sea level to 4 000 m",
        hint="Give absolute pressure in pascals: 1 hPa is 100, 1 inHg is 3386.39.",
    )


def _layer_pressure_pa(height_m: Floats) -> Floats:
    """Pressure at a geopotential height, lowest layer. [Pa]"""
    ratio = SEA_LEVEL_TEMPERATURE_K / (
        SEA_LEVEL_TEMPERATURE_K + LAPSE_RATE_K_PER_M * height_m
    )
    pressure: Floats = SEA_LEVEL_PRESSURE_PA * ratio**_EXPONENT
    return pressure


_HIGHEST_PA = pressure_pa(_LOWEST_M)
_LOWEST_PA = pressure_pa(_HIGHEST_M)
