"""What an event moves, and the moment whose shelf it tells of. Pure."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from stillroom.stock.events import (
    SET_ASIDE,
    AnyEvent,
    Checked,
    ColdSaid,
    Completed,
    Counted,
    GaugeSaid,
    Held,
    Labelled,
    Made,
    Mended,
    Moved,
    Noted,
    Part,
    Pictured,
    Processed,
    PutUpSaid,
    Recalled,
    Received,
    Taken,
)


def movements(event: AnyEvent) -> Iterator[Part]:
    """Yield what an event adds to each lot and place; below zero: takes away."""
    match event:
        case Received(lot=lot, place=place, number=number):
            yield Part(lot=lot.code, place=place, number=number)
        case Made(lot=lot, place=place, number=number, inputs=inputs):
            yield from (_less(part) for part in inputs)
            yield Part(lot=lot.code, place=place, number=number)
        case Taken(parts=parts):
            yield from (_less(part) for part in parts)
        case Moved(parts=parts, to=to):
            for part in parts:
                yield _less(part)
                yield Part(lot=part.lot, place=to, number=part.number)
        case Counted(lot=code, place=place, number=number, book=book):
            yield Part(lot=code, place=place, number=number - book)
        case Checked(lot=code, place=place, aside=aside):
            if aside:
                yield Part(lot=code, place=place, number=-aside)
                yield Part(lot=code, place=SET_ASIDE, number=aside)
        case Held() | Processed() | Completed() | ColdSaid() | Recalled():
            return
        case GaugeSaid() | PutUpSaid() | Labelled() | Pictured() | Noted():
            return
        case Mended(changes=changes):
            yield from changes


def tells_of(event: AnyEvent) -> dt.datetime:
    """
    Return the moment whose shelf an event tells of.

    That is when it happened; a count that was answered or came in later tells of the
    shelf as it was counted.
    """
    if isinstance(event, Counted) and event.counted_at is not None:
        return event.counted_at
    return event.occurred_at


def _less(part: Part) -> Part:
    return Part(lot=part.lot, place=part.place, number=-part.number)
