"""The shell round `decide`: read the stock, decide, write."""

from __future__ import annotations

from collections.abc import Sequence
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

    def read(self, stream: str) -> tuple[Recorded, ...]:
        """Return the stream in order."""
        ...

    def append(self, stream: str, events: Sequence[Entry], *, after: int) -> int:
        """Add entries behind number ``after``, or raise `MovedOn`."""
        ...


def stock_of(ledger: Ledger) -> Stock:
    """Return the stock as its entries have it."""
    return fold(from_entry(entry) for entry in ledger.read(STREAM))


def handle(command: Command, *, ledger: Ledger) -> tuple[Stock, tuple[AnyEvent, ...]]:
    """
    Decide on ``command`` and write what follows in one transaction.

    Where someone else wrote in the moment between, the stock is read and decided on
    again, at most three times.

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
        stock = stock_of(ledger)
        events = granted(decide(stock, command))
        try:
            ledger.append(STREAM, [to_entry(e) for e in events], after=stock.sequence)
        except MovedOn:
            if not again:
                raise
        else:
            for event in events:
                stock.apply(event)
            return stock, events
    raise AssertionError("the last try returns or raises")
