"""
Syrup: juice and sugar as a solution of sucrose in water.

Soluble solids are a mass fraction (0.65 is 65 °Brix). A real jelly also holds acid,
pectin and inverted sugar; for weights and volumes in a kitchen that is of no account.
"""

from __future__ import annotations

from stillroom.science._maths import exp
from stillroom.science.ranges import Floats, within

_CELSIUS_ZERO_K = 273.15
_FIT_SOURCE = (
    "the fit to the CRC Handbook of Chemistry and Physics, 102nd ed., sucrose at 20 °C"
)


def density_kg_m3(soluble_solids: Floats, temperature_k: Floats) -> Floats:
    """
    Density of a sucrose solution.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.84. [1]
    temperature_k : float or ndarray
        273.15 to 388.15. [K]

    Returns
    -------
    float or ndarray
        Density. At 20 °C within 0.09 of the table; at 100 °C within about 10. [kg/m³]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{density_kg_m3(0.65, 293.15):.0f} kg/m³ cold")
    1316 kg/m³ cold
    >>> print(f"{density_kg_m3(0.65, 373.15):.0f} kg/m³ at the boil")
    1275 kg/m³ at the boil

    References
    ----------
    .. [1] At 20 °C as `density_at_20_c_kg_m3`.
    .. [2] Change with temperature after Peacock (1995), -0.22556 t - 2.4304e-3 t².
    """
    t = _celsius(temperature_k)
    warmer = -0.22556 * (t - 20.0) - 2.4304e-3 * (t**2 - 400.0)
    return density_at_20_c_kg_m3(soluble_solids) + warmer


def density_at_20_c_kg_m3(soluble_solids: Floats) -> Floats:
    """
    Density of a sucrose solution at 20 °C, the temperature at which cups are read.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.84. [1]

    Returns
    -------
    float or ndarray
        Density, same shape, within 0.09 of the table. [kg/m³]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{density_at_20_c_kg_m3(0.60):.1f} kg/m³")
    1286.4 kg/m³

    References
    ----------
    .. [1] 1/ρ as a quartic in the mass fraction, fitted to the CRC Handbook of
       Chemistry and Physics, 102nd ed., "Concentrative properties of aqueous
       solutions".
    """
    w = _mass_fraction(soluble_solids)
    return 1000.0 / _specific_volume(w)


def heat_capacity_j_per_kg_k(soluble_solids: Floats, temperature_k: Floats) -> Floats:
    """
    Heat that warms a kilogram of sucrose solution by one kelvin.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.84. [1]
    temperature_k : float or ndarray
        273.15 to 388.15. [K]

    Returns
    -------
    float or ndarray
        Specific heat capacity. [J/(kg K)]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Notes
    -----
    At 65 % the mixture rule of Choi and Okos lies 6 to 18 % lower; the burner's
    efficiency is less well known than that. The higher figure is kept: it makes a plan
    wait for the boil rather than be surprised by it.

    Examples
    --------
    >>> print(f"{heat_capacity_j_per_kg_k(0.55, 333.15):.0f} J/(kg K)")
    3054 J/(kg K)

    References
    ----------
    .. [1] Form of the sugar industry for pure sucrose (purity 100), B in %, t in °C:
       4.1868 - 0.0297 B + 4.6e-5 · 100 B + 7.5e-5 B t, in kJ/(kg K). Known from
       memory.
    """
    brix = 100.0 * _mass_fraction(soluble_solids)
    t = _celsius(temperature_k)
    return 1e3 * (4.1868 + brix * (-0.0297 + 4.6e-3 + 7.5e-5 * t))


def heat_capacity_by_parts_j_per_kg_k(
    soluble_solids: Floats, temperature_k: Floats
) -> Floats:
    """
    Heat capacity of water and carbohydrate side by side: the lower of two opinions.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.84. [1]
    temperature_k : float or ndarray
        273.15 to 388.15. [K]

    Returns
    -------
    float or ndarray
        Specific heat capacity; at 65 % 6 to 18 % under `heat_capacity_j_per_kg_k`,
        which plans go by. [J/(kg K)]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{heat_capacity_by_parts_j_per_kg_k(0.65, 293.15):.0f} J/(kg K)")
    2492 J/(kg K)

    References
    ----------
    .. [1] Choi and Okos (1986), 0 to 150 °C; the third coefficient of carbohydrate is
       from memory.
    """
    w = _mass_fraction(soluble_solids)
    t = _celsius(temperature_k)
    wet = 4.1762 + t * (-9.0864e-5 + 5.4731e-6 * t)
    sugar = 1.5488 + t * (1.9625e-3 - 5.9399e-6 * t)
    return 1e3 * ((1.0 - w) * wet + w * sugar)


def conductivity_w_per_m_k(soluble_solids: Floats, temperature_k: Floats) -> Floats:
    """
    Thermal conductivity of a sugar solution.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.84. [1]
    temperature_k : float or ndarray
        273.15 to 388.15. [K]

    Returns
    -------
    float or ndarray
        Within about 5 %. [W/(m K)]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{conductivity_w_per_m_k(0.65, 353.15):.2f} W/(m K)")
    0.44 W/(m K)

    References
    ----------
    .. [1] Riedel (1949) for fruit juices and sugar solutions, t in °C, water in %:
       (326.58 + 1.0412 t - 0.00337 t²) (0.796 + 0.009346 water) mW/(m K). Known from
       memory.
    """
    water = 100.0 * (1.0 - _mass_fraction(soluble_solids))
    t = _celsius(temperature_k)
    return 1e-3 * (326.58 + t * (1.0412 - 3.37e-3 * t)) * (0.796 + 0.009346 * water)


