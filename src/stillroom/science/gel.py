"""Gel: at what temperature a jelly without added pectin is done."""

from __future__ import annotations

from stillroom.science._ranges import Floats, within

RISE_K = 40.0 / 9.0
"""8 °F above boiling water: USDA Complete Guide to Home Canning, Guide 7."""

RISE_OF_PURE_SUCROSE_K = 3.9
"""What Cruess and McNair print for 65 °Brix: a named alternative, not the rule."""


def jelly_point_k(water_boils_k: Floats, rise_k: float = RISE_K) -> Floats:
    """
    Jellying point: the boiling point of water that day plus a fixed rise.

    Parameters
    ----------
    water_boils_k : float or ndarray
        Boiling point of water in this kitchen today, 353.15 to 378.15. With the reading
        of the keeper's own thermometer in boiling water the answer is the reading to
        stop at, and no calibration is needed. [K]
    rise_k : float
        Rise above it, 3 to 6; 8 °F unless told otherwise. [K]

    Returns
    -------
    float or ndarray
        Temperature at which to take the jelly off, same shape. [K]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Notes
    -----
    The rule and "65 % soluble solids" agree only for a real, acid jelly, in which about
    a quarter of the sugar has been inverted: pure sucrose at 65 % rises by 3.8 K.

    Examples
    --------
    >>> print(f"{jelly_point_k(373.15) - 273.15:.1f} °C")
    104.4 °C

    References
    ----------
    .. [1] USDA Complete Guide to Home Canning (AIB 539), Guide 7, temperature test.
    """
    water = within(
        "water_boils_k",
        water_boils_k,
        353.15,
        378.15,
        source="boiling water in a kitchen, 80 to 105 °C",
        hint="Read the thermometer in boiling water and give kelvin: °C + 273.15.",
    )
    rise = within(
        "rise_k",
        rise_k,
        3.0,
        6.0,
        source="published rises (3.9 K by Cruess and McNair, 4.4 K by USDA Guide 7)",
        hint="Give the difference in kelvin: 8 °F is 4.44 K.",
    )
    return water + rise
