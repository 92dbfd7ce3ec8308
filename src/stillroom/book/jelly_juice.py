"""Juice for jelly without added pectin: water, simmering and sugar, fruit by fruit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.produce import fruit_named
from stillroom.book.reader import Row, read_rows, table
from stillroom.refusal import Refusal, Source

Range = tuple[float, float]
"""Lowest and highest printed figure; equal where one is printed."""


@dataclass(frozen=True, slots=True)
class JellyJuice:
    """One line of the printed table."""

    fruit: str
    water_cups_per_lb: Range
    simmer_min: Range
    sugar_cups_per_cup: Range
    """Sugar to a cup of juice."""
    lemon_tsp_per_cup: float
    lemon_optional: bool
    printed_half_pints: Range
    """From 4 cups of juice, as printed."""
    note: str
    """Says so where the solids cannot fill the printed yield."""
    source: Source


def read_jelly_juices(path: Traversable) -> Mapping[str, JellyJuice]:
    """Return the lines of a table by fruit."""
    columns = [
        *("fruit", "water_cups_per_lb_low", "water_cups_per_lb_high"),
        *("simmer_min_low", "simmer_min_high"),
        *("sugar_cups_per_cup_low", "sugar_cups_per_cup_high"),
        *("lemon_tsp_per_cup", "lemon_optional", "half_pints_low", "half_pints_high"),
        *("source", "how_known", "note"),
    ]
    return {
        row.text("fruit"): JellyJuice(
            fruit=row.text("fruit"),
            water_cups_per_lb=_range(row, "water_cups_per_lb", 0, 2),
            simmer_min=_range(row, "simmer_min", 1, 60),
            sugar_cups_per_cup=_range(row, "sugar_cups_per_cup", 0.5, 1.5),
            lemon_tsp_per_cup=row.number("lemon_tsp_per_cup", 0, 6),
            lemon_optional=row.note("lemon_optional") == "yes",
            printed_half_pints=_range(row, "half_pints", 1, 12),
            note=row.note("note"),
            source=row.source,
        )
        for row in read_rows(path, columns)
    }


@cache
def jelly_juices() -> Mapping[str, JellyJuice]:
    """Return every line of the printed table by fruit."""
    return read_jelly_juices(table("jelly_juice"))


def juice_table(fruit: str) -> JellyJuice | Refusal:
    """
    Return the printed line of a fruit.

    Examples
    --------
    >>> juice_table("crab apples").simmer_min
    (20.0, 25.0)
    """
    found = fruit_named(fruit)
    if isinstance(found, Refusal):
        return found
    if found.name in jelly_juices():
        return jelly_juices()[found.name]
    return Refusal(
        f"the printed table of juice for jelly has no line for {found.name}",
        instead=f"it has {', '.join(jelly_juices())}; other fruit needs added pectin "
        "and its own recipe",
        source=next(iter(jelly_juices().values())).source.text,
    )


def _range(row: Row, column: str, low: float, high: float) -> Range:
    lowest = row.number(f"{column}_low", low, high)
    return lowest, row.number(f"{column}_high", lowest, high)
