"""The shell round `learned`: read the record, and learn from all of it."""

from __future__ import annotations

import threading
from collections.abc import Iterable
from typing import Protocol

from stillroom.learning.learn import learned
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.day_file.dayfile import read_day
from stillroom.refusal import Unreadable
from stillroom.running.codec import from_entry
from stillroom.running.events import AnyEvent, DayBegun
from stillroom.running.handle import PREFIX
from stillroom.stock.fold import Stock
from stillroom.stock.handle import STREAM, stock_of
from stillroom.stock.handle import Ledger as StockLedger


class Ledger(StockLedger, Protocol):
    """What learning needs of the records."""

    def streams(self, prefix: str) -> tuple[str, ...]:
        """Return the streams that begin so, in order of their names."""
        ...


def learned_from(
    ledger: Ledger, *, kitchen: str = "", stock: Stock | None = None
) -> Learned:
    """Return what a record teaches of a kitchen; ``stock`` saves reading it again."""
    runs = {
        name: [from_entry(entry) for entry in ledger.read(name)]
        for name in ledger.streams(PREFIX)
    }
    held = stock_of(ledger) if stock is None else stock
    elsewhere = {name for name, run in runs.items() if _is_elsewhere(run, kitchen)}
    return learned(runs.values(), held, kitchen=kitchen, elsewhere=elsewhere)


def _is_elsewhere(run: Iterable[AnyEvent], kitchen: str) -> bool:
    """Whether a day is known to have been in another kitchen."""
    begun = [event for event in run if isinstance(event, DayBegun)]
    return bool(kitchen) and any(b.kitchen not in ("", kitchen) for b in begun)


class LearnedKept:
    """What a record teaches, learned anew only when something was written to it."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._one = threading.Lock()
        self._kept: tuple[tuple[int, ...], dict[str, Learned]] = ((), {})

    def of(self, kitchen: str = "") -> Learned:
        """Return what it teaches of a kitchen, or of all."""
        with self._one:
            runs = self._ledger.streams(PREFIX)
            upto = tuple(self._ledger.last(name) for name in (STREAM, *runs))
            if self._kept[0] != upto:
                self._kept = (upto, {})
            known = self._kept[1]
            if kitchen not in known:
                known[kitchen] = learned_from(self._ledger, kitchen=kitchen)
            return known[kitchen]

    def for_day(self, text: str) -> Learned:
        """Return what it teaches of the kitchen of a day file, as its text."""
        try:
            return self.of(read_day(text + "\n").kitchen.name)
        except Unreadable:  # of the day, its page says why; of the record, others do
            return AS_PUBLISHED
