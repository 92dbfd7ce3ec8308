"""
Boiling syrup: how far above water it boils, and what that says of its solids.

Pure sucrose follows Starzak and Peacock (1997). Sugar inverted by acid and heat adds a
difference by Norrish's mixing rule, which alone would be 0.3 K too high at the boil.
"""

from __future__ import annotations

import math

from stillroom.science._maths import exp, log
from stillroom.science.estimate import Estimate
from stillroom.science.ranges import Floats, within
from stillroom.science.water import boiling_point_k

_WATER_G_MOL = 18.015242
_SUCROSE_G_MOL = 342.296
_HEXOSE_G_MOL = 180.156
_GAS_J_MOL_K = 8.314462618
# Starzak and Peacock (1997): coefficients seen in the abstract, the form from memory.
_Q_J_MOL, _A, _B = -17638.0, -1.0038, -0.24653
# Norrish (1966), ln aw = ln xw - (sum of root K x)²; K from memory.
_ROOT_K_SUCROSE, _ROOT_K_HEXOSE = math.sqrt(6.47), math.sqrt(2.25)
_SP = "Starzak and Peacock (1997), as used here up to 86 % sucrose"
SOURCE = (
    "Starzak and Peacock (1997) with IAPWS R7-97; inverted part by Norrish (1966), "
    "its constants from memory"
)


def sucrose_water_activity(sucrose: Floats, temperature_k: Floats) -> Floats:
    """
    Water activity of a solution of sucrose alone.

    Parameters
    ----------
    sucrose : float or ndarray
        Mass fraction, 0 to 0.86. [1]
    temperature_k : float or ndarray
        253.15 to 403.15. [K]

    Returns
    -------
    float or ndarray
        Vapour pressure over that of water. [1]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> print(f"{sucrose_water_activity(0.6789, 298.15):.3f}")
    0.844

    References
    ----------
    .. [1] Starzak and Peacock (1997), ln γ = Q/(RT) (1 + a x + b x²) x² and
       aw = γ (1 - x), x the mole fraction of sucrose.
    """
    w = _solids(sucrose)
    kelvin = within(
        "temperature_k",
        temperature_k,
        253.15,
        403.15,
        source=_SP,
        hint="Give kelvin: °C + 273.15.",
    )
    return _activity(w, kelvin)


def boiling_point_rise_k(
    soluble_solids: Floats,
    pressure_pa: Floats,
    inverted: Floats = 0.0,  # type: ignore[assignment]
) -> Floats:
    """
    How far above water a syrup boils.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.86. [1]
    pressure_pa : float or ndarray
        Absolute pressure, 50 000 to 250 000. [Pa]
    inverted : float or ndarray
        Share of the sugar that is glucose and fructose, 0 to 1. [1]

    Returns
    -------
    float or ndarray
        Boiling-point elevation. [K]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Notes
    -----
    The kitchen's rule of 8 °F (4.44 K) and "65 % soluble solids" agree only for a jelly
    with about 27 % of its sugar inverted: pure sucrose at 65 % rises by 3.79 K, and
    4.44 K above water it holds 67.9 %. By elevation it falls 0.07 K in 1 000 m, so that
    one rise serves everywhere.

    Examples
    --------
    >>> for inverted in (0.0, 0.27):
    ...     rise = boiling_point_rise_k(0.65, 101_325.0, inverted)
    ...     print(f"{rise:.2f} K with {100 * inverted:.0f} % inverted")
    3.79 K with 0 % inverted
    4.44 K with 27 % inverted

    References
    ----------
    .. [1] Starzak and Peacock (1997): T = Tsat(p / aw(T)), found by repeating it.
    .. [2] Norrish (1966), the difference that inversion makes.
    .. [3] IAPWS R7-97(2012), Eq. 31.
    """
    w = _solids(soluble_solids)
    share = _inverted(inverted)
    p = within(
        "pressure_pa",
        pressure_pa,
        50_000.0,
        250_000.0,
        source="kitchens and pressure canners",
        hint="Give absolute pressure in pascals.",
    )
    water = boiling_point_k(p)
    free, strength = _parts(w)
    alone = p / free
    boils = water + 0.0 * w  # both shapes
    for _ in range(5):  # each round is some 60 times nearer
        boils = boiling_point_k(alone * exp(-strength / boils))
    rise: Floats = boils - water
    if getattr(share, "ndim", 0) == 0 and share == 0.0:  # the usual case
        return rise
    mixed = boiling_point_k(p / _norrish(w, share))
    return rise + (mixed - boiling_point_k(p / _norrish(w, 0.0 * share)))


