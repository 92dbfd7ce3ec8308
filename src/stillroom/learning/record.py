"""The shell round `learned`: read the record, and learn from all of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from stillroom.learning.learn import learned
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.dayfile import read_day
from stillroom.refusal import Unreadable
from stillroom.running.codec import from_entry
from stillroom.running.handle import PREFIX
from stillroom.stock.fold import Stock
from stillroom.stock.handle import Ledger as StockLedger
from stillroom.stock.handle import stock_of


class Ledger(StockLedger, Protocol):
    """What learning needs of the records."""

    def streams(self, prefix: str) -> tuple[str, ...]:
        """Return the streams that begin so, in order of their names."""
        ...


def learned_from(
    ledger: Ledger, *, kitchen: str = "", stock: Stock | None = None
) -> Learned:
    """Return what a record teaches of a kitchen; ``stock`` saves reading it again."""
    runs = (
        [from_entry(entry) for entry in ledger.read(name)]
        for name in ledger.streams(PREFIX)
    )
    held = stock_of(ledger) if stock is None else stock
    return learned(runs, held, kitchen=kitchen)


def learner_of(ledger: Ledger) -> Callable[[str], Learned]:
    """Return what tells, for the text of a day file, what its kitchen taught so far."""

    def learn(text: str) -> Learned:
        try:
            day = read_day(text + "\n")
            return learned_from(ledger, kitchen=day.kitchen.name)
        except Unreadable:  # of the day, its page says why; of the record, others do
            return AS_PUBLISHED

    return learn
