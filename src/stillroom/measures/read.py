"""
Read what a person types, "7 1/2 cups", exactly.

A measure is read as a `fractions.Fraction` of the SI unit by one small grammar: numbers
(whole, decimal, fractions, glyphs such as ½), each with a unit word, and sums of them
in one dimension. What the grammar does not know is refused with what was read; nothing
is guessed. Why not a general units library: docs/decisions/0002-kitchen-measures.md.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from stillroom.in_a_list import all_of
from stillroom.measures.number_words import in_digits
from stillroom.measures.words import (
    FOREIGN_MEASURE,
    OUNCE_KG,
    SCALES,
    TRAPS,
    UNITS,
    Dimension,
)
from stillroom.refusal import Unreadable

LONGEST_TEXT = 120
"""A measure has no more characters than this."""
LONGEST_NUMBER = 30
"""A number in a measure has no more digits than this."""


class EitherComma(Unreadable):
    """A comma that may part thousands or decimals: no shorter part of it is read."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A measure as it was read, exact, in SI: m3, kg, 1, m, Pa, W, K, s."""

    dimension: Dimension
    value: Fraction
    typed: str
    """What the person wrote."""
    bags: int = 0
    """Equal parts, where it was written as "6 bags of 5 cups"; else 0."""

    @property
    def bag(self) -> Fraction | None:
        """One of the equal parts; `None` where there are none."""
        return self.value / self.bags if self.bags else None


_ALLOWED = {
    Dimension.VOLUME: '"7 1/2 cups", "2 tbsp + 1 tsp" or "950 ml"',
    Dimension.MASS: '"2 lb 3 oz", "900 g" or "7.3 kg"',
    Dimension.COUNT: '"60" or "5 boxes"',
    Dimension.LENGTH: '"2150 ft" or "655 m"',
    Dimension.PRESSURE: '"27.6 inHg" or "935 hPa"',
    Dimension.POWER: '"2.5 kW", "1800 W" or "10000 BTU/h"',
    Dimension.TEMPERATURE: '"210 °F" or "98.9 °C"',
    Dimension.DURATION: '"24 h" or "90 min"',
}
_ANY_EXAMPLE = '"7 1/2 cups", "2 lb 3 oz", "950 ml", "5 boxes" or "6 bags of 5 cups"'


_FOREIGN = re.compile(r"(?i)\b(imperial|imp|uk|british|metric|australian)\b")

_GLYPHS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5",
    "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8",
    "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_PLAIN = str.maketrans(
    {
        **{glyph: f" {spelled} " for glyph, spelled in _GLYPHS.items()},
        "\u2044": "/",  # fraction slash
        "\u2212": "-",  # minus sign
        "º": "°",  # ordinal indicator, next to the degree sign on many keyboards
        "℉": "°F",
        "℃": "°C",
        "\u00a0": " ",  # spaces that do not break, thin spaces
        "\u2009": " ",
        "\u202f": " ",
        "\t": " ",
    }
)

_NUMBER = re.compile(
    r"""(?:(?P<whole>[0-9]+)(?:\ +|-))?(?P<over>[0-9]+)\ */\ *(?P<under>[0-9]+)
    |(?P<comma>0,[0-9]{1,3}(?!,?[0-9])|[0-9]+,[0-9]{1,2}(?![0-9]|[,.][0-9]))
    |(?P<decimal>[0-9]{1,3}(?:,[0-9]{3})+(?![0-9])(?:\.[0-9]+)?|[0-9]*\.[0-9]+|[0-9]+)
    """,
    re.VERBOSE,
)
_EITHER = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
"""A comma of thousands to some, and of decimals to others."""
_UNIT_TEXT = re.compile(r"[^0-9+&,]*?(?=\s*(?:$|[0-9+&,]|\.[0-9]|\band\b))")
_JOINT = re.compile(r"\s*(?:\+|&|,(?=\s)|\band\b)?\s*")
_BAGS = re.compile(r"(?i)^(?P<count>.*?[0-9a-z])\s+of\s+(?P<each>.+)$")


