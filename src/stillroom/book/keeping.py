"""Keeping food without a canner: in store, in the freezer, and jars on the shelf."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import Row, read_rows, table
from stillroom.book.words import plain
from stillroom.in_a_list import all_of
from stillroom.refusal import Refusal, Source

UNITS = ("°F", "%", "months", "days", "min", "h", "in", "jars", "psi", "words")
_TOPS = ("wide", "narrow")


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that is published of keeping a food, or of jars and canner."""

    of: str
    """The food, or the subject: "pressure canner"."""
    what: str
    """``temperature``, ``storage life``, ``blanch`` ..."""
    low: float | None
    """`None` with a ``high``: at most so much."""
    high: float | None
    """`None` with a ``low``: so much or more."""
    unit: str
    """One of `UNITS`; ``words`` where only the text says it."""
    text: str
    source: Source

    @property
    def figure(self) -> str:
        """The figure in words: "5 to 8 months", "at most 24 months"."""
        if self.unit == "words":
            return self.text
        unit = f"{self.unit}" if self.unit == "%" else f" {self.unit}"
        if self.low is None:
            return f"at most {self.high:g}{unit}"
        if self.high is None:
            return f"{self.low:g}{unit} or more"
        if self.low == self.high:
            return f"{self.low:g}{unit}"
        return f"{self.low:g} to {self.high:g}{unit}"


def _fact(row: Row, of: str) -> Fact:
    unit = row.one_of("unit", UNITS)
    low = row.number_or_none("low", 0, 300)
    high = row.number_or_none("high", low or 0, 300)
    if (low is None and high is None) != (unit == "words"):
        raise row.wrong("unit", f"{unit!r} does not go with low and high")
    if unit == "words":
        row.text("text")
    return Fact(
        row.text(of), row.text("what"), low, high, unit, row.note("text"), row.source
    )


def read_keeping(path: Traversable) -> Mapping[str, Mapping[str, tuple[Fact, ...]]]:
    """Return the facts of a table by ``store`` or ``freezer``, then by plain name."""
    columns = [
        *("place", "food", "aliases", "what", "low", "high", "unit", "text"),
        *("source", "how_known"),
    ]
    found: dict[str, dict[str, tuple[Fact, ...]]] = {"store": {}, "freezer": {}}
    for row in read_rows(path, columns):
        place = found[row.one_of("place", tuple(found))]
        fact = _fact(row, "food")
        for name in dict.fromkeys(map(plain, (fact.of, *row.words("aliases")))):
            place[name] = (*place.get(name, ()), fact)
    return found


@cache
def _keeping() -> Mapping[str, Mapping[str, tuple[Fact, ...]]]:
    return read_keeping(table("keeping"))


def storage_of(food: str) -> tuple[Fact, ...] | Refusal:
    """
    Return how a food is stored, cured and how long it lasts.

    Examples
    --------
    >>> [fact.figure for fact in storage_of("onions")]
    ['32 to 40 °F', '65 to 70%', '5 to 8 months']
    """
    return _of_place("store", food)


def freezing_of(food: str) -> tuple[Fact, ...] | Refusal:
    """
    Return how a food is made ready for the freezer, and how long it lasts there.

    Examples
    --------
    >>> freezing_of("chopped onions")[0].figure
    '0 min'
    """
    return _of_place("freezer", food)


def _of_place(place: str, food: str) -> tuple[Fact, ...] | Refusal:
    known = _keeping()[place]
    if plain(food) in known:
        return known[plain(food)]
    near = get_close_matches(plain(food), list(known), n=2, cutoff=0.0)
    return Refusal(
        f"nothing on keeping {food!r} in the {place} is in the book; nearest: "
        f"{all_of(near)}",
        instead="ask an extension service, and write down what your own keeps",
        source="the book's table of storage and freezing",
    )


@dataclass(frozen=True, slots=True)
class FreezingHeadspace:
    """Room to leave in a container for the freezer. [in]"""

    pack: str
    """``liquid pack``, ``dry pack`` or ``juice``."""
    top: str
    """``wide`` or ``narrow``."""
    jar: str
    """``pint`` or ``quart``."""
    headspace_in: float
    source: Source


def read_freezing_headspaces(path: Traversable) -> tuple[FreezingHeadspace, ...]:
    """Return the headspaces of a table."""
    columns = ["pack", "top", "jar", "headspace", "unit", "source", "how_known"]
    found = []
    for row in read_rows(path, columns):
        row.one_of("unit", ("in",))
        found.append(
            FreezingHeadspace(
                row.text("pack"),
                row.one_of("top", _TOPS),
                row.one_of("jar", ("pint", "quart")),
                row.number("headspace", 0.25, 2.0),
                row.source,
            )
        )
    return tuple(found)


@cache
def freezing_headspaces() -> tuple[FreezingHeadspace, ...]:
    """Return every printed headspace for the freezer."""
    return read_freezing_headspaces(table("freezing_headspace"))


def freezing_headspace(pack: str, jar: str, *, top: str) -> FreezingHeadspace | Refusal:
    """
    Return the headspace of a container that is frozen.

    Examples
    --------
    >>> freezing_headspace("juice", "quart", top="narrow").headspace_in
    1.5
    """
    for row in freezing_headspaces():
        if (row.pack, row.jar, row.top) == (plain(pack), plain(jar), plain(top)):
            return row
    return Refusal(
        f"no freezing headspace is printed for {pack} in a {top} {jar}",
        instead="liquid pack, dry pack or juice, in a wide or narrow pint or quart",
        source=freezing_headspaces()[0].source.text,
    )


def read_canner_facts(path: Traversable) -> tuple[Fact, ...]:
    """Return the facts of a table on jars, canners, seals and cooling."""
    columns = [
        *("subject", "what", "low", "high", "unit", "text", "source", "how_known"),
    ]
    return tuple(_fact(row, "subject") for row in read_rows(path, columns))


@cache
def canner_facts() -> tuple[Fact, ...]:
    """Return what is published of jars, canners, cooling and seals."""
    return read_canner_facts(table("canner_facts"))


def canner_facts_of(subject: str) -> tuple[Fact, ...] | Refusal:
    """
    Return the facts of one subject: "pressure canner", "seal test", "unsealed jar".

    Examples
    --------
    >>> canner_facts_of("unsealed jar")[0].figure
    '24 h'
    """
    found = tuple(fact for fact in canner_facts() if plain(fact.of) == plain(subject))
    subjects = ", ".join(dict.fromkeys(fact.of for fact in canner_facts()))
    return found or Refusal(
        f"nothing on {subject!r} is in the table of jars and canners",
        instead=f"ask for one of {subjects}",
        source="the book's table of jars and canners",
    )