def solids_from_rise(
    rise_k: Floats,
    pressure_pa: Floats,
    inverted: Floats = 0.0,  # type: ignore[assignment]
) -> Floats:
    """
    Soluble solids of a syrup that boils so far above water.

    Parameters
    ----------
    rise_k : float or ndarray
        Boiling point less that of water, 0 to 12. [K]
    pressure_pa : float or ndarray
        Absolute pressure, 50 000 to 250 000. [Pa]
    inverted : float or ndarray
        Share of the sugar that is glucose and fructose, 0 to 1. [1]

    Returns
    -------
    float or ndarray
        Mass fraction. [1]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> print(f"{100 * solids_from_rise(40 / 9, 101_325.0):.1f} % of pure sucrose")
    67.9 % of pure sucrose
    >>> print(f"{100 * solids_from_rise(40 / 9, 101_325.0, 0.27):.1f} %, 27 % inverted")
    65.0 %, 27 % inverted

    References
    ----------
    .. [1] Inverse of `boiling_point_rise_k`, by halving.
    """
    rise = within(
        "rise_k",
        rise_k,
        0.0,
        12.0,
        source="boiling syrups",
        hint="Give the reading in the syrup less the reading in boiling water, in K.",
    )
    low = 0.0 * (rise + pressure_pa + inverted)
    high = low + 0.86
    for _ in range(46):
        middle = 0.5 * (low + high)
        under = 1.0 * (boiling_point_rise_k(middle, pressure_pa, inverted) < rise)
        low = low + under * (middle - low)
        high = high - (1.0 - under) * (high - middle)
    return 0.5 * (low + high)


def estimated_solids(
    rise_k: float, pressure_pa: float, *, reading_off_k: float = 0.5
) -> Estimate:
    """
    Solids of a boiling jelly from a thermometer, with what a kitchen does not know.

    Parameters
    ----------
    rise_k : float
        Boiling point less that of water, 1 to 10. [K]
    pressure_pa : float
        Absolute pressure. [Pa]
    reading_off_k : float
        How far the thermometer may be off, 0 to 1. [K]

    Returns
    -------
    Estimate
        Mass fraction; the spread takes 0 to 50 % of the sugar as inverted. [1]

    Examples
    --------
    >>> print(estimated_solids(40 / 9, 101_325.0))
    0.65 (0.60 to 0.70; an estimate: a rise of 4.4 K, 27 % of the sugar inverted)
    """
    rise = within(
        "rise_k",
        rise_k,
        1.0,
        10.0,
        source="jellies on their way to the set",
        hint="Give the reading less the reading in boiling water, in kelvin.",
    )
    off = within(
        "reading_off_k",
        reading_off_k,
        0.0,
        1.0,
        source="thermometers worth reading",
        hint="Give kelvin: 1 °F is 0.56.",
    )
    return Estimate(
        value=solids_from_rise(rise, pressure_pa, 0.27),
        unit="1",
        low=solids_from_rise(rise - off, pressure_pa, 0.5),
        high=solids_from_rise(rise + off, pressure_pa, 0.0),
        basis=f"a rise of {rise:.1f} K, 27 % of the sugar inverted",
        source=SOURCE,
    )


def water_activity_in_jar(
    soluble_solids: Floats,
    inverted: Floats = 0.0,  # type: ignore[assignment]
) -> Floats:
    """
    Water activity of a finished jelly near 25 °C, the inverted part counted.

    Parameters
    ----------
    soluble_solids : float or ndarray
        Mass fraction, 0 to 0.86. [1]
    inverted : float or ndarray
        Share of the sugar that is glucose and fructose, 0 to 1. [1]

    Returns
    -------
    float or ndarray
        Vapour pressure over that of water; pectin and acid left out. [1]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Notes
    -----
    A jelly of 65 % goes under 0.85 only by inversion. The figure explains why an opened
    jar belongs in the cold; it says nothing of how long a jar keeps.

    Examples
    --------
    >>> print(f"{water_activity_in_jar(0.65):.3f}")
    0.865
    >>> print(f"{water_activity_in_jar(0.65, 0.4):.3f} with 40 % inverted")
    0.837 with 40 % inverted

    References
    ----------
    .. [1] Norrish (1966), K = 6.47 for sucrose, 2.25 for glucose and fructose; from
       memory. Within 0.002 of Starzak and Peacock for sucrose alone.
    """
    return _norrish(_solids(soluble_solids), _inverted(inverted))


def _activity(sucrose: Floats, temperature_k: Floats) -> Floats:
    free, strength = _parts(sucrose)
    return free * exp(strength / temperature_k)


def _parts(sucrose: Floats) -> tuple[Floats, Floats]:
    """Mole fraction of water, and the T ln of its activity coefficient. [1], [K]"""
    moles = sucrose / _SUCROSE_G_MOL
    x = moles / (moles + (1.0 - sucrose) / _WATER_G_MOL)
    strength = _Q_J_MOL / _GAS_J_MOL_K * (1.0 + x * (_A + _B * x)) * x**2
    return 1.0 - x, strength


def _norrish(solids: Floats, inverted: Floats) -> Floats:
    sucrose = solids * (1.0 - inverted) / _SUCROSE_G_MOL
    hexose = solids * inverted / _HEXOSE_G_MOL
    water = (1.0 - solids) / _WATER_G_MOL
    total = sucrose + hexose + water
    pull = (_ROOT_K_SUCROSE * sucrose + _ROOT_K_HEXOSE * hexose) / total
    return exp(log(water / total) - pull**2)


def _solids(soluble_solids: Floats) -> Floats:
    return within(
        "soluble_solids",
        soluble_solids,
        0.0,
        0.86,
        source=_SP,
        hint="Give a mass fraction: 65 °Brix is 0.65.",
    )


def _inverted(inverted: Floats) -> Floats:
    return within(
        "inverted",
        inverted,
        0.0,
        1.0,
        source="shares of the sugar",
        hint="Give a share: 30 % inverted is 0.30.",
    )
