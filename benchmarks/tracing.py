"""
How long a trace takes, by how many movements the record holds.

All lots here are invented. A record is filled through the real ledger into a real
file; then the stock is read once, and random lots are traced both ways.

    python benchmarks/tracing.py 10000 100000
"""

from __future__ import annotations

import datetime as dt
import random
import sys
import tempfile
import time
from pathlib import Path

from stillroom.records.days import open_records
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
from stillroom.stock.handle import stock_of
from stillroom.stock.lotcode import lot_code
from stillroom.stock.tracing import trace

TRACES = 2_000
AT_ONCE = 2_000
FIRST_DAY = dt.datetime(2010, 1, 1, 9, tzinfo=dt.UTC)
A_DAY = 40
"""Movements of an invented, busy day."""


def invented(movements: int, seed: int = 1) -> list[AnyEvent]:
    """Return a history: fruit and sugar in, jars out of them, jars sold."""
    chance = random.Random(seed)
    events: list[AnyEvent] = []
    raw: list[str] = []
    jars: list[str] = []
    number = 0
    while len(events) < movements:
        at = FIRST_DAY + dt.timedelta(days=len(events) // A_DAY)
        if len(events) % A_DAY == 0:
            number, raw, jars = 0, raw[-30:], jars[-60:]
        draw = chance.random()
        if draw < 0.25 or len(raw) < 5:
            number += 1
            lot = _lot(at, number, "plums", Kind.RAW, Unit.MG)
            raw.append(lot.code)
            events.append(
                Received(lot=lot, place="cellar", number=10**9, occurred_at=at)
            )
        elif draw < 0.5:
            number += 1
            lot = _lot(at, number, "plum jelly", Kind.FILLED, Unit.PIECES)
            inputs = tuple(
                Part(lot=code, place="cellar", number=1000)
                for code in chance.sample(raw, 3)
            )
            jars.append(lot.code)
            events.append(
                Made(
                    lot=lot,
                    place="pantry",
                    number=1000,
                    inputs=inputs,
                    batch=Batch(load=1 + number % 3),
                    occurred_at=at,
                )
            )
        elif jars:
            part = Part(lot=chance.choice(jars), place="pantry", number=1)
            events.append(Taken(way=Way.SOLD, parts=(part,), occurred_at=at))
    return events


def _lot(at: dt.datetime, number: int, what: str, kind: Kind, unit: Unit) -> Lot:
    code = lot_code(at.date(), number)
    measure = Measure(unit=unit)
    return Lot(
        code=code, what=what, kind=kind, measure=measure, day=at.date().isoformat()
    )


def measured(movements: int) -> float:
    """Fill a record, read it, trace; print the times, and return the p95. [ms]"""
    with (
        tempfile.TemporaryDirectory() as folder,
        open_records(Path(folder) / "invented.db") as records,
    ):
        entries = [to_entry(event) for event in invented(movements)]
        for first in range(0, len(entries), AT_ONCE):
            records.ledger.append(
                "stock", entries[first : first + AT_ONCE], after=first
            )
        begun = time.perf_counter()
        stock = stock_of(records.ledger)
        read_s = time.perf_counter() - begun
    chance, spent = random.Random(2), []
    for code in chance.choices(list(stock.lots), k=TRACES):
        begun = time.perf_counter()
        trace(stock, code)
        spent.append(1000 * (time.perf_counter() - begun))
    spent.sort()
    p95 = spent[int(0.95 * TRACES)]
    print(
        f"{movements:>9,} movements: read once {read_s:.2f} s; trace median "
        f"{spent[TRACES // 2]:.3f} ms, p95 {p95:.3f} ms"
    )
    return p95


if __name__ == "__main__":
    sizes = [int(size) for size in sys.argv[1:]] or [10_000, 100_000]
    times = [measured(size) for size in sizes]
    print(f"p95, largest to smallest record: {times[-1] / times[0]:.2f}")
