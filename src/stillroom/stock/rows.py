"""What follows from an event for lots, movements and links: pure."""

from __future__ import annotations

from stillroom.book.words import plain
from stillroom.records.rows import LotRow, MovementRow, Rows
from stillroom.stock.events import (
    AnyEvent,
    Checked,
    Counted,
    Lot,
    Made,
    Mended,
    Moved,
    Recalled,
    Received,
    Taken,
    movements,
)

FORM = 1
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
    told = [code for code in _about(event) if code not in {row.lot for row in moved}]
    return Rows(
        form=FORM,
        lots=(_lot(event),) if isinstance(event, Received | Made) else (),
        movements=(*moved, *(MovementRow(code) for code in told)),
        links=_links(event) if isinstance(event, Made) else (),
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


def _links(event: Made) -> tuple[tuple[str, str], ...]:
    sources = dict.fromkeys(part.lot for part in event.inputs)
    return tuple((source, event.lot.code) for source in sources)


def _about(event: AnyEvent) -> tuple[str, ...]:
    """Return the lots that an event is about."""
    match event:
        case Received(lot=lot):
            return (lot.code,)
        case Made(lot=lot, inputs=inputs):
            return (lot.code, *dict.fromkeys(part.lot for part in inputs))
        case Taken(parts=parts) | Moved(parts=parts):
            return tuple(dict.fromkeys(part.lot for part in parts))
        case Counted(lot=code) | Checked(lot=code):
            return (code,)
        case Recalled(lots=codes):
            return tuple(dict.fromkeys(codes))
        case Mended(changes=changes):
            return tuple(dict.fromkeys(part.lot for part in changes))
