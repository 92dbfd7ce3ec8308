"""
Syrup: juice and sugar as a solution of sucrose in water.

Soluble solids are a mass fraction (0.65 is 65 °Brix). A real jelly also holds acid,
pectin and inverted sugar; for weights and volumes in a kitchen that is of no account.
"""

from __future__ import annotations

from stillroom.science._ranges import Floats, within

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
    volume = 1.00177582 + w * (
        -0.38691815 + w * (0.0169799 + w * (-0.00137814 + 0.01466311 * w))
    )
    return 1000.0 / volume


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
