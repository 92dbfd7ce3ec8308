"""The shell round `decide`: read the stock, decide, write."""

from __future__ import annotations

import random
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Protocol

from stillroom.records.following import Following, Stand
from stillroom.records.ledger import Entry, MovedOn, Recorded
from stillroom.records.lots import Lots
from stillroom.records.rows import Rows
from stillroom.refusal import granted
from stillroom.stock.codec import from_entry, to_entry
from stillroom.stock.commands import Command
from stillroom.stock.decide import decide
from stillroom.stock.events import AnyEvent
from stillroom.stock.fold import Stock, fold
from stillroom.stock.on_demand import StockOnDemand
from stillroom.stock.rows import FORM, rows_of

STREAM = "stock"
TRIES = 8
LONGEST_PAUSE_S = 0.5
"""Before a last try; the first ones come at once. [s]"""


class Ledger(Protocol):
    """What the stock needs of the records."""

    @property
    def lots(self) -> Lots:
        """Return what answers for lots and movements."""
        ...

    def read(self, stream: str, *, after: int = 0) -> tuple[Recorded, ...]:
        """Return the stream in order, behind number ``after``."""
        ...

    def last(self, stream: str) -> int:
        """Return the last sequence of the stream; 0 if it is not begun."""
        ...

    def append(self, stream: str, events: Sequence[Entry], *, after: int) -> int:
        """Add entries behind number ``after``, or raise `MovedOn`."""
        ...


def stock_of(ledger: Ledger) -> Stock:
    """
    Return the stock as its entries have it, all of them read.

    It needs no record any more, and takes its time where the record is long; as long
    as the record is open, `stock_now` answers at once.
    """
    return fold(from_entry(entry) for entry in ledger.read(STREAM))


def stock_now(ledger: Ledger) -> Stock:
    """Return the stock as it is now; each lot is read when it is asked for."""
    return _stock_at(ledger, brought_up(ledger))


def brought_up(ledger: Ledger) -> Stand | None:
    """Have lots and movements follow all entries; see `Lots.brought_up`."""
    return ledger.lots.brought_up(FOLLOWING)


def derive(entry: Recorded) -> Rows:
    """Return what follows from an entry for lots and movements."""
    return rows_of(from_entry(entry))


FOLLOWING = Following(STREAM, derive, FORM)


def _stock_at(ledger: Ledger, stand: Stand | None) -> Stock:
    if stand is None:  # a damaged record, which may not be brought up
        return stock_of(ledger)
    return StockOnDemand(ledger.lots, STREAM, stand.sequence)


class KeptStock:
    """
    The stock of one record, kept as long as nobody writes.

    Where all of it was read it is kept longer, and carried on by what was written
    since; a few lots are read anew as quickly. May be used from several threads: one of
    them at a time has the stock.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._kept: tuple[Ledger, Stand | None, Stock] | None = None
        self._one = threading.RLock()

    @contextmanager
    def reading(self) -> Iterator[Stock]:
        """Give the stock as it is now, to be looked at inside the ``with``."""
        with self._one:
            stand = brought_up(self._ledger)
            if self._kept is None or self._kept[:2] != (self._ledger, stand):
                stock = self._carried_on(stand) or _stock_at(self._ledger, stand)
                self._kept = (self._ledger, stand, stock)
            yield self._kept[2]

    def _carried_on(self, to: Stand | None) -> Stock | None:
        """
        Return the kept stock as it is at ``to``.

        `None` where not all of it was read, and where its last entry is not in this
        record as it was: then it is the stock of another.
        """
        if self._kept is None or to is None or self._kept[0] is not self._ledger:
            return None
        _, stand, stock = self._kept
        if stand is None or not isinstance(stock, StockOnDemand) or not stock.is_whole:
            return None
        last, *since = self._ledger.read(STREAM, after=stand.sequence - 1) or (None,)
        if last is None or last.hash != stand.hash:
            return None
        stock.carry_on(entry for entry in since if entry.sequence <= to.sequence)
        return stock

    def handle(self, command: Command) -> tuple[Stock, tuple[AnyEvent, ...]]:
        """
        Decide on ``command`` and write what follows in one transaction.

        Where someone else wrote in the moment between, the stock is read and decided
        on again, at most eight times, each time after a longer pause of chance: so a
        slow machine among quick ones comes to its turn.

        Returns
        -------
        stock : Stock
            As it is now.
        events : tuple of events
            What was booked; none where this very request was booked before.

        Raises
        ------
        Refused
            If a rule says no. Nothing is written.
        Unreadable
            If a quantity or a lot cannot be read. Nothing is written.
        """
        for again in reversed(range(TRIES)):
            with self.reading() as stock:
                events = granted(decide(stock, command))
                entries = [to_entry(event) for event in events]
                try:
                    now = self._ledger.append(STREAM, entries, after=stock.sequence)
                except MovedOn:
                    if not again:
                        raise
                else:
                    if isinstance(stock, StockOnDemand) and stock.is_whole:
                        return StockOnDemand(self._ledger.lots, STREAM, now), events
                    self._kept = None  # the stock is the asker's from here on
                    for event in events:
                        stock.apply(event)
                    return stock, events
            time.sleep(random.uniform(0, LONGEST_PAUSE_S / 2**again))
        raise AssertionError("the last try returns or raises")


def handle(command: Command, *, ledger: Ledger) -> tuple[Stock, tuple[AnyEvent, ...]]:
    """Do what `KeptStock.handle` does, on a stock that is read for it alone."""
    return KeptStock(ledger).handle(command)
