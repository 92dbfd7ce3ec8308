"""Sugar in the jar: how much stays dissolved, and how much acid and heat invert."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from stillroom.science._maths import exp
from stillroom.science.estimate import Estimate
from stillroom.science.ranges import Floats, OutOfRange, within

_LN10 = 2.302585092994046
_VUKOV = "Vukov (1965), from memory; good to 40 % either way"


class CrystalRisk(StrEnum):
    """What may become of the sugar in a cool store."""

    NONE = "all of it stays dissolved"
    NEAR = "within a hundredth of saturation: store it no colder"
    HELD_BACK = "more sucrose than stays dissolved, but enough of it is inverted"
    LIKELY = "more sucrose than stays dissolved: crystals are likely"


def solubility(temperature_k: Floats) -> Floats:
    """
    Sucrose in a saturated solution, by the old curve that printed tables share.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 373.15. [K]

    Returns
    -------
    float or ndarray
        Mass fraction of the solution. [1]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{100 * solubility(293.15):.1f} %")
    67.1 %

    References
    ----------
    .. [1] Parabola in °C fitted to Antokolskaya et al. (1964) in Mohos, Confectionery
       and Chocolate Engineering, Table A2.2: Herzfeld's curve of 1892, within 0.02 %.
    """
    t = _celsius(temperature_k)
    return 0.01 * (64.1854396 + t * (0.134712129 + 5.30601258e-4 * t))


def solubility_newer(temperature_k: Floats) -> Floats:
    """
    Sucrose in a saturated solution by the newer curve, lower in a cellar.

    Parameters
    ----------
    temperature_k : float or ndarray
        273.15 to 373.15. [K]

    Returns
    -------
    float or ndarray
        Mass fraction of the solution; 0.5 % less than `solubility` at 15 to 40 °C. [1]

    Raises
    ------
    OutOfRange
        If any element lies outside the range above.

    Examples
    --------
    >>> print(f"{100 * solubility_newer(293.15):.1f} %")
    66.6 %

    References
    ----------
    .. [1] Vavrinecz, the curve behind ICUMSA SPS-2 (1998). Known from memory.
    """
    t = _celsius(temperature_k)
    return 0.01 * (64.397 + t * (0.07251 + t * (0.0020569 - 9.035e-6 * t)))


def crystal_risk(soluble_solids: float, inverted: float, store_k: float) -> CrystalRisk:
    """
    Whether sugar may crystallise in the jar.

    Parameters
    ----------
    soluble_solids : float
        Mass fraction, 0 to 0.86. [1]
    inverted : float
        Share of the sugar that is inverted, 0 to 1. [1]
    store_k : float
        Coldest temperature of the store, 273.15 to 313.15. [K]

    Returns
    -------
    CrystalRisk
        A named verdict; pectin slows crystals and is left out.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Notes
    -----
    Sucrose per water is held against the lower of the two curves. That less than 15 %
    inverted lets crystals grow is common practice, no source.

    Examples
    --------
    >>> print(crystal_risk(0.68, 0.05, 283.15).name)
    LIKELY
    >>> print(crystal_risk(0.65, 0.30, 283.15).name)
    NONE
    """
    w = within(
        "soluble_solids",
        soluble_solids,
        0.0,
        0.86,
        source="syrups",
        hint="Give a mass fraction: 65 °Brix is 0.65.",
    )
    share = within(
        "inverted",
        inverted,
        0.0,
        1.0,
        source="shares",
        hint="Give a share: 30 % is 0.30.",
    )
    store = within(
        "store_k",
        store_k,
        273.15,
        313.15,
        source="cellars and cupboards",
        hint="Give kelvin: °C + 273.15.",
    )
    full = min(solubility(store), solubility_newer(store))
    filled = (w * (1.0 - share) / (1.0 - w)) / (full / (1.0 - full))
    if filled > 1.0:
        return CrystalRisk.LIKELY if share < 0.15 else CrystalRisk.HELD_BACK
    # 0.97 of sucrose per water is 0.01 of the mass fraction.
    return CrystalRisk.NEAR if filled > 0.955 and share < 0.15 else CrystalRisk.NONE


def inversion_rate_per_s(
    ph: Floats,
    temperature_k: Floats,
    water_g_per_ml: Floats = 0.45,  # type: ignore[assignment]
) -> Floats:
    """
    How fast acid and heat split sucrose into glucose and fructose.

    Parameters
    ----------
    ph : float or ndarray
        At 25 °C, 2 to 7. [1]
    temperature_k : float or ndarray
        283.15 to 393.15. [K]
    water_g_per_ml : float or ndarray
        Water in the syrup, 0.1 to 1; 0.45 at 65 %. [g/mL]

    Returns
    -------
    float or ndarray
        Rate of the first order, good to 40 % either way. [1/s]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> print(f"{60 * inversion_rate_per_s(3.1, 377.5):.4f} per minute")
    0.0278 per minute

    References
    ----------
    .. [1] Vukov (1965): log10 k = 16.91 + log10(water) - 5670/T - pH, in 1/min. From
       memory; its 108.6 kJ/mol meets the 109.2 of Tombari et al. (2007).
    """
    acid = within(
        "ph", ph, 2.0, 7.0, source=_VUKOV, hint="Give the pH of the cooled mix."
    )
    kelvin = within(
        "temperature_k",
        temperature_k,
        283.15,
        393.15,
        source=_VUKOV,
        hint="Give kelvin: °C + 273.15.",
    )
    water = within(
        "water_g_per_ml",
        water_g_per_ml,
        0.1,
        1.0,
        source=_VUKOV,
        hint="Give g of water in a mL of syrup: 0.45 at 65 %.",
    )
    return water / 60.0 * exp(_LN10 * (16.91 - 5670.0 / kelvin - acid))


def estimated_inversion(
    time_s: ArrayLike,
    temperature_k: ArrayLike,
    ph: float,
    water_g_per_ml: float = 0.45,
) -> Estimate:
    """
    Share of the sugar that a boil has inverted, over its temperature log.

    Parameters
    ----------
    time_s : array-like, shape (n,)
        When it was read, rising, 2 readings at least. [s]
    temperature_k : array-like, shape (n,)
        What the mix had. [K]
    ph : float
        At 25 °C, 2 to 7. [1]
    water_g_per_ml : float
        Water in the syrup. [g/mL]

    Returns
    -------
    Estimate
        Share inverted, 40 % of the rate either way. [1]

    Raises
    ------
    OutOfRange
        If times do not rise, or a figure lies outside its range.

    Examples
    --------
    >>> print(estimated_inversion([0, 600], [375.15, 375.15], 3.1))
    0.20 (0.13 to 0.27; an estimate: 10 min of boiling at pH 3.1)

    References
    ----------
    .. [1] 1 - exp(-∫ k dt), trapezoids on the rate `inversion_rate_per_s`.
    """
    time = np.asarray(time_s, dtype=float)
    if time.size < 2 or not (np.diff(time) > 0.0).all():
        raise OutOfRange("time_s needs two readings at least, each after the last.")
    kelvin = np.asarray(temperature_k, dtype=float)
    every = np.ones_like(kelvin)
    rate = inversion_rate_per_s(ph * every, kelvin, water_g_per_ml * every)
    turned = float(np.trapezoid(rate, time))
    share = [1.0 - float(np.exp(-turned * much)) for much in (0.6, 1.0, 1.4)]
    return Estimate(
        value=share[1],
        unit="1",
        low=share[0],
        high=share[2],
        basis=f"{(time[-1] - time[0]) / 60:.0f} min of boiling at pH {ph:g}",
        source=_VUKOV,
    )


def _celsius(temperature_k: Floats) -> Floats:
    kelvin = within(
        "temperature_k",
        temperature_k,
        273.15,
        373.15,
        source="printed solubilities of sucrose, 0 to 100 °C",
        hint="Give kelvin: °C + 273.15.",
    )
    return kelvin - 273.15
