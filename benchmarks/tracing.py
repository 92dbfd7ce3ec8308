"""
How long a trace takes, by how many entries the record of the stock holds.

All lots here are invented. The entries are made in bulk and go through the real ledger
and its tables of lots, movements and links, 2,000 in one transaction. Then random lots
are traced both ways, each on a stock that has read nothing yet, as a command or a page
does it: one query, the entries of the lots that belong together, and their walk.

    python benchmarks/tracing.py 10000 100000 1000000
    python benchmarks/tracing.py --postgresql 10000 100000 1000000
"""

from __future__ import annotations

import datetime as dt
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from stillroom.records.days import Records, open_records
from stillroom.records.ledger import Ledger
from stillroom.stock.amounts import Measure, Unit
from stillroom.stock.codec import to_entry
from stillroom.stock.events import (
    AnyEvent,
    Batch,
    Kind,
    Lot,
    Made,
    Part,
    Received,
    Taken,
    Way,
)
from stillroom.stock.handle import STREAM, stock_now
from stillroom.stock.lotcode import lot_code
from stillroom.stock.on_hand import on_hand
from stillroom.stock.tracing import trace
from tests.conftest import empty_database
from tests.records.postgres_server import missing, server

TRACES = 400
AT_ONCE = 2_000
FIRST_DAY = dt.datetime(2001, 1, 1, 9, tzinfo=dt.UTC)
A_DAY = 40
"""Entries of an invented, busy day: a million of them are 68 years."""
DRAWN_ON = 40
"""Lots of fruit, and of juice, that are drawn on at a time; the oldest is used up."""
COMMAND_RUNS = 5


