"""
Yields, seals, sets and counts that the stock tells.

A yield is counted where the book reckons one for the same product, jar and multiple.
Lots of one pot that boiled at the same time are one batch in several canner loads.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache

from stillroom.book.words import plain
from stillroom.methods.by_name import METHODS
from stillroom.methods.method import Yield
from stillroom.methods.recipes import recipe_named
from stillroom.refusal import Refusal
from stillroom.stock.events import Checked, Counted, Kind, Made
from stillroom.stock.fold import Stock
from stillroom.stock.lacks import process_given_min

LEAST_FOUND = 0.05
"""A count of nothing has no logarithm: it is one in twenty of what was expected."""


@dataclass(frozen=True, slots=True)
class Filled:
    """Jars of one batch, beside the book's figure."""

    product: str
    jars: int
    book_jars: float

    @property
    def log(self) -> float:
        """Logarithm of its jars over the book's."""
        return math.log(self.jars / self.book_jars)


@dataclass(frozen=True, slots=True)
class Seen:
    """What was looked at of one lot: how many of how many."""

    product: str
    count: int
    of: int


@dataclass(frozen=True, slots=True)
class ShelfCount:
    """One count of a shelf, beside the record."""

    thing: str
    share: float

    @property
    def log(self) -> float:
        """Logarithm of what was found over what the record had."""
        return math.log(max(self.share, LEAST_FOUND))


def batches_filled(stock: Stock, elsewhere: Collection[str] = ()) -> tuple[Filled, ...]:
    """
    Return the jars of each batch whose yield the book reckons.

    What was made in the runs ``elsewhere`` is left out: they were in another kitchen.
    """
    jars: dict[tuple[str, ...], int] = {}
    first: dict[tuple[str, ...], Made] = {}
    for code, made in _made(stock, elsewhere):
        pot = _pot_of(made, code)
        # what broke in the canner was filled
        jars[pot] = jars.get(pot, 0) + made.number + made.batch.broken
        first.setdefault(pot, made)
    found = []
    for name, made in first.items():
        expected = book_yield(
            made.batch.recipe or made.lot.what,
            made.lot.measure.part,
            made.batch.multiple,
        )
        if expected is not None and jars[name] > 0:
            found.append(Filled(plain(made.lot.what), jars[name], expected.likely))
    return tuple(found)


def _pot_of(made: Made, code: str) -> tuple[str, ...]:
    """What tells one pot from another: lots that agree in it are one batch."""
    batch, what = made.batch, (made.lot.what, made.lot.measure.part)
    if batch.run and batch.run_batch:
        return (*what, batch.run, batch.run_batch)
    if batch.pot and batch.boil_start:
        return (*what, made.lot.day, batch.pot, batch.boil_start)
    return (*what, code)  # nothing says that it shared its pot


@lru_cache(maxsize=1024)  # a record has the same few products year after year
def book_yield(product: str, jar: str, multiple: int) -> Yield | None:
    """
    Return the book's jars for a batch; `None` where it reckons none.

    A pack by the jar has no yield of its own: its batch is as many jars as are filled.

    >>> round(book_yield("plum jelly", "half-pint", 1).likely, 1)
    7.8
    """
    if not jar:
        return None
    procedure = recipe_named(product, jar=jar)
    if isinstance(procedure, Refusal) or procedure.method not in METHODS:
        return None
    method = METHODS[procedure.method]
    recipe = method.scale(procedure, multiple)
    if method.PER_JAR or isinstance(recipe, Refusal):
        return None
    expected = method.expected_yield(recipe, jar)
    return None if isinstance(expected, Refusal) else expected


def seals_seen(stock: Stock, elsewhere: Collection[str] = ()) -> Iterator[Seen]:
    """Yield the jars of each lot that did not seal, of those that were looked at."""
    for code, made in _made(stock, elsewhere):
        looked = [c for c in stock.checks(code) if c.good is not None]
        if looked and process_given_min(stock, code):
            # the last look at all of them: a later one may be at those set aside alone
            whole = max(_looked_at(check) for check in looked)
            last = next(c for c in reversed(looked) if _looked_at(c) == whole)
            if whole:
                bad = last.failed + last.doubtful
                yield Seen(plain(made.lot.what), bad, whole)


def sets_seen(stock: Stock, elsewhere: Collection[str] = ()) -> Iterator[Seen]:
    """Yield whether each lot stayed soft, where its set was looked at."""
    for code, made in _made(stock, elsewhere):
        looked = [c.seen for c in stock.checks(code) if c.seen is not None]
        if looked:
            soft = looked[-1].value == "soft"
            yield Seen(plain(made.lot.what), int(soft), 1)


def counts(stock: Stock) -> Iterator[ShelfCount]:
    """Yield each count of a shelf that had something in the book."""
    for number, event in enumerate(stock.events, start=1):
        if isinstance(event, Counted) and event.book > 0 and number in stock:
            thing = plain(stock.lots[event.lot].what)
            yield ShelfCount(thing, event.number / event.book)


def _looked_at(check: Checked) -> int:
    return (check.good or 0) + check.failed + check.doubtful


def _made(stock: Stock, elsewhere: Collection[str]) -> Iterator[tuple[str, Made]]:
    for code, lot in stock.lots.items():
        made = stock.made(code)
        if made is None or lot.kind is not Kind.FILLED:
            continue
        if made.batch.run not in elsewhere:
            yield code, made
