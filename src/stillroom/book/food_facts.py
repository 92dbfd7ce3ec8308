"""What is published of a food: weights, loads, juice, pH, pectin and acid class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import HOW_KNOWN, Row, read_rows, table
from stillroom.book.words import plain
from stillroom.in_a_list import all_of
from stillroom.measures.words import CUP_M3, POUND_KG
from stillroom.refusal import Refusal, Source

ACID_CLASSES = ("acid", "needs acid", "always acidified", "low acid", "acidifier")
_KG_PER_M3_OF_LB_PER_QUART = float(POUND_KG / (4 * CUP_M3))
_COLUMNS = [
    *("food", "aliases", "sold_by", "lb_per_unit", "yield_per_unit", "lb_per_quart"),
    *("lb_per_7_quarts", "lb_per_9_pints", "quantity_source", "quantity_known"),
    *("juice", "juice_source", "juice_known", "ph_low", "ph_high", "ph_source"),
    *("ph_known", "pectin_group", "group_source", "group_known", "acid_class"),
    *("note", "source", "how_known"),
]


@dataclass(frozen=True, slots=True)
class Weights:
    """How a food is sold, and how much of it fills jars."""

    unit: str
    """``bushel``, ``lug``, ``24-qt crate`` or ``bag``; empty where none is printed."""
    kg_per_unit: float | None
    yield_per_unit: str
    """As printed: "16 to 24 quarts"."""
    kg_per_m3_canned: float | None
    """Fresh food to a volume of jars. [kg/m³]"""
    kg_per_7_quarts: float | None
    kg_per_9_pints: float | None
    source: Source


@dataclass(frozen=True, slots=True)
class FoodFacts:
    """What is published of one food; each group of figures has its own source."""

    name: str
    aliases: tuple[str, ...]
    acid_class: str
    """One of `ACID_CLASSES`."""
    weights: Weights | None
    juice: str
    """Juice yield as printed; empty where none was seen."""
    juice_source: Source | None
    ph: tuple[float, float] | None
    """Lowest and highest printed pH."""
    ph_source: Source | None
    pectin_group: str
    """I: enough pectin and acid; II: may need some; III: always needs some."""
    pectin_source: Source | None
    note: str
    source: Source


def read_food_facts(path: Traversable) -> Mapping[str, FoodFacts]:
    """
    Return the facts of a table by every name of the food, made plain.

    Raises
    ------
    Unreadable
        At the first figure that is out of range, or that has no source of its own.
    """
    found: dict[str, FoodFacts] = {}
    for row in read_rows(path, _COLUMNS):
        low = row.number_or_none("ph_low", 1.5, 8.0)
        high = row.number_or_none("ph_high", low or 1.5, 8.0)
        facts = FoodFacts(
            name=row.text("food"),
            aliases=row.words("aliases"),
            acid_class=row.one_of("acid_class", ACID_CLASSES),
            weights=_weights(row),
            juice=row.note("juice"),
            juice_source=_own_source(row, "juice", "juice"),
            ph=None if low is None else (low, low if high is None else high),
            ph_source=_own_source(row, "ph_low", "ph"),
            pectin_group=row.note("pectin_group"),
            pectin_source=_own_source(row, "pectin_group", "group"),
            note=row.note("note"),
            source=row.source,
        )
        for name in (facts.name, *facts.aliases):
            if found.get(plain(name), facts) is not facts:
                raise row.wrong("aliases", f"{name!r} is already another food")
            found[plain(name)] = facts
    return found


@cache
def _by_name() -> Mapping[str, FoodFacts]:
    return read_food_facts(table("food_facts"))


def foods() -> tuple[FoodFacts, ...]:
    """Return the facts of every food of the book."""
    return tuple({facts.name: facts for facts in _by_name().values()}.values())


def facts_of(food: str) -> FoodFacts | Refusal:
    """
    Return what is published of a food.

    Examples
    --------
    >>> plums = facts_of("plums")
    >>> plums.weights.unit, round(plums.weights.kg_per_unit, 1)
    ('bushel', 25.4)
    >>> facts_of("tomatoes").acid_class
    'always acidified'
    """
    wanted = plain(food).removesuffix(" juice") or plain(food)
    for name in (plain(food), wanted):
        if name in _by_name():
            return _by_name()[name]
    near = get_close_matches(wanted, list(_by_name()), n=2, cutoff=0.0)
    return Refusal(
        f"the book has no facts of {food!r}; nearest: {all_of(near)}",
        instead="use one of its names, or weigh and measure a pound of it yourself",
        source="the book's table of foods",
    )


def _own_source(row: Row, column: str, of: str) -> Source | None:
    """Return the source of one group of figures; it must be there with the figures."""
    if not row.note(column):
        return None
    known = row.one_of(f"{of}_known", HOW_KNOWN)
    return Source(row.text(f"{of}_source"), known)


def _weights(row: Row) -> Weights | None:
    columns = ("lb_per_unit", "lb_per_quart", "lb_per_7_quarts", "lb_per_9_pints")
    unit, quart, quarts, pints = (row.number_or_none(c, 0.5, 100) for c in columns)
    printed = next((c for c in columns if row.note(c)), None)
    source = None if printed is None else _own_source(row, printed, "quantity")
    if source is None:
        return None
    if (unit is None) != (not row.note("sold_by")):
        raise row.wrong("lb_per_unit", "and sold_by go together")
    if quart and quarts and not 6 * quart <= quarts <= 8 * quart:
        raise row.wrong("lb_per_7_quarts", "is not about seven times lb_per_quart")
    return Weights(
        unit=row.note("sold_by"),
        kg_per_unit=_kg(unit),
        yield_per_unit=row.note("yield_per_unit"),
        kg_per_m3_canned=None if quart is None else quart * _KG_PER_M3_OF_LB_PER_QUART,
        kg_per_7_quarts=_kg(quarts),
        kg_per_9_pints=_kg(pints),
        source=source,
    )


def _kg(pounds: float | None) -> float | None:
    return None if pounds is None else pounds * float(POUND_KG)
