"""
The unit words that are read at the edges, each with its size in SI, exact.

US customary measures: a cup is 236.5882365 mL, a pint 2 cups, a quart 4, a gallon 16.
Sizes: NIST Handbook 44, appendix C, and NIST SP 811, appendix B (both from memory; the
tests hold them against the published decimals).
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction


class Dimension(StrEnum):
    """What a measure measures."""

    VOLUME = "volume"
    MASS = "mass"
    COUNT = "count"
    LENGTH = "length"
    PRESSURE = "pressure"
    POWER = "power"
    TEMPERATURE = "temperature"
    DURATION = "duration"


INCH_M = Fraction(254, 10_000)
FOOT_M = 12 * INCH_M
GALLON_M3 = 231 * INCH_M**3
CUP_M3 = GALLON_M3 / 16
TABLESPOON_M3 = CUP_M3 / 16
TEASPOON_M3 = TABLESPOON_M3 / 3
POUND_KG = Fraction(45_359_237, 10**8)
OUNCE_KG = POUND_KG / 16
LITRE_M3 = Fraction(1, 1000)
PSI_PA = POUND_KG * Fraction(980_665, 10**5) / INCH_M**2
"""Pound-force to the square inch, with the standard gravity 9.80665 m/s²."""
INCH_OF_MERCURY_PA = Fraction(133_322_387_415, 10**9) * Fraction(254, 10)
"""Conventional inch of mercury: 25.4 conventional mmHg (NIST SP 811, appendix B)."""

Unit = tuple[Dimension, Fraction]


def _words(dimension: Dimension, size: Fraction | int, words: str) -> dict[str, Unit]:
    return {word.strip(): (dimension, Fraction(size)) for word in words.split(",")}


# Looked up as written first, then in small letters: "K" is kelvin and "k" nothing.
UNITS: dict[str, Unit] = {
    **_words(Dimension.VOLUME, CUP_M3, "c, cup, cups"),
    **_words(
        Dimension.VOLUME,
        TABLESPOON_M3,
        "tbsp, tbsps, tbs, tblsp, tablespoon, tablespoons",
    ),
    **_words(Dimension.VOLUME, TEASPOON_M3, "tsp, tsps, teaspoon, teaspoons"),
    **_words(
        Dimension.VOLUME,
        CUP_M3 / 8,
        "fl oz, floz, fl ozs, fluid ounce, fluid ounces, fluid oz",
    ),
    **_words(Dimension.VOLUME, CUP_M3 * 2, "pt, pts, pint, pints"),
    **_words(Dimension.VOLUME, CUP_M3 * 4, "qt, qts, quart, quarts"),
    **_words(Dimension.VOLUME, GALLON_M3, "gal, gals, gallon, gallons"),
    **_words(Dimension.VOLUME, LITRE_M3, "l, liter, liters, litre, litres"),
    **_words(
        Dimension.VOLUME,
        LITRE_M3 / 1000,
        "ml, mls, milliliter, milliliters, millilitre, millilitres, cc",
    ),
    **_words(
        Dimension.VOLUME,
        LITRE_M3 / 100,
        "cl, centiliter, centiliters, centilitre, centilitres",
    ),
    **_words(
        Dimension.VOLUME,
        LITRE_M3 / 10,
        "dl, deciliter, deciliters, decilitre, decilitres",
    ),
    **_words(Dimension.MASS, POUND_KG, "lb, lbs, pound, pounds"),
    **_words(Dimension.MASS, OUNCE_KG, "oz, ozs, ounce, ounces"),
    **_words(
        Dimension.MASS, 1, "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme"
    ),
    **_words(Dimension.MASS, Fraction(1, 1000), "g, gr, gram, grams, gramme, grammes"),
    **_words(Dimension.MASS, Fraction(1, 10**6), "mg, milligram, milligrams"),
    **_words(Dimension.LENGTH, FOOT_M, "ft, foot, feet"),
    **_words(Dimension.LENGTH, INCH_M, "in, inch, inches"),
    **_words(Dimension.LENGTH, 1, "m, meter, meters, metre, metres"),
    **_words(Dimension.LENGTH, Fraction(1, 100), "cm, centimeter, centimetre"),
    **_words(Dimension.LENGTH, Fraction(1, 1000), "mm, millimeter, millimetre"),
    **_words(Dimension.LENGTH, 1000, "km, kilometer, kilometre"),
    **_words(
        Dimension.PRESSURE,
        INCH_OF_MERCURY_PA,
        "inhg, in hg",
    ),
    **_words(
        Dimension.PRESSURE, INCH_OF_MERCURY_PA / Fraction(254, 10), "mmhg, mm hg, torr"
    ),
    **_words(
        Dimension.PRESSURE, 100, "hpa, mb, mbar, millibar, millibars, hectopascal"
    ),
    **_words(Dimension.PRESSURE, 1000, "kpa, kilopascal, kilopascals"),
    **_words(Dimension.PRESSURE, 1, "pa, pascal, pascals"),
    **_words(Dimension.POWER, 1000, "kw, kilowatt, kilowatts"),
    **_words(Dimension.POWER, 1, "w, watt, watts"),
    # Gas stoves are rated so: the international table BTU, 1055.05585262 J, an hour.
    **_words(
        Dimension.POWER,
        Fraction(105_505_585_262, 10**8) / 3600,
        "btu/h, btu/hr, btuh, btu per hour",
    ),
    **_words(Dimension.DURATION, 3600, "h, hr, hrs, hour, hours"),
    **_words(Dimension.DURATION, 60, "min, mins, minute, minutes"),
    **_words(Dimension.DURATION, 86_400, "day, days"),
    **_words(Dimension.DURATION, 1, "s, sec, secs, second, seconds"),
    **_words(
        Dimension.COUNT,
        1,
        "bag, bags, box, boxes, packet, packets, packs, pack, package, packages, pkg,"
        "pouch, pouches, jar, jars, lid, lids, band, bands, piece, pieces, each",
    ),
    **_words(Dimension.COUNT, 12, "dozen, doz"),
}

# A thermometer's unit: factor and offset to kelvin.
_FAHRENHEIT = (Fraction(5, 9), Fraction(27_315, 100) - 32 * Fraction(5, 9))
_CELSIUS = (Fraction(1), Fraction(27_315, 100))
_KELVIN = (Fraction(1), Fraction(0))
SCALES: dict[str, tuple[Fraction, Fraction]] = {
    **dict.fromkeys(
        ("F", "°F", "°f", "° F", "deg f", "degrees f", "fahrenheit"), _FAHRENHEIT
    ),
    **dict.fromkeys(("°C", "°c", "° C", "deg c", "degrees c", "celsius"), _CELSIUS),
    **dict.fromkeys(("K", "kelvin"), _KELVIN),
}

FOREIGN_MEASURE = (
    "only US measures are (473 ml to the pint, 237 ml to the cup; an imperial pint is"
    " 568 ml, a metric cup 250 ml): give it in millilitres or litres"
)
_PINCH = 'a pinch has no size; write "1/8 tsp" or what you weigh'
_BY_WEIGHT = 'it weighs something else for every fruit; weigh it and write "25 lb"'

# Words with a trap in them, and why they are not read.
TRAPS: dict[str, str] = {
    "T": 'a capital T is easily misread; write "tbsp" or "tsp"',
    "t": 'a lone t may be a teaspoon or a tonne; write "tsp" or "kg"',
    **dict.fromkeys(("to", "-"), "between two figures it is a range; give one of them"),
    **dict.fromkeys(("pinch", "pinches", "dash", "dashes"), _PINCH),
    **dict.fromkeys(("bushel", "bushels", "bu", "peck", "pecks", "lug"), _BY_WEIGHT),
    **dict.fromkeys(
        ("stick", "sticks"), 'write the weight: one stick of butter is "4 oz"'
    ),
    **dict.fromkeys(
        ("psi", "psig", "bar"),
        "on a canner's gauge that is counted from the air around it, on a barometer"
        ' from nothing; give a barometer reading as "27.6 inHg" or "935 hPa"',
    ),
    **dict.fromkeys(
        ("btu", "btus"), 'a burner is rated in heat an hour; write "12000 BTU/h"'
    ),
    **dict.fromkeys(
        ("half-pint", "half-pints", "half pint", "half pints"),
        'that is a jar; write the count alone, "24", or a volume, "24 cups"',
    ),
}