def read_quantity(text: str, *, example: str = "") -> Quantity:
    """
    Read a measure in any dimension.

    Parameters
    ----------
    text : str
        Such as "7 1/2 cups", "½ cup", "2 lb 3 oz", "2 tbsp + 1 tsp", "950 ml", "12qt",
        "2.5kW", "2,150 ft", "27.6inHg", "210 °F", "5 boxes" or "6 bags of 5 cups". A
        number alone is a count. "1,5 l" is a litre and a half; "1,500 g" is asked.
    example : str
        What would have done, for a fault to end with, where not any measure does.

    Returns
    -------
    Quantity
        The measure, exact, in SI.

    Raises
    ------
    Unreadable
        If it is no measure, mixes dimensions, is negative (temperatures and lengths may
        be), divides by zero, or has a word that is not known or has a trap in it.

    Examples
    --------
    >>> read_quantity("2 lb 3 oz").value
    Fraction(317514659, 320000000)
    >>> read_quantity("6 bags of 5 cups").bags
    6
    """
    try:
        return read_measure(text, None)
    except Unreadable as fault:
        if not example:
            raise
        why = str(fault).removesuffix(f"{_ANY_EXAMPLE}.")
        raise Unreadable(f"{why}{example}.") from None


def read_measure(text: str, wanted: Dimension | None) -> Quantity:
    """Read ``text``; ``wanted`` decides what a lone C and an example are."""
    plain = _plain(text, wanted)
    parts = _BAGS.match(plain)
    if parts is None:
        dimension, value = _read_sum(plain, text, wanted)
        return Quantity(dimension, value, text.strip())
    counted, count = _read_sum(parts["count"], text, None)
    dimension, each = _read_sum(parts["each"], text, wanted)
    if counted is not Dimension.COUNT or dimension is Dimension.COUNT:
        raise unreadable(text, wanted, 'before "of" goes a count, after it a measure')
    if not 1 <= count <= 10_000:
        raise unreadable(text, wanted, "between 1 and 10000 bags are read")
    if dimension not in (Dimension.VOLUME, Dimension.MASS):
        raise unreadable(text, wanted, "bags hold a volume or a weight")
    return Quantity(dimension, count * each, text.strip(), bags=int(count))


def unreadable(text: str, wanted: Dimension | None, why: str) -> Unreadable:
    """Return the fault of a measure: what was read, why it is none, what would do."""
    shown = text if len(text) <= 60 else f"{text[:57]}..."
    as_what = f" as a {wanted}" if wanted else ""
    example = _ALLOWED[wanted] if wanted else _ANY_EXAMPLE
    return Unreadable(f"cannot read {shown!r}{as_what}: {why}. Write {example}.")


def _plain(text: str, wanted: Dimension | None) -> str:
    """Spell glyphs out and take every other unusual letter for a fault."""
    if len(text) > LONGEST_TEXT:
        why = f"it has {len(text)} letters, a measure has at most {LONGEST_TEXT}"
        raise unreadable(text, wanted, why)
    plain = in_digits(text.translate(_PLAIN).strip())
    if not plain:
        raise unreadable(text, wanted, "nothing is written there")
    for letter in plain:
        if letter != "°" and not " " <= letter <= "~":
            why = f"the letter {letter!r} belongs to no measure"
            raise unreadable(text, wanted, why)
    return plain


def _read_sum(
    plain: str, text: str, wanted: Dimension | None
) -> tuple[Dimension, Fraction]:
    """Read terms up to the end of ``plain`` and add them up."""
    sign = -1 if plain.startswith("-") else 1
    plain = plain.removeprefix("-").lstrip()
    at, terms = 0, list[tuple[Dimension, Fraction]]()
    while at < len(plain) or not terms:
        begins = at
        number, at = _read_number(plain, at, text, wanted)
        typed = plain[begins:at]
        word = _UNIT_TEXT.match(plain, at)
        if word is None:  # pragma: no cover - the pattern also matches nothing
            raise unreadable(text, wanted, "no unit follows the number")
        terms.append(_measure(sign * number, word[0].strip(), text, wanted))
        if _EITHER.fullmatch(typed) and _is_metric(word[0].strip()):
            long, decimal = typed.replace(",", ""), typed.replace(",", ".")
            decimal = decimal.rstrip("0").rstrip(".")
            why = f"its comma may part thousands or decimals; write {long} or {decimal}"
            raise EitherComma(*unreadable(text, wanted, why).faults)
        at = word.end()
        joint = _JOINT.match(plain, at)
        if joint is not None and joint.end() > at:
            at = joint.end()
            if at == len(plain):
                raise unreadable(text, wanted, "it ends where more is announced")
    return _added_up(terms, sign, text, wanted)


def _is_metric(word: str) -> bool:
    """Whether a unit is of litres or grams: who uses it may write decimals so."""
    unit = UNITS.get(word) or UNITS.get(word.lower())
    if unit is None or unit[0] not in (Dimension.VOLUME, Dimension.MASS):
        return False
    size = unit[1]  # a cup and a pound are no power of ten of anything
    return size.numerator == 1 and str(size.denominator).rstrip("0") == "1"


