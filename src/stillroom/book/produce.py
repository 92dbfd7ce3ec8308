"""Fruit: how acid it is, how much of it is solids, and how much juice it gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.book.words import plain
from stillroom.in_a_list import all_of
from stillroom.measures.words import CUP_M3, POUND_KG
from stillroom.refusal import Refusal, Source

ACID = "acid"
NEEDS_ACID = "needs acid"


@dataclass(frozen=True, slots=True)
class Fruit:
    """A fruit, and whether it is reliably acid."""

    name: str
    aliases: tuple[str, ...]
    acid_class: str
    """``acid``, or ``needs acid`` where only an acidified tested recipe will do."""
    ph: tuple[float, float] | None
    """Lowest and highest published pH; `None` where none was seen."""
    note: str
    source: Source


@dataclass(frozen=True, slots=True)
class SolubleSolids:
    """Soluble solids of a fruit or its juice, as mass fractions. [1]"""

    low: float
    likely: float
    """By the fruit factor of the standard for jellies and jams, where there is one."""
    high: float
    source: Source


@dataclass(frozen=True, slots=True)
class JuiceYield:
    """Juice that a published line gets from fruit."""

    juice_m3_per_kg: float
    as_printed: str
    source: Source


_M3_PER_KG_OF_CUP_PER_LB = float(CUP_M3 / POUND_KG)


def read_fruits(path: Traversable) -> Mapping[str, Fruit]:
    """Return the fruits of a table by name."""
    columns = [
        "fruit",
        "aliases",
        "acid_class",
        "ph_low",
        "ph_high",
        "note",
        "source",
        "how_known",
    ]
    fruits: dict[str, Fruit] = {}
    for row in read_rows(path, columns):
        name = row.text("fruit")
        if name in fruits:
            raise row.wrong("fruit", f"{name!r} stands there twice")
        low = row.number_or_none("ph_low", 1.5, 8.0)
        high = row.number_or_none("ph_high", low or 1.5, 8.0)
        ph = None if low is None else (low, low if high is None else high)
        fruits[name] = Fruit(
            name,
            row.words("aliases"),
            row.one_of("acid_class", (ACID, NEEDS_ACID)),
            ph,
            row.note("note"),
            row.source,
        )
    return fruits


def read_soluble_solids(path: Traversable) -> Mapping[str, SolubleSolids]:
    """Return the soluble solids of a table by fruit."""
    columns = [
        "fruit",
        "solids_low_percent",
        "solids_likely_percent",
        "solids_high_percent",
        "cfr150_factor",
        "source",
        "how_known",
    ]
    solids: dict[str, SolubleSolids] = {}
    for row in read_rows(path, columns):
        likely = row.number("solids_likely_percent", 2, 40)
        low = row.number("solids_low_percent", 2, likely)
        high = row.number("solids_high_percent", likely, 40)
        factor = row.number_or_none("cfr150_factor", 4, 20)
        if factor is not None and abs(100 / factor - likely) > 0.051:
            raise row.wrong("solids_likely_percent", "is not 100 / cfr150_factor")
        solids[row.text("fruit")] = SolubleSolids(
            round(low / 100, 4),
            round(likely / 100, 4),
            round(high / 100, 4),
            row.source,
        )
    return solids


def read_juice_yields(path: Traversable) -> Mapping[str, JuiceYield]:
    """Return the juice yields of a table by fruit."""
    columns = [
        "fruit",
        "juice_cups_per_lb",
        "water",
        "as_printed",
        "source",
        "how_known",
    ]
    return {
        row.text("fruit"): JuiceYield(
            row.number("juice_cups_per_lb", 0.3, 2.5) * _M3_PER_KG_OF_CUP_PER_LB,
            row.text("as_printed"),
            row.source,
        )
        for row in read_rows(path, columns)
    }


@cache
def fruits() -> Mapping[str, Fruit]:
    """Return all fruits of the book by name."""
    return read_fruits(table("produce"))


@cache
def fruits_by_words() -> Mapping[str, Fruit]:
    """Return all fruits by each of their names, made comparable."""
    return {
        plain(word): fruit
        for fruit in fruits().values()
        for word in (fruit.name, *fruit.aliases)
    }


@cache
def _solids() -> Mapping[str, SolubleSolids]:
    return read_soluble_solids(table("soluble_solids"))


@cache
def _juice_yields() -> Mapping[str, JuiceYield]:
    return read_juice_yields(table("juice_yields"))


def fruit_named(text: str) -> Fruit | Refusal:
    """
    Return the fruit that is meant by ``text``, which may end in "juice" or "pulp".

    Examples
    --------
    >>> fruit_named("tart cherries").name
    'sour cherry'
    """
    words = plain(text).removesuffix(" juice").removesuffix(" pulp")
    known = fruits_by_words()
    if words in known:
        return known[words]
    near = get_close_matches(words, list(known), n=2, cutoff=0.0)
    return Refusal(
        f"the book knows no fruit called {text!r}; nearest: {all_of(near)}",
        instead="use one of its names, or enter what is known of this fruit yourself",
        source="the book's table of produce",
    )


def soluble_solids(fruit: str) -> SolubleSolids | Refusal:
    """
    Soluble solids of a fruit, and so of its juice.

    Parameters
    ----------
    fruit : str
        As people say it: "plum", "plum juice".

    Returns
    -------
    SolubleSolids or Refusal
        Low, likely and high mass fraction. [1]

    Notes
    -----
    An average of commerce. Ripeness, the season and the water that the fruit was cooked
    with move it: it serves for yields, never for a process.

    Examples
    --------
    >>> soluble_solids("plum juice").likely
    0.143
    """
    found = fruit_named(fruit)
    if isinstance(found, Refusal):
        return found
    if found.name not in _solids():
        return Refusal(
            f"no figure for the soluble solids of {found.name} is in the book",
            instead="read them with a refractometer and enter the reading",
            source="21 CFR 150.110(b) and 150.140(b), which list no factor for it",
        )
    return _solids()[found.name]


def juice_yield(fruit: str) -> JuiceYield | Refusal:
    """
    Juice from a weight of fruit, by a published line. [m³/kg]

    Examples
    --------
    >>> juice_yield("plums").as_printed
    '4.5 lb + 1 cup water give 5 cups'
    """
    found = fruit_named(fruit)
    if isinstance(found, Refusal):
        return found
    if found.name not in _juice_yields():
        return Refusal(
            f"no published juice yield of {found.name} is in the book",
            instead="press a weighed pound, measure the juice, and enter that yield",
            source="the book's table of juice yields",
        )
    return _juice_yields()[found.name]
