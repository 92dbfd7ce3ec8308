"""How much for the year: what printed plans say, beside each other, conflicts told."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.book.words import holds, plain, tokens
from stillroom.measures import CUP_M3
from stillroom.refusal import Refusal, Source

_PLANS = ("annual plan", "handbook plan", "rule of thumb")
_CUPS = {"quart": 4, "pint": 2, "half-pint": 1}


@dataclass(frozen=True, slots=True)
class YearlyAmount:
    """What one plan prints for one person and year."""

    plan: str
    food: str
    servings: str
    """As printed; empty where none are."""
    per_person: float
    """In ``unit``."""
    unit: str
    """``quart``, ``pint`` or ``half-pint``."""
    note: str
    """Begins with "conflict" where the plan contradicts itself or another."""
    source: Source

    @property
    def cups(self) -> Fraction:
        """The same by the cup, exact. [cup]"""
        return Fraction(self.per_person) * _CUPS[self.unit]

    @property
    def volume_m3(self) -> float:
        """The same as a volume. [m³]"""
        return float(self.cups * CUP_M3)


def read_yearly_amounts(path: Traversable) -> tuple[YearlyAmount, ...]:
    """
    Return the amounts of a table.

    Raises
    ------
    Unreadable
        At the first row whose litres, or family amount, is not that of its own figure.
    """
    columns = [
        *("plan", "food", "servings", "per_person_year", "unit"),
        *("litres_per_person_year", "family_year", "family_size", "note"),
        *("source", "how_known"),
    ]
    found = []
    for row in read_rows(path, columns):
        amount = row.number("per_person_year", 0.5, 200)
        unit = row.one_of("unit", tuple(_CUPS))
        litres = row.number("litres_per_person_year", 0.3, 200)
        if abs(litres - amount * _CUPS[unit] * float(CUP_M3) * 1000) > 0.02:
            raise row.wrong("litres_per_person_year", f"is not {amount:g} {unit}s")
        family = row.number_or_none("family_year", 1, 1000)
        size = row.whole_or_none("family_size", 2, 12)
        if family and size and abs(family / size - amount) > 0.2:
            raise row.wrong("family_year", f"is not {size} times {amount:g}")
        found.append(
            YearlyAmount(
                row.one_of("plan", _PLANS),
                row.text("food"),
                row.note("servings"),
                amount,
                unit,
                row.note("note"),
                row.source,
            )
        )
    return tuple(found)


@cache
def yearly_amounts() -> tuple[YearlyAmount, ...]:
    """Return every printed amount."""
    return read_yearly_amounts(table("yearly_amounts"))


def yearly_amounts_of(food: str) -> tuple[YearlyAmount, ...] | Refusal:
    """
    Return what each plan prints for a food; several answers are several opinions.

    Examples
    --------
    >>> [f"{a.per_person:g} {a.unit}" for a in yearly_amounts_of("jelly")]
    ['13.5 pint', '40 half-pint']
    >>> [amount.food for amount in yearly_amounts_of("green beans")]
    ['beans, green']
    """
    wanted = plain(food)
    found = tuple(
        amount
        for amount in yearly_amounts()
        if sorted(tokens(amount.food)) == sorted(tokens(food))  # "beans, green"
        or (wanted and holds(tokens(amount.food.split(",")[0]), wanted))
    )
    return found or Refusal(
        f"no printed plan names {food!r}",
        instead="count what is eaten in a month, and take it twelve times",
        source="the book's table of yearly amounts",
    )
