"""Solutions of salt, acids and single sugars: what a litre weighs, when it freezes."""

from __future__ import annotations

from stillroom.science.ranges import Floats, OutOfRange, within

_SOURCE = "the CRC Handbook of Chemistry and Physics, 102nd ed., 20 °C"

# 1000/ρ [L/kg] as a cubic in the mass fraction, and the last row that it was fitted to.
_SPECIFIC_VOLUME = {
    "salt": (0.0, 0.20, (1.00180325, -0.71164028, 0.3744363, -0.40398555)),
    "acetic acid": (0.0, 0.10, (1.00180325, -0.14150038, 0.03895245, 0.0)),
    "citric acid": (0.0, 0.05, (1.00180325, -0.39803875, -0.18028977, 0.0)),
    "fructose": (0.0, 0.40, (1.00180325, -0.39098274, 0.02072755, 0.01505164)),
    "glucose": (0.10, 0.60, (1.00240347, -0.39028875, 0.05022881, -0.02145884)),
}


def density_at_20_c_kg_m3(solute: str, mass_fraction: Floats) -> Floats:
    """
    Density of a solution in water at 20 °C.

    Parameters
    ----------
    solute : str
        ``salt``, ``acetic acid``, ``citric acid``, ``fructose`` or ``glucose``.
    mass_fraction : float or ndarray
        Up to 0.20, 0.10, 0.05, 0.40 and 0.60 in that order; glucose from 0.10. [1]

    Returns
    -------
    float or ndarray
        Within 0.05 of the table. [kg/m³]

    Raises
    ------
    OutOfRange
        If the solute is not one of these, or the mass fraction lies outside.

    Examples
    --------
    >>> print(f"{density_at_20_c_kg_m3('salt', 0.05):.1f} kg/m³")
    1034.0 kg/m³

    References
    ----------
    .. [1] CRC Handbook of Chemistry and Physics, 102nd ed., "Concentrative properties
       of aqueous solutions": 1/ρ as a cubic in the mass fraction, fitted.
    """
    if solute not in _SPECIFIC_VOLUME:
        raise OutOfRange(
            f"no density is known for a solution of {solute!r}: give one of "
            f"{', '.join(_SPECIFIC_VOLUME)}."
        )
    low, high, (c0, c1, c2, c3) = _SPECIFIC_VOLUME[solute]
    w = within(
        "mass_fraction",
        mass_fraction,
        low,
        high,
        source=_SOURCE,
        hint="Give a mass fraction of the whole: 5 % is 0.05.",
    )
    return 1000.0 / (c0 + w * (c1 + w * (c2 + w * c3)))


def brine_freezing_point_k(salt_fraction: Floats) -> Floats:
    """
    Temperature at which ice begins to form in a brine of table salt.

    Parameters
    ----------
    salt_fraction : float or ndarray
        Mass fraction of the brine, 0 to 0.10, the end of the typed table. [1]

    Returns
    -------
    float or ndarray
        Freezing point. [K]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{brine_freezing_point_k(0.05) - 273.15:.1f} °C")
    -3.1 °C

    References
    ----------
    .. [1] Depression as a parabola in salt per water through the rows for 3.5 and 10 %
       of the CRC Handbook of Chemistry and Physics, 102nd ed.
    """
    w = within(
        "salt_fraction",
        salt_fraction,
        0.0,
        0.10,
        source=_SOURCE,
        hint="Give a mass fraction of the whole brine: 5 % is 0.05.",
    )
    m = w / (1.0 - w)
    return 273.15 - m * (57.34753846 + 15.23215385 * m)


def salt_share(salt_kg: Floats, water_kg: Floats) -> Floats:
    """
    Strength of a brine by weight of the whole: 50 g in 950 g of water is 5 %.

    Parameters
    ----------
    salt_kg, water_kg : float or ndarray
        What goes in, 0 to 100, and 0.001 to 100. [kg]

    Returns
    -------
    float or ndarray
        Mass fraction of the brine; a book that means "of the water" prints more. [1]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{100 * salt_share(0.050, 0.950):.2f} % of the brine")
    5.00 % of the brine
    """
    salt = within(
        "salt_kg", salt_kg, 0.0, 100.0, source="kitchens", hint="Give kilograms."
    )
    water = within(
        "water_kg", water_kg, 0.001, 100.0, source="kitchens", hint="Give kilograms."
    )
    return salt / (salt + water)
