"""
How much for the year: jars to want, from what was eaten or what is printed.

What a family ate last year is the better guide and comes first; printed amounts differ
two- and threefold, so each is shown with its own figure and none is averaged away.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.book.jars import jar_named
from stillroom.book.words import plain
from stillroom.book.yearly import YearlyAmount, yearly_amounts_of
from stillroom.refusal import Refusal, Source

MOST_PERSONS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Opinion:
    """What one plan, or the keeper's own year, makes of it."""

    jars: int
    from_what: str
    note: str
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class YearWant:
    """Jars of a food to want for a year."""

    food: str
    jar: str
    persons: int
    jars: int
    """Proposed: her own use, else the lowest printed figure; a choice of ours."""
    opinions: tuple[Opinion, ...]

    @property
    def because(self) -> str:
        """Why so many: whose figure it is, and why not a higher one."""
        if self.opinions[0].source.how_known == "keeper":
            return "as many as were eaten last year"
        low, high = (f(o.jars for o in self.opinions) for f in (min, max))
        if len(self.opinions) == 1:
            return "by the one figure that is printed"
        if low == high:
            return f"by each of {len(self.opinions)} printed figures"
        return (
            f"by the lowest of {len(self.opinions)} printed figures (the highest is "
            f"{high}): a jar too many is work for nothing"
        )


def year_want(
    food: str, *, persons: int, jar: str, eaten: int | None = None
) -> YearWant | Refusal:
    """
    Return the jars of a food that a year asks for.

    Parameters
    ----------
    food : str
        As the printed plans name it: "pears", "jelly", "tomatoes".
    persons : int
        Who eats of it, 1 to 60.
    jar : str
        Size of the jars to count in.
    eaten : int, optional
        Jars of that size eaten last year: her own figure, and the better one.
    """
    if not 1 <= persons <= MOST_PERSONS:
        return Refusal(
            f"{persons} persons is no household",
            instead=f"give 1 to {MOST_PERSONS}",
            source="our own limit",
        )
    size = jar_named(jar)
    if isinstance(size, Refusal):
        return size
    opinions: list[Opinion] = []
    if eaten is not None:
        opinions.append(
            Opinion(
                jars=eaten,
                from_what=f"{eaten} eaten last year",
                note="",
                source=Source("the keeper's own count", "keeper"),
            )
        )
    printed = yearly_amounts_of(food)
    if isinstance(printed, Refusal):
        if not opinions:
            return printed
    else:
        opinions += [
            Opinion(
                jars=math.ceil(amount.cups * persons / size.cups),
                from_what=_as_printed(amount, food),
                note=amount.note,
                source=amount.source,
            )
            for amount in printed
        ]
    proposed = eaten if eaten is not None else min(o.jars for o in opinions)
    return YearWant(
        food=food,
        jar=jar,
        persons=persons,
        jars=proposed,
        opinions=tuple(opinions),
    )


def _as_printed(amount: YearlyAmount, asked: str) -> str:
    """Return a printed figure in words; a food by another name is named."""
    food = amount.food.removeprefix("of which ")
    named = "" if plain(food) == plain(asked) else f"{food}: "
    unit = amount.unit if amount.per_person == 1 else f"{amount.unit}s"
    servings = f" ({amount.servings})" if amount.servings else ""
    return f"{named}{amount.per_person:g} {unit} a person{servings}"
