"""The shell round `learned`: read the record, and learn from all of it."""

from __future__ import annotations

import datetime as dt
import threading
from collections.abc import Mapping, Sequence
from typing import Protocol

from stillroom.learning.learn import learned
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.day import Day
from stillroom.planning.day_file.dayfile import read_day
from stillroom.records.ledger import Recorded
from stillroom.refusal import Unreadable
from stillroom.running.codec import from_entry
from stillroom.running.day_mark import mark_of
from stillroom.running.events import AnyEvent, DayBegun
from stillroom.running.fold import fold
from stillroom.running.handle import PREFIX, run_id
from stillroom.stock.codec import from_entry as stock_event
from stillroom.stock.fold import Stock
from stillroom.stock.fold import fold as fold_stock
from stillroom.stock.handle import STREAM, KeptStock, stock_of
from stillroom.stock.handle import Ledger as StockLedger


class Ledger(StockLedger, Protocol):
    """What learning needs of the records."""

    def streams(self, prefix: str) -> tuple[str, ...]:
        """Return the streams that begin so, in order of their names."""
        ...

    def ends(self, prefix: str) -> dict[str, tuple[int, str]]:
        """Return where the streams end that begin so: the last number and its hash."""
        ...


Run = Sequence[AnyEvent]


def learned_from(
    ledger: Ledger,
    *,
    kitchen: str = "",
    stock: Stock | None = None,
    runs: Mapping[str, Run] | None = None,
) -> Learned:
    """Return what a record teaches of a kitchen; what is given is not read again."""
    if runs is None:
        runs = {name: _run(ledger, name) for name in ledger.streams(PREFIX)}
    held = stock_of(ledger) if stock is None else stock
    elsewhere = {name for name, run in runs.items() if _is_elsewhere(run, kitchen)}
    return learned(runs.values(), held, kitchen=kitchen, elsewhere=elsewhere)


def learned_before(
    moment: dt.datetime, ledger: Ledger, *, kitchen: str = ""
) -> Learned:
    """Return what a record taught before a moment of its own clock."""

    def known(stream: str) -> list[Recorded]:
        return [e for e in ledger.read(stream) if e.recorded_at < moment]

    runs = {
        name: [from_entry(entry) for entry in known(name)]
        for name in ledger.streams(PREFIX)
    }
    stock = fold_stock(stock_event(entry) for entry in known(STREAM))
    return learned_from(ledger, kitchen=kitchen, stock=stock, runs=runs)


def learned_for_day(day: Day, text: str, ledger: Ledger) -> Learned:
    """
    Return what a record teaches of the kitchen of a day, as its day file has it.

    A day that was begun by it goes on by what was known when it was begun: by its own
    taps and lots it would be planned anew in its midst, into other batches.
    """
    begun_at = _begun_at(day, text, ledger)
    if begun_at is None:
        return learned_from(ledger, kitchen=day.kitchen.name)
    return learned_before(begun_at, ledger, kitchen=day.kitchen.name)


def _begun_at(day: Day, text: str, ledger: Ledger) -> dt.datetime | None:
    """When a day was begun by this day file, by the record; `None` where not."""
    entries = ledger.read(run_id(day.date))
    plan = fold(from_entry(entry) for entry in entries).plan
    if plan is None or plan.of != mark_of(text):
        return None
    return entries[0].recorded_at


def _run(ledger: Ledger, name: str) -> Run:
    return [from_entry(entry) for entry in ledger.read(name)]


def _is_elsewhere(run: Run, kitchen: str) -> bool:
    """Whether a day is known to have been in another kitchen."""
    begun = [event for event in run if isinstance(event, DayBegun)]
    return bool(kitchen) and any(b.kitchen not in ("", kitchen) for b in begun)


class LearnedKept:
    """
    What a record teaches, learned anew only when something was written to it.

    Of that, only the runs are read that were written to, and what is new of the stock.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._one = threading.Lock()
        self._stock = KeptStock(ledger)
        self._runs: dict[str, tuple[tuple[int, str], Run]] = {}
        self._kept: tuple[dict[str, tuple[int, str]], dict[str, Learned]] = ({}, {})

    def of(self, kitchen: str = "") -> Learned:
        """Return what it teaches of a kitchen, or of all."""
        with self._one:
            runs = self._ledger.ends(PREFIX)
            ends = self._ledger.ends(STREAM) | runs
            if self._kept[0] != ends:
                self._kept = (ends, {})
            known = self._kept[1]
            if kitchen not in known:
                with self._stock.reading() as stock:
                    known[kitchen] = learned_from(
                        self._ledger,
                        kitchen=kitchen,
                        stock=stock,
                        runs=self._runs_up_to(runs),
                    )
            return known[kitchen]

    def _runs_up_to(self, ends: Mapping[str, tuple[int, str]]) -> dict[str, Run]:
        kept = self._runs
        self._runs = {
            name: kept[name]
            if name in kept and kept[name][0] == end
            else (end, _run(self._ledger, name))
            for name, end in sorted(ends.items())
        }
        return {name: run for name, (_, run) in self._runs.items()}

    def for_day(self, text: str) -> Learned:
        """
        Return what it teaches of the kitchen of a day file, as `learned_for_day` does.

        What is wrong with the day is said by its page, and of the record by others.
        """
        try:
            day = read_day(text + "\n")
            begun_at = _begun_at(day, text, self._ledger)
            if begun_at is None:
                return self.of(day.kitchen.name)
            return learned_before(begun_at, self._ledger, kitchen=day.kitchen.name)
        except Unreadable:
            return AS_PUBLISHED
