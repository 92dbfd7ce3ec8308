"""From SI back to what a keeper can scoop, weigh and read off."""

from __future__ import annotations

import math
from fractions import Fraction

from stillroom.measures.words import (
    CUP_M3,
    FOOT_M,
    INCH_M,
    LITRE_M3,
    OUNCE_KG,
    TEASPOON_M3,
)

LEAST_IN_A_JUG_M3 = 59 * LITRE_M3 / 1000
"""A quarter of a cup; less is measured by the spoon: common practice, no source."""

_CUP_PARTS = tuple(Fraction(n) for n in ("3/4", "2/3", "1/2", "1/3", "1/4", "0"))


def kitchen_volume(
    volume_m3: float | Fraction, *, metric: bool = False, at_least: bool = False
) -> str:
    """
    Write a volume in measures that can be scooped, to the nearest quarter teaspoon.

    Cups by quarters and thirds, then tablespoons, then teaspoons. `read_quantity` reads
    it back to the very same quarter teaspoon. With ``metric``, millilitres below 1 L,
    above it litres to the nearest 10 mL; what is less than a quarter of a cup stays in
    spoons.

    Parameters
    ----------
    volume_m3 : float or Fraction
        Zero or more. [m3]
    metric : bool
        Millilitres and litres.
    at_least : bool
        Never less than ``volume_m3``: of what is to be fetched.

    Raises
    ------
    ValueError
        If the volume is negative or not finite.

    Examples
    --------
    >>> kitchen_volume(7.5 * CUP_M3), kitchen_volume(7 * TEASPOON_M3)
    ('7 1/2 cups', '2 tbsp + 1 tsp')
    >>> kitchen_volume(5.5 * CUP_M3, metric=True), kitchen_volume(1e-4, metric=True)
    ('1.30 L', '100 mL')
    """
    exact = _exact("volume_m3", volume_m3)
    whole = _up if at_least else round
    if metric and exact >= LEAST_IN_A_JUG_M3:
        millilitres = whole(exact / LITRE_M3 * 1000)
        if millilitres < 1000:
            return f"{millilitres} mL"
        return f"{whole(exact / LITRE_M3 * 100) / 100:.2f} L"
    rest = whole(exact / TEASPOON_M3 * 4)  # quarter teaspoons
    if rest == 0:
        return "0 tsp" if exact == 0 else "under 1/4 tsp"
    full, rest = divmod(rest, 4 * 48)
    part = next(p for p in _CUP_PARTS if p * 4 * 48 <= rest)
    rest -= int(part * 4 * 48)
    spoons, quarters = divmod(rest, 4 * 3)
    cups_there = full + part
    said = [
        f"{_mixed(cups_there)} {'cup' if cups_there <= 1 else 'cups'}"
        * bool(cups_there),
        f"{spoons} tbsp" * bool(spoons),
        f"{_mixed(Fraction(quarters, 4))} tsp" * bool(quarters),
    ]
    return " + ".join(part for part in said if part)


def kitchen_mass(
    mass_kg: float | Fraction, *, metric: bool = False, at_least: bool = False
) -> str:
    """
    Write a mass as a kitchen scale shows it.

    Pounds and whole ounces (quarter ounces below a pound); with ``metric``, grams below
    1 kg, above it kilograms to the nearest 10 g.

    Parameters
    ----------
    mass_kg : float or Fraction
        Zero or more. [kg]
    metric : bool
        Grams and kilograms.
    at_least : bool
        Never less than ``mass_kg``: of what is to be fetched.

    Raises
    ------
    ValueError
        If the mass is negative or not finite.

    Examples
    --------
    >>> kitchen_mass(1.985), kitchen_mass(2, metric=True), kitchen_mass(0.0496)
    ('4 lb 6 oz', '2.0 kg', '1 3/4 oz')
    >>> kitchen_mass(0.54, at_least=True)
    '1 lb 4 oz'
    """
    exact = _exact("mass_kg", mass_kg)
    whole = _up if at_least else round
    if metric:
        grams = whole(exact * 1000)
        if grams < 1000:
            return f"{grams} g" if grams or not exact else "under 1 g"
        hundredths = f"{whole(exact * 100) / 100:.2f}"
        return f"{hundredths.removesuffix('0')} kg"
    quarters = whole(exact / OUNCE_KG * 4)
    if quarters < 4 * 16:
        if quarters == 0 and exact:
            return "under 1/4 oz"
        return f"{_mixed(Fraction(quarters, 4))} oz"
    pounds, ounces = divmod(whole(exact / OUNCE_KG), 16)
    return f"{pounds} lb {ounces} oz" if ounces else f"{pounds} lb"


