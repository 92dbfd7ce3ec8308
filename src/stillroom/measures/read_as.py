"""Read a measure of which it is known what it measures: a volume, a height, a mass."""

from __future__ import annotations

import re
from fractions import Fraction

from stillroom.measures.read import read_measure, unreadable
from stillroom.measures.words import Dimension

_THOUSANDS = re.compile(
    r"(?i)(?<![0-9.,/])([1-9][0-9]?)\.([0-9]{3})(?![0-9])\s*"
    r"(?=(?:m|met(?:re|er)s?|ft|foot|feet)\b)"
)
"""Where a point may part thousands, as much of the world writes a height: 1.200 m."""


def _read_as(text: str, wanted: Dimension) -> Fraction:
    quantity = read_measure(text, wanted)
    if quantity.dimension is not wanted:
        raise unreadable(text, wanted, f"that is a {quantity.dimension}")
    return quantity.value


def read_volume_m3(text: str) -> float:
    """
    Read a volume. [m3].

    Raises
    ------
    Unreadable
        If ``text`` is no volume; "8 oz" is a weight and refused, "8 fl oz" is not.

    Examples
    --------
    >>> f"{1e6 * read_volume_m3('7 1/2 cups'):.2f} ml"
    '1774.41 ml'
    """
    return float(_read_as(text, Dimension.VOLUME))


def read_mass_kg(text: str) -> float:
    """
    Read a mass. [kg].

    Raises
    ------
    Unreadable
        If ``text`` is no mass.
    """
    return float(_read_as(text, Dimension.MASS))


def read_length_m(text: str) -> float:
    """
    Read a length or an elevation; negative below the sea. [m].

    Raises
    ------
    Unreadable
        If ``text`` is no length. A number without its unit is none: "2150" is refused.
    """
    return float(_read_as(text, Dimension.LENGTH))


def read_height_m(text: str) -> float:
    """
    Read a height above the sea; negative below it. [m].

    Raises
    ------
    Unreadable
        If ``text`` is no length, or one like "1.200 m", which may be 1200 m: read as
        1.2 m it would have the shortest times of all.
    """
    metres = read_length_m(text)
    if found := _THOUSANDS.search(text):
        long = "".join(found.groups())
        why = (
            f"its point may part thousands or tenths; write {long} if it is as much, "
            "or one decimal"
        )
        raise unreadable(text, Dimension.LENGTH, why)
    return metres


def read_pressure_pa(text: str) -> float:
    """
    Read an absolute pressure, as a barometer shows it. [Pa].

    Raises
    ------
    Unreadable
        If ``text`` is no pressure, or one that is counted from the air around ("psi").
    """
    return float(_read_as(text, Dimension.PRESSURE))


def read_power_w(text: str) -> float:
    """
    Read a burner's rated power, in W, kW or BTU/h. [W].

    Raises
    ------
    Unreadable
        If ``text`` is no power.
    """
    return float(_read_as(text, Dimension.POWER))


def read_temperature_k(text: str) -> float:
    """
    Read a temperature. [K].

    Raises
    ------
    Unreadable
        If ``text`` is no temperature or lies below absolute zero.
    """
    return float(_read_as(text, Dimension.TEMPERATURE))


def read_duration_min(text: str) -> int:
    """
    Read a duration of whole minutes, "24 h". [min].

    Raises
    ------
    Unreadable
        If ``text`` is no duration or not of whole minutes.
    """
    minutes = _read_as(text, Dimension.DURATION) / 60
    if minutes.denominator != 1:
        raise unreadable(text, Dimension.DURATION, "minutes are counted whole")
    return int(minutes)