def viscosity_pa_s(soluble_solids: Floats, temperature_k: Floats) -> Floats:
    """
    Dynamic viscosity of a sucrose solution: why a syrup is read and poured warm.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.70, the end of the typed table. [1]
    temperature_k : float or ndarray
        283.15 to 353.15. [K]

    Returns
    -------
    float or ndarray
        At 20 °C within 0.4 % of the table; away from it within about 5 %. [Pa s]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> cold, hot = viscosity_pa_s(0.65, 293.15), viscosity_pa_s(0.65, 353.15)
    >>> print(f"{1000 * cold:.0f} mPa s cold, {1000 * hot:.0f} mPa s at 80 °C")
    146 mPa s cold, 9 mPa s at 80 °C

    References
    ----------
    .. [1] At 20 °C ln(viscosity over water's) as a quartic in N/(1900 - 18 N), N in %,
       fitted to the CRC Handbook, 102nd ed.; its 32 % row is a misprint and left out.
    .. [2] Change with temperature after Mathlouthi and Génotelle (1995). From memory.
    """
    n = 100.0 * within(
        "soluble_solids",
        soluble_solids,
        0.0,
        0.70,
        source="the CRC Handbook, 102nd ed., viscosity of sucrose at 20 °C",
        hint="Give a mass fraction: 65 °Brix is 0.65.",
    )
    kelvin = within(
        "temperature_k",
        temperature_k,
        283.15,
        353.15,
        source="Mathlouthi and Génotelle (1995), 10 to 80 °C",
        hint="Give kelvin: °C + 273.15.",
    )
    t = kelvin - _CELSIUS_ZERO_K
    x = n / (1900.0 - 18.0 * n)
    thicker = x * (48.9436025 + x * (197.117479 + x * (-2021.575096 + 7751.21727 * x)))
    colder = (30.0 - t) / (91.0 + t) - 10.0 / 111.0
    bend: Floats = x**1.25
    return 1.0016e-3 * exp(thicker + 2.302585093 * colder * (1.1 + 43.1 * bend))


def solids_from_density(density_kg_m3: Floats) -> Floats:
    """
    Soluble solids from a density at 20 °C: inverse of `density_at_20_c_kg_m3`.

    Parameters
    ----------
    density_kg_m3 : float or ndarray
        At 20 °C, as from a hydrometer or a weighed cup, 998.2274 to 1438.3. [kg/m³]

    Returns
    -------
    float or ndarray
        Mass fraction, same shape. [1]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{100 * solids_from_density(1316.3):.1f} °Brix")
    65.0 °Brix
    """
    density = within(
        "density_kg_m3",
        density_kg_m3,
        _LIGHTEST_KG_M3,
        _HEAVIEST_KG_M3,
        source=_FIT_SOURCE,
        hint="Give kg/m³ at 20 °C: 1.25 g/mL is 1250.",
    )
    w = (1.00177582 - 1000.0 / density) / 0.38691815
    for _ in range(6):  # Newton's steps on the specific volume
        slope = -0.38691815 + w * (0.0339598 + w * (-0.00413442 + 0.05865244 * w))
        w = w - (_specific_volume(w) - 1000.0 / density) / slope
    # Rounding may leave the ends of the range by a few parts in 1e16.
    w = 0.5 * (w + abs(w))
    return 0.84 - 0.5 * (0.84 - w + abs(0.84 - w))


def freezing_point_k(soluble_solids: Floats) -> Floats:
    """
    Temperature at which ice begins to form in a sugar solution.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.42, the end of the typed table. [1]

    Returns
    -------
    float or ndarray
        Freezing point, within 0.005 of the table from 5 % up. [K]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{freezing_point_k(0.12) - 273.15:.2f} °C")
    -0.78 °C

    References
    ----------
    .. [1] Depression as a cubic in the sugar per water, fitted to the CRC Handbook of
       Chemistry and Physics, 102nd ed.
    """
    w = within(
        "soluble_solids",
        soluble_solids,
        0.0,
        0.42,
        source="the CRC Handbook, 102nd ed., freezing point of sucrose solutions",
        hint="Give a mass fraction: 12 °Brix is 0.12.",
    )
    m = w / (1.0 - w)  # kilograms of sugar to a kilogram of water
    return _CELSIUS_ZERO_K - m * (5.51933342 + m * (1.15523885 + 0.85167483 * m))


def _specific_volume(w: Floats) -> Floats:
    """At 20 °C, one thousand over the density. [L/kg]"""
    volume: Floats = 1.00177582 + w * (
        -0.38691815 + w * (0.0169799 + w * (-0.00137814 + 0.01466311 * w))
    )
    return volume


def _mass_fraction(soluble_solids: Floats) -> Floats:
    return within(
        "soluble_solids",
        soluble_solids,
        0.0,
        0.84,
        source=_FIT_SOURCE,
        hint="Give a mass fraction: 65 °Brix is 0.65.",
    )


def _celsius(temperature_k: Floats) -> Floats:
    kelvin = within(
        "temperature_k",
        temperature_k,
        273.15,
        388.15,
        source="these syrup equations, 0 to 115 °C",
        hint="Give kelvin: °C + 273.15.",
    )
    return kelvin - _CELSIUS_ZERO_K


_LIGHTEST_KG_M3 = density_at_20_c_kg_m3(0.0)
_HEAVIEST_KG_M3 = density_at_20_c_kg_m3(0.84)
