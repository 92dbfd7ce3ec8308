"""Pickles: how long the vegetables stand in salt or ice, and what a printed boil is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import read_rows, table
from stillroom.refusal import Refusal, Source

TAKEN = ("soak", "acid", "liquid", "sugar", "spice")
"""What vegetables may stand in beside salt, by its role in the recipe."""
TIMED = ("none", "brine", "vegetables", "both", "together")


@dataclass(frozen=True, slots=True)
class Stand:
    """One time of standing before the brine is boiled. [h]"""

    what: str
    low_h: float
    high_h: float
    cold: bool
    source: Source
    salt: Fraction | None = None
    """How much of the recipe's salt goes in here, in its own unit; `None` for none."""
    takes: tuple[str, ...] = ()
    """Roles of the recipe's other parts that go in here, all of each."""

    @property
    def hours(self) -> str:
        """Printed hours in words: "3 to 4 h"."""
        if self.low_h == self.high_h:
            return f"{self.low_h:g} h"
        return f"{self.low_h:g} to {self.high_h:g} h"


@dataclass(frozen=True, slots=True)
class Boil:
    """What the printed minutes of a pickle are the minutes of."""

    packs: tuple[str, ...]
    """``hot`` where the vegetables boil in the brine, ``raw`` where it is poured on."""
    timed: str
    """
    One of `TIMED`: the brine alone, the vegetables in it, both or neither; together
    where everything goes into the pot cold.
    """
    source: Source


def read_stands(path: Traversable) -> dict[str, tuple[Stand, ...]]:
    """Return the times of standing of a table, by recipe and in order."""
    columns = [
        *("procedure", "order", "what", "low_h", "high_h", "cold"),
        *("salt", "takes", "source", "how_known"),
    ]
    found: dict[str, tuple[Stand, ...]] = {}
    for row in read_rows(path, columns):
        row.one_of("how_known", ("looked_up",))
        before = found.get(row.text("procedure"), ())
        if row.whole("order", 1, 9) != len(before) + 1:
            raise row.wrong("order", f"must be {len(before) + 1} here")
        low = row.number("low_h", 0.5, 48)
        if not set(row.words("takes")) <= set(TAKEN):
            raise row.wrong("takes", f"must be of {', '.join(TAKEN)}")
        stand = Stand(
            row.text("what"),
            low,
            row.number("high_h", low, 48),
            row.one_of("cold", ("yes", "no")) == "yes",
            row.source,
            row.fraction("salt", 0, 9) if row.note("salt") else None,
            row.words("takes"),
        )
        found[row.text("procedure")] = (*before, stand)
    return found


def read_boils(path: Traversable) -> dict[str, Boil]:
    """Return what is timed in each recipe of a table."""
    columns = ["procedure", "packs", "timed", "source", "how_known"]
    found: dict[str, Boil] = {}
    for row in read_rows(path, columns):
        row.one_of("how_known", ("looked_up",))
        packs = row.words("packs")
        if not packs or not set(packs) <= {"hot", "raw"}:
            raise row.wrong("packs", "must be hot, raw or both")
        if row.text("procedure") in found:
            raise row.wrong("procedure", "stands there twice")
        boil = Boil(packs, row.one_of("timed", TIMED), row.source)
        found[row.text("procedure")] = boil
    return found


@cache
def _stands() -> dict[str, tuple[Stand, ...]]:
    return read_stands(table("pickle_stands"))


@cache
def _boils() -> dict[str, Boil]:
    return read_boils(table("pickle_boils"))


def stands_of(procedure: str) -> tuple[Stand, ...]:
    """
    Return the times of standing of a recipe, in order; most have none.

    Examples
    --------
    >>> [stand.hours for stand in stands_of("relish-pickle")]
    ['4 h', '1 h', '24 h']
    """
    return _stands().get(procedure, ())


def boil_of(procedure: str) -> Boil | Refusal:
    """
    Return what the printed minutes of a recipe are the minutes of.

    Examples
    --------
    >>> boil_of("pickle-bread-butter").timed
    'brine'
    """
    found = _boils().get(procedure)
    if found is None:
        return Refusal(
            f"what is boiled how long in {procedure!r} is not in the book",
            instead="follow the recipe by hand",
            source="the book's table of pickles",
        )
    return found
