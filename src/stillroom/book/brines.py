"""Fermenting in salt: the printed dose, the weeks at each warmth, what keeps after."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import Row, read_rows, table
from stillroom.refusal import Refusal, Source


@dataclass(frozen=True, slots=True)
class Warmth:
    """Weeks that a crock takes where it stands. [°F], [week]"""

    low_f: float
    high_f: float
    low_weeks: int
    high_weeks: int

    def __str__(self) -> str:
        return (
            f"{self.low_weeks} to {self.high_weeks} weeks at {self.low_f:g} to "
            f"{self.high_f:g} °F"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Brine:
    """How one tested recipe ferments."""

    procedure: str
    vegetable_water: float
    """Share of the vegetable that salt spreads through. [1]"""
    water_source: Source
    dose_tbsp: float | None
    dose_per_lb: float | None
    """So many tablespoons for so many pounds; `None` where a brine is poured on."""
    top_up_tbsp_per_quart: float | None
    warm: Warmth
    cool: Warmth
    too_warm_f: float
    look: str
    """How often in a week it is looked at."""
    keeps_months: tuple[int, int] | None
    """Refrigerated in its own brine; `None` where nothing is printed. [month]"""
    source: Source


def read_brines(path: Traversable) -> tuple[Brine, ...]:
    """
    Return the rows of a table of brines.

    Raises
    ------
    Unreadable
        At the first row without source, or whose figures are out of range.
    """
    columns = [
        *("procedure", "vegetable_water_percent", "water_source", "water_known"),
        *("dose_tbsp", "dose_per_lb", "top_up_tbsp_per_quart"),
        *("warm_low_f", "warm_high_f", "warm_low_weeks", "warm_high_weeks"),
        *("cool_low_f", "cool_high_f", "cool_low_weeks", "cool_high_weeks"),
        *("too_warm_f", "look_per_week", "keeps_low_months", "keeps_high_months"),
        *("source", "how_known"),
    ]
    found: list[Brine] = []
    for row in read_rows(path, columns):
        row.one_of("how_known", ("looked_up",))
        tablespoons = row.number_or_none("dose_tbsp", 0.5, 10)
        pounds = row.number_or_none("dose_per_lb", 0.5, 50)
        if (tablespoons is None) != (pounds is None):
            raise row.wrong("dose_per_lb", "and dose_tbsp go together")
        keeps = row.whole_or_none("keeps_low_months", 1, 24)
        found.append(
            Brine(
                procedure=row.text("procedure"),
                vegetable_water=row.number("vegetable_water_percent", 50, 99) / 100,
                water_source=Source(
                    row.text("water_source"),
                    row.one_of("water_known", ("looked_up", "memory")),
                ),
                dose_tbsp=tablespoons,
                dose_per_lb=pounds,
                top_up_tbsp_per_quart=row.number_or_none(
                    "top_up_tbsp_per_quart", 0.5, 5
                ),
                warm=_warmth(row, "warm"),
                cool=_warmth(row, "cool"),
                too_warm_f=row.number("too_warm_f", 60, 100),
                look=row.text("look_per_week"),
                keeps_months=None
                if keeps is None
                else (keeps, row.whole("keeps_high_months", keeps, 24)),
                source=row.source,
            )
        )
    return tuple(found)


def _warmth(row: Row, name: str) -> Warmth:
    low = row.number(f"{name}_low_f", 40, 90)
    weeks = row.whole(f"{name}_low_weeks", 1, 20)
    return Warmth(
        low,
        row.number(f"{name}_high_f", low, 90),
        weeks,
        row.whole(f"{name}_high_weeks", weeks, 20),
    )


@cache
def brines() -> tuple[Brine, ...]:
    """Return all fermentations that the book knows."""
    return read_brines(table("brines"))


def brine_of(procedure: str) -> Brine | Refusal:
    """
    Return how the recipe of this id ferments.

    Examples
    --------
    >>> str(brine_of("pickle-sauerkraut").warm)
    '3 to 4 weeks at 70 to 75 °F'
    """
    for brine in brines():
        if brine.procedure == procedure:
            return brine
    return Refusal(
        f"no salt dose and no weeks are published here for {procedure!r}",
        instead="take a tested recipe for fermenting it from an extension leaflet",
        source="the book's table of brines",
    )