class Invented:
    """A history: fruit comes in, juice of it, jelly of that, jars are sold."""

    def __init__(self) -> None:
        self.chance = random.Random(1)
        self.day = FIRST_DAY
        self.number = self.on_day = 0
        self.left: dict[str, int] = {}
        self.fruit: list[str] = []
        self.juice: list[str] = []
        self.jars: list[str] = []

    def events(self) -> Iterator[AnyEvent]:
        """Yield one event after another, without end."""
        while True:
            if self.on_day == A_DAY:
                self.day += dt.timedelta(days=1)
                self.number = self.on_day = 0
            self.on_day += 1
            yield self._next()

    def _next(self) -> AnyEvent:
        if len(self.fruit) > DRAWN_ON:
            return self._rest_of(self.fruit, "cellar")
        if len(self.juice) > DRAWN_ON:
            return self._rest_of(self.juice, "freezer 1")
        deed = self.chance.random()
        if deed < 0.08 or len(self.fruit) < 4:
            lot = self._lot("plums", Kind.RAW, Unit.MG, 50_000_000, self.fruit)
            return Received(
                lot=lot, place="cellar", number=50_000_000, occurred_at=self.day
            )
        if deed < 0.14 or len(self.juice) < 3:
            inputs = self._drawn(self.fruit, "cellar", 3)
            lot = self._lot(
                "plum juice", Kind.HALF_MADE, Unit.UL, 4_000_000, self.juice
            )
            return self._made(lot, "freezer 1", 4_000_000, inputs, None)
        if deed < 0.22 or not self.jars:
            inputs = self._drawn(self.juice, "freezer 1", 2)
            lot = self._lot("plum jelly", Kind.FILLED, Unit.PIECES, 9, self.jars)
            return self._made(lot, "pantry", 9, inputs, 1 + self.number % 3)
        code = self.chance.choice(self.jars)
        self.left[code] -= 1
        if not self.left[code]:
            self.jars.remove(code)
        part = Part(lot=code, place="pantry", number=1)
        return Taken(way=Way.SOLD, parts=(part,), to="Bram", occurred_at=self.day)

    def _lot(
        self, what: str, kind: Kind, unit: Unit, number: int, among: list[str]
    ) -> Lot:
        self.number += 1
        code = lot_code(self.day.date(), self.number)
        among.append(code)
        self.left[code] = number
        return Lot(
            code=code,
            what=what,
            kind=kind,
            measure=Measure(unit=unit),
            day=self.day.date().isoformat(),
            supplier="Orchard Row" if kind is Kind.RAW else "",
        )

    def _made(
        self,
        lot: Lot,
        place: str,
        number: int,
        inputs: tuple[Part, ...],
        load: int | None,
    ) -> Made:
        return Made(
            lot=lot,
            place=place,
            number=number,
            inputs=inputs,
            batch=Batch(load=load),
            occurred_at=self.day,
        )

    def _drawn(self, among: list[str], place: str, some: int) -> tuple[Part, ...]:
        parts = []
        for code in self.chance.sample(among, some):
            number = max(1, self.left[code] // 8)
            self.left[code] -= number
            parts.append(Part(lot=code, place=place, number=number))
        return tuple(parts)

    def _rest_of(self, among: list[str], place: str) -> Taken:
        code = among.pop(0)
        part = Part(lot=code, place=place, number=self.left.pop(code))
        return Taken(way=Way.SPOILED, parts=(part,), occurred_at=self.day)


def filled(ledger: Ledger, size: int) -> list[str]:
    """Book so many entries; return the codes of all lots."""
    events, codes, done = Invented().events(), list[str](), 0
    while done < size:
        some = list(islice(events, min(AT_ONCE, size - done)))
        codes += [e.lot.code for e in some if isinstance(e, Received | Made)]
        done = ledger.append(STREAM, [to_entry(event) for event in some], after=done)
    return codes


@dataclass(slots=True)
class Filled:
    """A record of some size, and what was measured in it."""

    where: str
    size: int
    records: Records
    codes: list[str]
    trace_ms: list[float] = field(default_factory=list)
    lots: list[int] = field(default_factory=list)
    on_hand_ms: list[float] = field(default_factory=list)

    @property
    def p95(self) -> float:
        """Time within which 95 of 100 traces were done. [ms]"""
        return sorted(self.trace_ms)[int(0.95 * len(self.trace_ms))]


def fill(where: str, size: int) -> Filled:
    """Make a record with so many entries."""
    records = open_records(where)
    begun = time.perf_counter()
    codes = filled(records.ledger, size)
    fill_s = time.perf_counter() - begun
    print(f"filled with {size:,} entries in {fill_s:.0f} s", flush=True)
    return Filled(where, size, records, codes)


def measure(all_: list[Filled]) -> None:
    """Trace in all records by turns, so that a busy machine is busy for each alike."""
    chance = random.Random(2)
    for number in range(TRACES):
        for one in all_:
            code = chance.choice(one.codes)
            ledger = one.records.ledger
            spent, lots = _timed(lambda at=ledger, c=code: _traced(at, c))
            one.trace_ms.append(spent)
            one.lots.append(lots)
            if number % 20 == 0:
                spent, _ = _timed(lambda at=ledger: _all_on_hand(at))
                one.on_hand_ms.append(spent)


def tell(one: Filled) -> None:
    """Print what was measured, and how long cold commands take."""
    middle = one.codes[len(one.codes) // 2]
    cold = [
        f"stock {words[0]} {_command(one.where, *words):.2f} s"
        for words in (("trace", middle), ("soon",))
    ]
    print(
        f"{one.size:>9,} entries ({len(one.codes):,} lots): trace p50 "
        f"{statistics.median(one.trace_ms):.2f} ms, p95 {one.p95:.2f} ms "
        f"({statistics.mean(one.lots):.0f} lots each); all on hand p50 "
        f"{statistics.median(one.on_hand_ms):.0f} ms; cold: {', '.join(cold)}; "
        f"load {os.getloadavg()[0]:.1f}",
        flush=True,
    )


def _traced(ledger: Ledger, code: str) -> int:
    found = trace(stock_now(ledger), code)
    return 1 + len(found.back) + len(found.forward) + len(found.same_load)


def _all_on_hand(ledger: Ledger) -> int:
    return len(on_hand(stock_now(ledger)))


def _timed(do: Callable[[], int]) -> tuple[float, int]:
    begun = time.perf_counter()
    found = do()
    return 1000 * (time.perf_counter() - begun), found


def _command(where: str, *words: str) -> float:
    """Return how long a command takes, with the start of the program. [s]"""
    command = "import sys; from stillroom.cli.main import main; sys.exit(main())"
    spent = []
    for _ in range(COMMAND_RUNS):
        begun = time.perf_counter()
        subprocess.run(
            [sys.executable, "-c", command, "stock", *words, "--db", where],
            check=True,
            stdout=subprocess.DEVNULL,
        )
        spent.append(time.perf_counter() - begun)
    return statistics.median(spent)


@contextmanager
def places(postgresql: bool) -> Iterator[Callable[[], str]]:
    """Give a maker of empty databases."""
    if postgresql:
        with server() as address:
            yield lambda: empty_database(address)
        return
    with tempfile.TemporaryDirectory() as folder:
        numbers = iter(range(1000))
        yield lambda: str(Path(folder) / f"invented-{next(numbers)}.db")


if __name__ == "__main__":
    on_a_server = "--postgresql" in sys.argv
    if on_a_server and missing():
        sys.exit(missing())
    sizes = [int(size) for size in sys.argv[1:] if size.isdecimal()]
    with places(on_a_server) as fresh:
        all_ = [fill(fresh(), size) for size in sizes or [10_000, 100_000]]
        measure(all_)
        for one in all_:
            tell(one)
            one.records.close()
    print(f"p95, largest to smallest record: {all_[-1].p95 / all_[0].p95:.2f}")