def mixed_number(value: float | Fraction) -> str:
    """
    Write a number as recipes do, to the nearest sixth or eighth.

    Raises
    ------
    ValueError
        If the number is negative or not finite.

    Examples
    --------
    >>> mixed_number(4.5), mixed_number(7), mixed_number(0.333), mixed_number(2.125)
    ('4 1/2', '7', '1/3', '2 1/8')
    """
    return _mixed(_nearest(value))


def minutes_said(minutes: float | Fraction) -> str:
    """
    Write the minutes of a boil as recipes do; less than one in seconds as well.

    >>> minutes_said(1), minutes_said(1.5), minutes_said(0.5)
    ('1 min', '1 1/2 min', '1/2 min (30 s)')
    """
    said = f"{mixed_number(minutes)} min"
    return said if minutes >= 1 or not minutes else f"{said} ({round(60 * minutes)} s)"


def cups_said(cups: float | Fraction) -> str:
    """
    Write so many cups as recipes do, to the nearest sixth or eighth.

    Raises
    ------
    ValueError
        If the number is negative or not finite.

    Examples
    --------
    >>> cups_said(4.5), cups_said(1.01), cups_said(0.5)
    ('4 1/2 cups', '1 cup', '1/2 cup')
    """
    nearest = _nearest(cups)
    return f"{_mixed(nearest)} {'cup' if 0 < nearest <= 1 else 'cups'}"


def _nearest(value: float | Fraction) -> Fraction:
    """The nearest sixth or eighth."""
    exact = _exact("value", value)
    return min(
        (Fraction(round(exact * parts), parts) for parts in (8, 6)),
        key=lambda written: abs(written - exact),
    )


def _exact(name: str, value: float | Fraction) -> Fraction:
    if not math.isfinite(value) or value < 0:
        raise ValueError(f"{name} = {value} cannot be written: give zero or more")
    return Fraction(value)


def _up(number: Fraction) -> int:
    """Round up; a thousandth over, from a yield in decimals, is no more."""
    return math.ceil(number - Fraction(1, 1000))


def _mixed(number: Fraction) -> str:
    """``15/2`` as "7 1/2"."""
    whole, rest = divmod(number, 1)
    parts = [f"{whole}" if whole or not rest else "", f"{rest}" if rest else ""]
    return " ".join(part for part in parts if part)


def cups(volume_m3: float) -> float:
    """US cups in a volume. [cup]."""
    return volume_m3 / float(CUP_M3)


def fahrenheit(temperature_k: float) -> float:
    """Degrees Fahrenheit of a temperature in kelvin. [°F]."""
    return temperature_k * 1.8 - 459.67


def kelvin(temperature_f: float) -> float:
    """Kelvin of a temperature in degrees Fahrenheit. [K]."""
    return (temperature_f + 459.67) / 1.8


def celsius(temperature_k: float) -> float:
    """Degrees Celsius of a temperature in kelvin. [°C]."""
    return temperature_k - 273.15


def inches(length_m: float) -> float:
    """Inches in a length. [in]."""
    return length_m / float(INCH_M)


def feet(length_m: float) -> float:
    """Feet in a length. [ft]."""
    return length_m / float(FOOT_M)