def _added_up(
    terms: list[tuple[Dimension, Fraction]],
    sign: int,
    text: str,
    wanted: Dimension | None,
) -> tuple[Dimension, Fraction]:
    dimensions = list(dict.fromkeys(dimension for dimension, _ in terms))
    if len(dimensions) > 1:
        why = f"{all_of(dimensions)} do not add up"
        raise unreadable(text, wanted, why)
    dimension = dimensions[0]
    if dimension is Dimension.TEMPERATURE and len(terms) > 1:
        raise unreadable(text, wanted, "temperatures are not added up")
    if dimension is Dimension.COUNT and len(terms) > 1:
        raise unreadable(text, wanted, "give one count")
    value = sum((size for _, size in terms), Fraction(0))
    if sign < 0 and dimension not in (Dimension.LENGTH, Dimension.TEMPERATURE):
        raise unreadable(text, wanted, "it is less than nothing")
    if dimension is Dimension.TEMPERATURE and value < 0:
        raise unreadable(text, wanted, "nothing is colder than -459.67 °F")
    if dimension is Dimension.COUNT and value.denominator != 1:
        raise unreadable(text, wanted, "things are counted whole")
    return dimension, value


def _read_number(
    plain: str, at: int, text: str, wanted: Dimension | None
) -> tuple[Fraction, int]:
    found = _NUMBER.match(plain, at)
    if found is None:
        rest = plain[at:]
        why = f"no number stands where {rest!r} does" if rest else "it has no number"
        raise unreadable(text, wanted, why)
    if max(len(part) for part in found.groups(default="")) > LONGEST_NUMBER:
        why = f"a number in it has more than {LONGEST_NUMBER} digits"
        raise unreadable(text, wanted, why)
    if (comma := found["comma"]) is not None:
        return Fraction(comma.replace(",", ".")), found.end()
    if (decimal := found["decimal"]) is not None:
        follows = plain[found.end() : found.end() + 2]
        if behind := re.match(r",[0-9]+", plain[found.end() :]):
            typed = f"{decimal}{behind[0]}"
            why = f"a decimal has a point: {typed.replace(',', '.')}, not {typed}"
            raise unreadable(text, wanted, why)
        if re.match(r"\.(?:[0-9]|$)|/", follows):
            raise unreadable(text, wanted, "the number has one point too many")
        return Fraction(decimal.replace(",", "")), found.end()
    over, under = int(found["over"]), int(found["under"])
    if under == 0:
        raise unreadable(text, wanted, "nothing can be divided by zero")
    if found["whole"] is None:
        return Fraction(over, under), found.end()
    if over >= under:
        why = f"in a mixed number the fraction is below one, not {over}/{under}"
        raise unreadable(text, wanted, why)
    return int(found["whole"]) + Fraction(over, under), found.end()


def _measure(
    number: Fraction, word: str, text: str, wanted: Dimension | None
) -> tuple[Dimension, Fraction]:
    """Give the number its unit."""
    spelled = re.sub(r"\s+", " ", word.replace(".", " ")).strip()
    small = re.sub(r"^u ?s ", "", spelled.lower())
    if not spelled:
        return _bare(number, text, wanted)
    if spelled == "C" and wanted is Dimension.TEMPERATURE:
        spelled = "°C"
    if spelled == "C" and wanted is not Dimension.VOLUME:
        why = 'a lone C may be cups or Celsius; write "cups" or "°C"'
        raise unreadable(text, wanted, why)
    if spelled in SCALES or small in SCALES:
        factor, offset = SCALES.get(spelled) or SCALES[small]
        return Dimension.TEMPERATURE, number * factor + offset
    if trap := TRAPS.get(spelled) or TRAPS.get(small):
        raise unreadable(text, wanted, f"{spelled!r} is not read: {trap}")
    if _FOREIGN.search(spelled):
        raise unreadable(text, wanted, f"{spelled!r} is not read: {FOREIGN_MEASURE}")
    if (unit := UNITS.get(spelled) or UNITS.get(small)) is None:
        raise unreadable(text, wanted, f"no unit is called {spelled!r}")
    dimension, size = unit
    if wanted is Dimension.VOLUME and size == OUNCE_KG:
        raise unreadable(text, wanted, 'an ounce is a weight; for a volume say "fl oz"')
    return dimension, number * size


def _bare(
    number: Fraction, text: str, wanted: Dimension | None
) -> tuple[Dimension, Fraction]:
    """Take a number without a unit for a count, where a count will do."""
    if wanted not in (None, Dimension.COUNT):
        raise unreadable(text, wanted, "the number needs its unit")
    return Dimension.COUNT, number
