"""Fats that are rendered at home: how much comes of them, and how long they keep."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.book.words import plain
from stillroom.refusal import COMMON_PRACTICE, Refusal, Source

YIELD_SOURCE = Source(f"share of the raw fat: {COMMON_PRACTICE}", "practice")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rendering:
    """A raw fat and what is made of it."""

    id: str
    name: str
    aliases: tuple[str, ...]
    raw: str
    """The fat as it lies on the shelf: "pork fat"."""
    yield_low: float
    yield_high: float
    """Rendered fat from raw fat, by weight: common practice, no source. [1]"""
    water_share: float
    """Of the raw fat: common practice, no source. [1]"""
    finish_f: float | None
    """Where the last water is gone. [°F]"""
    finish_known: str
    density_kg_m3: float
    density_source: str
    months_cold: int
    months_frozen: int
    source: Source


def read_renderings(path: Traversable) -> tuple[Rendering, ...]:
    """
    Return the rows of a table of renderings.

    Raises
    ------
    Unreadable
        At the first row without source, or whose figures are out of range.
    """
    columns = [
        *("id", "name", "aliases", "fat", "yield_low", "yield_high", "water_share"),
        *("finish_f", "finish_known", "kg_per_l", "density_source"),
        *("months_cold", "months_frozen", "source", "how_known"),
    ]
    found: list[Rendering] = []
    for row in read_rows(path, columns):
        low = row.number("yield_low", 0.3, 1)
        water = row.number("water_share", 0.01, 0.4)
        high = row.number("yield_high", low, 1)
        if high + water > 1 + 1e-9:
            raise row.wrong("yield_high", "and water_share make more than the raw fat")
        finish = row.number_or_none("finish_f", 220, 300)
        known = ("looked_up", "memory", "practice")
        found.append(
            Rendering(
                id=row.text("id"),
                name=row.text("name"),
                aliases=row.words("aliases"),
                raw=row.text("fat"),
                yield_low=low,
                yield_high=high,
                water_share=water,
                finish_f=finish,
                finish_known=row.one_of("finish_known", known) if finish else "",
                density_kg_m3=1000 * row.number("kg_per_l", 0.85, 1),
                density_source=row.text("density_source"),
                months_cold=row.whole("months_cold", 1, 36),
                months_frozen=row.whole("months_frozen", 1, 60),
                source=row.source,
            )
        )
    return tuple(found)


@cache
def renderings() -> tuple[Rendering, ...]:
    """Return all fats that the book can render."""
    return read_renderings(table("render"))


def rendering_for(name: str) -> Rendering | Refusal:
    """
    Return how a fat is rendered: "lard", "rendered tallow".

    Examples
    --------
    >>> rendering_for("leaf lard").raw
    'pork fat'
    """
    asked = plain(name)
    for rendering in renderings():
        if asked in {plain(rendering.name), *(plain(a) for a in rendering.aliases)}:
            return rendering
    return Refusal(
        f"no rendering of {name!r} is in the book",
        instead="the book has " + ", ".join(r.name for r in renderings()),
        source="the book's table of renderings",
    )
