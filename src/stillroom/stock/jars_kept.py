"""Jars as things: how many stand empty, are in use, came empty, went away. Pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.book.jars import jar_named
from stillroom.jar_count import counted
from stillroom.refusal import Refusal
from stillroom.stock.amounts import JAR_SIZES
from stillroom.stock.events import Kind, Way
from stillroom.stock.fold import Stock
from stillroom.stock.movements import tells_of

CAME_EMPTY = (Way.EATEN, Way.DRAWN, Way.TASTED, Way.SPOILED)
WENT_AWAY = (Way.SOLD, Way.GIVEN)
YEAR = dt.timedelta(days=365)


@dataclass(frozen=True, slots=True, kw_only=True)
class JarSize:
    """One size of jar."""

    size: str
    empty: int
    """On the shelf as empty jars, by the record."""
    in_use: int
    """With something in them."""
    came_empty: int
    """Eaten or discarded since the empty ones were last counted or taken in."""
    away: int
    """Sold or given within a year; whether they come back is not known."""

    @property
    def words(self) -> str:
        """In a sentence without its full stop."""
        said = f"{counted(self.empty, self.size)} empty, {self.in_use} in use"
        if self.came_empty:
            said += (
                f"; {self.came_empty} more came empty since those were last counted: "
                "count again"
            )
        if self.away:
            said += f"; {self.away} sold or given within a year"
        return said


def jars_kept(stock: Stock, at: dt.datetime) -> tuple[JarSize, ...]:
    """Return the jars by size, the smallest first; sizes that nobody has left out."""
    found: dict[str, list[str]] = {}
    for code, lot in stock.lots.items():
        if stock.is_undone(code) or lot.kind not in (Kind.JARS, Kind.FILLED):
            continue
        said = lot.measure.part if lot.kind is Kind.FILLED else lot.what
        size = size_of(said)
        if size:
            found.setdefault(size, []).append(code)
    order = [size for size in JAR_SIZES if size in found]
    rows = (_size(stock, size, found[size], at) for size in order)
    return tuple(row for row in rows if row.empty or row.in_use or row.away)


def size_of(text: str) -> str:
    """
    Return the size of jar that a name speaks of; empty if none.

    >>> size_of("wide-mouth pint jars"), size_of("half-pint"), size_of("lids")
    ('pint', 'half-pint', '')
    """
    words = text.lower().replace("half pint", "half-pint").split()
    for size in JAR_SIZES:
        if size in words or f"{size}s" in words:
            return size
    named = jar_named(text.removesuffix("s"))
    return (
        ""
        if isinstance(named, Refusal) or named.name not in JAR_SIZES
        else (named.name)
    )


def _size(stock: Stock, size: str, codes: list[str], at: dt.datetime) -> JarSize:
    empties = [c for c in codes if stock.lots[c].kind is Kind.JARS]
    filled = [c for c in codes if stock.lots[c].kind is Kind.FILLED]
    looked = [stock.event(stock.begun(code)).occurred_at for code in empties] + [
        tells_of(count) for code in empties for count in stock.counts(code)
    ]
    since = max(looked, default=None)
    outs = [out for code in filled for out in stock.outs(code)]
    return JarSize(
        size=size,
        empty=sum(stock.balance(code) for code in empties),
        in_use=sum(stock.balance(code) for code in filled),
        came_empty=sum(
            out.part.number
            for out in outs
            if out.event.way in CAME_EMPTY
            and (since is None or out.event.occurred_at > since)
        ),
        away=sum(
            out.part.number
            for out in outs
            if out.event.way in WENT_AWAY and at - out.event.occurred_at <= YEAR
        ),
    )
