"""Gel: when a jelly is done, and whether acid and sugar let its pectin set."""

from __future__ import annotations

from enum import StrEnum

from stillroom.science.estimate import Estimate
from stillroom.science.ranges import Floats, within

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


class Gel(StrEnum):
    """What a mix lacks or has too much of, for pectin to set it by acid and sugar."""

    INSIDE = "inside the window"
    TOO_LITTLE_ACID = "too little acid: it will not set"
    LITTLE_ACID = "acid on the low side: a soft set"
    TOO_MUCH_ACID = "too much acid: it will weep"
    TOO_LITTLE_SOLIDS = "too little sugar: a soft set, and it keeps less well once open"
    TOO_MUCH_SOLIDS = "boiled down too far: stiff, and sugar may crystallise"


WINDOW_PH = (2.8, 3.0, 3.3, 3.5)
"""
Weeps below (memory); best from and to; fails above (a pectin supplier's fault-finding
page, looked up).
"""
WINDOW_SOLIDS = (0.59, 0.65, 0.68)
"""From, best (two pectin makers' technical pages), and where crystals may form."""


def gel_window(
    ph: float, soluble_solids: float, degree_of_esterification: float | None = None
) -> tuple[Gel, ...]:
    """
    Judge a mix by the window in which high-methoxyl pectin sets.

    Parameters
    ----------
    ph : float
        Of the cooled mix, 2 to 6. [1]
    soluble_solids : float
        Mass fraction at the end of the boil, 0.2 to 0.85. [1]
    degree_of_esterification : float, optional
        Of the pectin, 0.5 to 0.85; fruit's own is high-methoxyl. [1]

    Returns
    -------
    tuple of Gel
        Named verdicts; ``(Gel.INSIDE,)`` where nothing is amiss.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range: low-methoxyl pectin (under 0.5) sets by
        calcium and is not judged.

    Examples
    --------
    >>> gel_window(3.1, 0.65) == (Gel.INSIDE,)
    True
    >>> for verdict in gel_window(3.7, 0.55):
    ...     print(verdict)
    too little acid: it will not set
    too little sugar: a soft set, and it keeps less well once open

    References
    ----------
    .. [1] `WINDOW_PH`, `WINDOW_SOLIDS`. A tested recipe is followed as it stands.
    """
    acid = within(
        "ph", ph, 2.0, 6.0, source="fruit mixes", hint="Give the pH of a cooled sample."
    )
    solids = within(
        "soluble_solids",
        soluble_solids,
        0.2,
        0.85,
        source="jellies and jams",
        hint="Give a mass fraction: 65 °Brix is 0.65.",
    )
    if degree_of_esterification is not None:
        _esterified(degree_of_esterification)
    weeps, _best_from, best_to, fails = WINDOW_PH
    verdicts = []
    if acid > fails:
        verdicts.append(Gel.TOO_LITTLE_ACID)
    elif acid > best_to:
        verdicts.append(Gel.LITTLE_ACID)
    elif acid < weeps:
        verdicts.append(Gel.TOO_MUCH_ACID)
    if solids < WINDOW_SOLIDS[0]:
        verdicts.append(Gel.TOO_LITTLE_SOLIDS)
    elif solids > WINDOW_SOLIDS[2]:
        verdicts.append(Gel.TOO_MUCH_SOLIDS)
    return tuple(verdicts) or (Gel.INSIDE,)


def setting_temperature(degree_of_esterification: float) -> Estimate:
    """
    Temperature at which a jelly of 65 % and about pH 3.0 begins to set.

    Parameters
    ----------
    degree_of_esterification : float
        0.5 to 0.85: rapid set above 0.72, slow set 0.58 to 0.65. [1]

    Returns
    -------
    Estimate
        Shown only as "sets in the pot if it waits". [K]

    Raises
    ------
    OutOfRange
        If it lies outside its range: low-methoxyl pectin is not judged.

    Examples
    --------
    >>> print(setting_temperature(0.74).value - 273.15)
    80.0

    References
    ----------
    .. [1] Rapid 75 to 85 °C, slow 45 to 60 °C: handbooks, from memory. Between the two
       grades the whole stretch is given.
    """
    share = _esterified(degree_of_esterification)
    if share > 0.72:
        low, high, grade = 75.0, 85.0, "rapid-set"
    elif share <= 0.65:
        low, high, grade = 45.0, 60.0, "slow-set"
    else:
        low, high, grade = 45.0, 85.0, "medium-set"
    return Estimate(
        value=0.5 * (low + high) + 273.15,
        unit="K",
        low=low + 273.15,
        high=high + 273.15,
        basis=f"{grade} pectin at 65 % and about pH 3.0",
        source="handbooks, from memory",
    )


def _esterified(degree_of_esterification: float) -> float:
    return within(
        "degree_of_esterification",
        degree_of_esterification,
        0.5,
        0.85,
        source="high-methoxyl pectins",
        hint="Low-methoxyl pectin sets by calcium: follow its maker's recipe.",
    )
