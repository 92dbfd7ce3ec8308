"""What follows from an event for lots, movements and links: pure."""

from __future__ import annotations

from stillroom.book.words import plain
from stillroom.records.rows import LotRow, MovementRow, Rows
from stillroom.stock.about import lots_of
from stillroom.stock.events import (
    SAID_OF_PROCESS,
    AnyEvent,
    Held,
    Lot,
    Made,
    Mended,
    Received,
)
from stillroom.stock.movements import movements

FORM = 2
"""To be counted up when an event leads to other rows than before: all is made again."""


def rows_of(event: AnyEvent) -> Rows:
    """
    Return what follows from an event.

    A lot that the event is about without moving any of it has a row of nothing.
    """
    moved = tuple(
        MovementRow(part.lot, part.place if part.number else "", part.number)
        for part in movements(event)
    )
    of_moved = {row.lot for row in moved}
    told = [code for code in lots_of(event) if code not in of_moved]
    return Rows(
        form=FORM,
        lots=(_lot(event),) if isinstance(event, Received | Made) else (),
        movements=(*moved, *(MovementRow(code) for code in told)),
        links=_links(event) if isinstance(event, Made) else (),
        marks=_marks(event) if isinstance(event, Made) else (),
        shared=_shared(event),
        undoes=event.of if isinstance(event, Mended) else None,
        token=event.token,
    )


def shared_in(day: str, load: int | None) -> str:
    """
    Return the name of what the lots of a canner load share; empty without a load.

    >>> shared_in("2026-11-25", 3), shared_in("2026-11-25", None)
    ('2026-11-25 load 3', '')
    """
    return "" if load is None else f"{day} load {load}"


SAID_LATER = "said of a process"
"""What the entries share that say something of a process since it was booked."""


def _shared(event: AnyEvent) -> tuple[str, ...]:
    if not isinstance(event, SAID_OF_PROCESS):
        return ()
    if isinstance(event, Held) and event.load is not None:
        return (shared_in(event.day, event.load), SAID_LATER)
    return (SAID_LATER,)


def _lot(event: Received | Made) -> LotRow:
    lot: Lot = event.lot
    return LotRow(
        code=lot.code,
        name=plain(lot.what),
        what=lot.what,
        kind=lot.kind.value,
        unit=lot.measure.unit.value,
        day=lot.day,
        supplier=lot.supplier,
        series=lot.code[:5],
        shared=shared_in(lot.day, event.batch.load) if isinstance(event, Made) else "",
    )


def mark_of(run: str, batch: str) -> str:
    """
    Return what the lots of a run's batch may be asked for by.

    >>> mark_of("run/2026-11-25", "plums 1")
    'run/2026-11-25 batch plums 1'
    """
    return f"{run} batch {batch}"


def _marks(event: Made) -> tuple[tuple[str, str], ...]:
    batch = event.batch
    if not batch.run:
        return ()
    return ((mark_of(batch.run, batch.run_batch), event.lot.code),)


def _links(event: Made) -> tuple[tuple[str, str], ...]:
    made = event.lot.code
    return tuple((code, made) for code in lots_of(event) if code != made)
