"""The shell round `decide`: read the stock, decide, write."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Protocol

from stillroom.records.ledger import Entry, MovedOn, Recorded
from stillroom.refusal import granted
from stillroom.stock.codec import from_entry, to_entry
from stillroom.stock.commands import Command
from stillroom.stock.decide import decide
from stillroom.stock.events import AnyEvent
from stillroom.stock.fold import Stock, fold

STREAM = "stock"
TRIES = 3


class Ledger(Protocol):
    """What the stock needs of the records."""

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
    """Return the stock as its entries have it."""
    return fold(from_entry(entry) for entry in ledger.read(STREAM))


class KeptStock:
    """
    The stock of one record, read on from where it was read last.

    May be used from several threads: one of them at a time has the stock.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._stock = Stock()
        self._one = threading.RLock()

    @contextmanager
    def reading(self) -> Iterator[Stock]:
        """Give the stock as it is now, to be looked at inside the ``with``."""
        with self._one:
            if self._ledger.last(STREAM) < self._stock.sequence:
                self._stock = Stock()  # another record was put in its place
            for entry in self._ledger.read(STREAM, after=self._stock.sequence):
                self._stock.apply(from_entry(entry))
            yield self._stock

    def handle(self, command: Command) -> tuple[Stock, tuple[AnyEvent, ...]]:
        """
        Decide on ``command`` and write what follows in one transaction.

        Where someone else wrote in the moment between, the stock is read and decided
        on again, at most three times.

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
                    self._ledger.append(STREAM, entries, after=stock.sequence)
                except MovedOn:
                    if not again:
                        raise
                else:
                    for event in events:
                        stock.apply(event)
                    return stock, events
        raise AssertionError("the last try returns or raises")


def handle(command: Command, *, ledger: Ledger) -> tuple[Stock, tuple[AnyEvent, ...]]:
    """Do what `KeptStock.handle` does, on a stock that is read for it alone."""
    return KeptStock(ledger).handle(command)
