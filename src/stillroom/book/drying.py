"""
Drying: how a food is cut, how many hours are printed, when it is dry enough.

The hours are ranges to look by. What decides is the printed test on a cooled piece.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import Row, read_rows, table
from stillroom.book.words import plain
from stillroom.refusal import Refusal, Source

_COLUMNS = (
    *("id", "name", "aliases", "food", "kind", "prep", "treat", "blanch_min"),
    *("hours_low", "hours_high", "dry_sign", "waste_percent", "waste_source"),
    *("water_percent", "water_source", "water_known"),
    *("dry_water_low_percent", "dry_water_high_percent", "dry_water_source"),
    *("dry_water_known", "g_per_cup_dried", "packs_known", "note"),
    *("source", "how_known"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drying:
    """One food, and how it is dried."""

    id: str
    name: str
    """As a keeper asks for it: "dried apples"."""
    aliases: tuple[str, ...]
    food: str
    kind: str
    """``fruit`` or ``vegetable``."""
    prep: str
    treat: str
    """What it gets before it goes on the trays; empty where it gets nothing."""
    blanch_min: float | None
    """Of that, in boiling water or steam; a dip is a part of a minute. [min]"""
    hours_low: float
    hours_high: float
    dry_sign: str
    waste_share: float | None
    """Peel, core and stone of the food as it is bought. [1]"""
    water_share: float | None
    """Of the prepared food, by weight; `None` where no figure was seen. [1]"""
    water_source: Source | None
    dry_water_low: float
    dry_water_high: float
    """What is left of the water when it is dry enough, wet basis. [1]"""
    dry_water_source: Source
    kg_per_cup_dried: float | None
    packs_known: str
    note: str
    source: Source


def read_dryings(path: Traversable) -> tuple[Drying, ...]:
    """
    Return the rows of a table of dryings.

    Raises
    ------
    Unreadable
        At the first row without source, or whose figures are out of range.
    """
    found: list[Drying] = []
    for row in read_rows(path, _COLUMNS):
        if any(row.text("id") == earlier.id for earlier in found):
            raise row.wrong("id", "stands there twice")
        low = row.number("hours_low", 1, 72)
        dry_low = row.number("dry_water_low_percent", 1, 30)
        grams = row.number_or_none("g_per_cup_dried", 10, 300)
        found.append(
            Drying(
                id=row.text("id"),
                name=row.text("name"),
                aliases=row.words("aliases"),
                food=row.text("food"),
                kind=row.one_of("kind", ("fruit", "vegetable")),
                prep=row.text("prep"),
                treat=row.note("treat"),
                blanch_min=row.number_or_none("blanch_min", 0.1, 20),
                hours_low=low,
                hours_high=row.number("hours_high", low, 72),
                dry_sign=row.text("dry_sign"),
                waste_share=_share(row, "waste_percent"),
                water_share=_share(row, "water_percent"),
                water_source=_water_source(row),
                dry_water_low=dry_low / 100,
                dry_water_high=row.number("dry_water_high_percent", dry_low, 30) / 100,
                dry_water_source=Source(
                    row.text("dry_water_source"),
                    row.one_of("dry_water_known", ("looked_up", "computed", "memory")),
                ),
                kg_per_cup_dried=None if grams is None else grams / 1000,
                packs_known=row.note("packs_known"),
                note=row.note("note"),
                source=row.source,
            )
        )
    return tuple(found)


def _share(row: Row, column: str) -> float | None:
    percent = row.number_or_none(column, 0, 99)
    return None if percent is None else round(percent / 100, 6)


def _water_source(row: Row) -> Source | None:
    if not row.note("water_percent"):
        return None
    known = row.one_of("water_known", ("looked_up", "memory"))
    return Source(row.text("water_source"), known)


@cache
def dryings() -> tuple[Drying, ...]:
    """Return all foods that the book can dry."""
    return read_dryings(table("drying"))


def drying_for(name: str) -> Drying | Refusal:
    """
    Return how a food is dried: "dried apples", "apples".

    Examples
    --------
    >>> drying_for("dried pears").hours_low
    18.0
    """
    asked = plain(name).removeprefix("dried ").removeprefix("dry ")
    for drying in dryings():
        names = {plain(drying.name).removeprefix("dried "), plain(drying.food)}
        if asked in names | {plain(alias) for alias in drying.aliases}:
            return drying
    return Refusal(
        f"no drying of {name!r} is in the book",
        instead="follow an extension leaflet; the book has "
        + ", ".join(drying.food for drying in dryings()),
        source="the book's table of dryings",
    )


@dataclass(frozen=True, slots=True)
class DryingRule:
    """A figure that holds for all drying."""

    low: float
    high: float
    unit: str
    text: str
    source: Source


@cache
def drying_rules() -> Mapping[str, DryingRule]:
    """Return the figures that hold for all drying, by the name of the rule."""
    columns = ["rule", "low", "high", "unit", "text", "source", "how_known"]
    found: dict[str, DryingRule] = {}
    for row in read_rows(table("drying_rules"), columns):
        low = row.number("low", 0, 500)
        found[row.text("rule")] = DryingRule(
            low,
            row.number("high", low, 500),
            row.text("unit"),
            row.note("text"),
            row.source,
        )
    return found
