"""
Exact quantities: integers of milligrams, microlitres or pieces.

Sums of integers are exact, so what is taken out of a lot again and again leaves
nothing over. Frozen juice is kept by its volume, and remembers the size of a bag.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache

from stillroom.book.densities import cup_weight
from stillroom.book.words import short, singular
from stillroom.jar_count import counted
from stillroom.measures import (
    LEAST_IN_A_JUG_M3,
    kitchen_mass,
    kitchen_volume,
    read_quantity,
)
from stillroom.measures.number_words import in_digits, is_nothing
from stillroom.measures.words import CUP_M3, Dimension
from stillroom.refusal import Refusal, Unreadable

MOST = 10**13
"""No lot is larger: 10 t, 10,000 L, and no more pieces than that."""
MOST_PIECES = 1_000_000

EVEN_UL = 5_000
"""What is a whole number of these was measured in litres: no cup or pint is one. [uL]
"""

_NO_MEASURE = {"mg": 1_000, "ul": 1_232, "pieces": 1}
"""Less than this no kitchen measures: a gram, and a quarter of a teaspoon."""

_OUNCES_ALONE = re.compile(r"(?i)^(?!.*(lb|pound)).*(?<![a-z])(ozs?|ounces?)\b")
"""Of a lot by volume they may be fluid ounces; beside pounds they are of weight."""

_BOXES = re.compile(r"(?i)(?<![a-z])(?:bag|box|packet|pack|package|pkg|pouch)(?:e?s)?$")
"""Of jars and of lids one holds several: three boxes are not three."""

_SHORT = {"quart": ("qts", "qt"), "pint": ("pts", "pt")}

JAR_SIZES = ("half-pint", "half-gallon", "pint", "quart")


class Absurd(Unreadable):
    """A quantity was read, and no shelf has so much or so little."""


class Unit(StrEnum):
    """What a lot is counted in."""

    MG = "mg"
    UL = "ul"
    PIECES = "pieces"


_PER_SI = {
    Dimension.MASS: (Unit.MG, 10**6),
    Dimension.VOLUME: (Unit.UL, 10**9),
    Dimension.COUNT: (Unit.PIECES, 1),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """How a lot is measured: its unit, and the parts that it comes in."""

    unit: Unit
    part: str = ""
    """``bag``, ``half-pint``, ``lid`` ...; empty where it is loose."""
    each: int = 0
    """What one part holds, in ``unit``; 0 where the parts are the pieces."""

    def words(self, number: int) -> str:
        """
        Say a number of this measure.

        >>> Measure(unit=Unit.PIECES, part="half-pint").words(8)
        '8 half-pints'
        >>> bag = Measure(unit=Unit.UL, part="bag", each=946_353)
        >>> bag.words(14 * 946_353)
        '14 bags (56 cups)'
        >>> loose = Measure(unit=Unit.UL)
        >>> loose.words(7_000_000), loose.words(1_892_706)
        ('7.00 L (about 29 1/2 cups)', '8 cups')
        """
        if number < 0:
            return f"minus {self.words(-number)}"
        if self.unit is Unit.PIECES:
            return counted(number, self.part)
        bulk = _bulk(self.unit, number)
        if not self.each:
            return bulk
        whole, rest = self.parts(number)
        if not rest:
            return f"{counted(whole, self.part)} ({bulk})"
        open_one = f"{_bulk(self.unit, rest)} of an open {self.part or 'one'}"
        if not whole:
            return open_one
        return f"{counted(whole, self.part)} and {open_one} ({bulk})"

    def parts(self, number: int) -> tuple[int, int]:
        """
        How many whole parts a number is, and what of an open one.

        A pound is no whole number of milligrams: two bags of 2 lb, each rounded by
        itself, are a milligram more than 4 lb, and two bags all the same.

        >>> bag = Measure(unit=Unit.MG, part="bag", each=907_185)
        >>> bag.parts(1_814_369), bag.parts(1_814_370), bag.parts(1_360_777)
        ((2, 0), (2, 0), (1, 453592))
        """
        if not self.each:
            return 0, number
        whole = round(number / self.each)
        if abs(number - whole * self.each) <= whole < self.each // 4:
            return whole, 0
        return divmod(number, self.each)

    def of(self, number: int, what: str) -> str:
        """
        Say a number of this measure, and of what; plain pieces are called by name.

        >>> Measure(unit=Unit.PIECES, part="half-pint").of(8, "plum jelly")
        '8 half-pints of plum jelly'
        >>> lids = Measure(unit=Unit.PIECES)
        >>> lids.of(8, "lids"), lids.of(1, "half-pint jars")
        ('8 lids', '1 half-pint jar')
        """
        if self.unit is not Unit.PIECES or self.part:
            return f"{self.words(number)} of {what}"
        return f"{self.words(number)} {self.name(number, what)}"

    def name(self, number: int, what: str) -> str:
        """
        Name what there is a number of, as it is written beside the number.

        >>> Measure(unit=Unit.PIECES).name(1, "half-pint jars")
        'half-pint jar'
        >>> Measure(unit=Unit.PIECES, part="pint").name(1, "pickled beets")
        'pickled beets'
        """
        if self.unit is not Unit.PIECES or self.part or number != 1:
            return what
        begin, _, last = what.rpartition(" ")
        return f"{begin} {singular(last)}".strip()

    def is_crumb(self, left: int, of: int = 0) -> bool:
        """
        Whether what is left is less than anybody measures, and no share of the whole.

        It is what rounding left over: 2 cups and 5 cups, each a whole number of
        microlitres, are not quite 7 cups.

        >>> Measure(unit=Unit.UL).is_crumb(1, of=1_182_941)
        True
        >>> Measure(unit=Unit.MG).is_crumb(500, of=4_500)  # half a gram of saffron
        False
        """
        return left < _NO_MEASURE[self.unit] and (not of or 100 * left < of)

    def read(self, text: str, what: str = "") -> int:
        """
        Read how much of this lot is meant: "2 bags", "3 cups", "8".

        Where the book knows what a cup of ``what`` weighs, a volume is read of what is
        kept by weight, and a weight of what is kept by volume.

        Raises
        ------
        Unreadable
            If it is no quantity, is none at all, or is one of another kind.

        Examples
        --------
        >>> Measure(unit=Unit.UL, part="bag", each=946_353).read("8 cups")
        1892706
        >>> Measure(unit=Unit.PIECES, part="half-pint").read("half a dozen jars")
        6
        >>> Measure(unit=Unit.MG).read("2 cups", "sugar")
        400000
        """
        said = " ".join(text.split())
        if is_nothing(said):
            raise Absurd(
                f"{short(text)!r} is nothing at all, and nothing is booked of it: give "
                "a quantity above zero"
            )
        if said.casefold() == "no":
            raise Unreadable(
                "'no' may mean that none is left, or that it is not to be booked: "
                f"write 0 where you counted none, else such as {self.example}"
            )
        plain = _without_part(in_digits(said), self.part)
        if self.part in ("", "jar", *JAR_SIZES) and _BOXES.search(plain):
            raise Unreadable(
                f"{short(text)!r} does not fit: this lot is kept in {self.said}, and "
                f"one of those may hold several. Write {self.example}."
            )
        quantity = read_quantity(plain, example=self.example)
        unit, per_si = _unit_of(quantity.dimension, text)
        if unit is Unit.PIECES and self.each:
            number = int(quantity.value) * self.each
        elif unit is not self.unit:
            per_unit = self._by_the_cup(unit, text, what)
            number = self._whole_parts(exact(quantity.value * per_si * per_unit))
        else:
            number = self._whole_parts(exact(quantity.value * per_si))
        return checked(number, self.unit, text)

    def _by_the_cup(self, unit: Unit, text: str, what: str) -> Fraction:
        """How many of its own unit one of another is, by what a cup of it weighs."""
        no = f"{short(text)!r} does not fit: this lot is kept in {self.said}"
        if Unit.PIECES in (unit, self.unit) or not what:
            raise Unreadable(f"{no}. Write {self.example}.")
        if unit is Unit.MG and _OUNCES_ALONE.search(text):
            raise Unreadable(
                f"{no}, and an ounce may be one of weight or of volume. Write "
                f'"8 fl oz" or {self.example}.'
            )
        weight = cup_weight(what)
        if isinstance(weight, Refusal):
            how = "Weigh" if self.unit is Unit.MG else "Measure"
            raise Unreadable(
                f"{no}, and {weight.reason}. {how} it, and write such as "
                f"{self.example}."
            )
        mg_per_ul = Fraction(str(weight.kg_per_cup)) / (CUP_M3 * 1000)
        return mg_per_ul if self.unit is Unit.MG else 1 / mg_per_ul

    def _whole_parts(self, number: int) -> int:
        """A cup is no whole number of microlitres: what is a bag becomes just that."""
        if not self.each:
            return number
        parts = round(Fraction(number, self.each))
        return parts * self.each if abs(number - parts * self.each) <= parts else number

    @property
    def said(self) -> str:
        """What it is kept in: "bags, by volume"."""
        kept = {Unit.MG: "weight", Unit.UL: "volume", Unit.PIECES: "pieces"}[self.unit]
        part = counted(2, self.part)[2:] if self.part else ""
        if self.unit is Unit.PIECES:
            return part or kept
        return f"{part}, by {kept}" if part else kept

    @property
    def example(self) -> str:
        """How a quantity of it may be written."""
        if self.unit is Unit.PIECES:
            return f'"{counted(2, self.part)}" or "2"' if self.part else '"2"'
        bulk = '"3 cups"' if self.unit is Unit.UL else '"2 lb 3 oz"'
        return f'"{counted(2, self.part)}" or {bulk}' if self.each else bulk


def exact(value: Fraction) -> int:
    """Round to the nearest whole milligram, microlitre or piece."""
    return round(value)


def checked(number: int, unit: Unit, text: str) -> int:
    """Return a number that a lot can have, or say what is wrong with it."""
    if number <= 0:
        raise Absurd(f"{short(text)!r} is nothing at all: give a quantity above zero")
    most = MOST_PIECES if unit is Unit.PIECES else MOST
    if number > most:
        limit = {
            Unit.MG: "10,000 kg",
            Unit.UL: "10,000 L",
            Unit.PIECES: f"{MOST_PIECES:,} pieces",
        }[unit]
        raise Absurd(
            f"{short(text)!r} is more than a farm's shelf holds ({limit}): "
            "look at the number and its unit"
        )
    return number


def _unit_of(dimension: Dimension, text: str) -> tuple[Unit, int]:
    found = _PER_SI.get(dimension)
    if found is None:
        raise Unreadable(
            f"{short(text)!r} is a {dimension}: a lot has a weight, a volume or a count"
        )
    return found


def measured(text: str) -> tuple[Unit, int, int]:
    """
    Read a quantity by itself: its unit, the whole, and what one of its bags holds.

    >>> measured("6 bags of 5 cups")
    (<Unit.UL: 'ul'>, 7097646, 1182941)
    """
    quantity = read_quantity(text)
    unit, per_si = _unit_of(quantity.dimension, text)
    if quantity.bag is None:
        return unit, checked(exact(quantity.value * per_si), unit, text), 0
    each = checked(exact(quantity.bag * per_si), unit, text)
    return unit, checked(each * quantity.bags, unit, text), each


def _without_part(text: str, part: str) -> str:
    """Leave the name of the part out, so that "2 half-pints" is 2."""
    plain = " ".join(text.split())
    if not part:
        return plain
    for said in (counted(2, part)[2:], part, *_SHORT.get(part, ())):
        for name in (f"{said} jars", f"{said} jar", said):
            spelled = (name, name.replace("-", " "))
            for ending in spelled:
                if plain.lower().endswith(f" {ending}"):
                    number = plain[: -len(ending)].strip()
                    if number.replace(",", "").isdigit():
                        return number
    return plain


@lru_cache(maxsize=1024)  # recipes take the same amounts again and again
def _bulk(unit: Unit, number: int) -> str:
    if unit is Unit.UL:
        volume = Fraction(number, 10**9)
        cups = kitchen_volume(volume)
        if number % EVEN_UL or volume < LEAST_IN_A_JUG_M3:
            return cups
        quarters = kitchen_volume(round(volume / CUP_M3 * 4) * CUP_M3 / 4)
        about = quarters if quarters == cups else f"about {quarters}"
        return f"{kitchen_volume(volume, metric=True)} ({about})"
    mass = Fraction(number, 10**6)
    return f"{kitchen_mass(mass)} ({kitchen_mass(mass, metric=True)})"
