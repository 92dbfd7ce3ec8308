"""How much of a burner's power reaches the pot, by the kind of heat."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.book.words import plain
from stillroom.refusal import Refusal, Source


@dataclass(frozen=True, slots=True)
class HeatEfficiency:
    """Published share of burner power that reaches the pot."""

    heat: str
    aliases: tuple[str, ...]
    share: float
    """The lower printed figure, so that a plan waits rather than hurries. [1]"""
    also_printed: str
    source: Source


def read_heat_efficiencies(path: Traversable) -> Mapping[str, HeatEfficiency]:
    """Return the efficiencies of a table by kind of heat."""
    columns = ["heat", "aliases", "efficiency", "also_printed", "source", "how_known"]
    return {
        row.text("heat"): HeatEfficiency(
            row.text("heat"),
            row.words("aliases"),
            row.number("efficiency", 0.1, 1.0),
            row.note("also_printed"),
            row.source,
        )
        for row in read_rows(path, columns)
    }


@cache
def heat_efficiencies() -> Mapping[str, HeatEfficiency]:
    """Return all published efficiencies by kind of heat."""
    return read_heat_efficiencies(table("heat_efficiency"))


def efficiency_of(heat: str) -> HeatEfficiency | Refusal:
    """
    Return the published efficiency of ``gas``, ``coil`` or ``induction``.

    The keeper's own water test is better than any of them.

    Examples
    --------
    >>> efficiency_of("gas").share
    0.4
    """
    for row in heat_efficiencies().values():
        if plain(heat) in {plain(word) for word in (row.heat, *row.aliases)}:
            return row
    return Refusal(
        f"no efficiency is published here for {heat!r}",
        instead=f"use one of {', '.join(heat_efficiencies())}, or heat a weighed litre "
        "of water and enter what the burner really gives",
        source=str(heat_efficiencies()["gas"].source),
    )
