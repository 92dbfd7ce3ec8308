"""Which lots an event is about: those it moved, and those it only tells of."""

from __future__ import annotations

from stillroom.stock.events import (
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


def lots_of(event: AnyEvent) -> tuple[str, ...]:
    """Return the codes of the lots that an event is about, each once."""
    match event:
        case Received(lot=lot):
            return (lot.code,)
        case Made(lot=lot, inputs=inputs):
            return (lot.code, *_lots(inputs))
        case Taken(parts=parts) | Moved(parts=parts) | Mended(changes=parts):
            return _lots(parts)
        case (
            Counted(lot=code)
            | Checked(lot=code)
            | ColdSaid(lot=code)
            | Completed(lot=code)
            | GaugeSaid(lot=code)
            | PutUpSaid(lot=code)
            | Labelled(lot=code)
            | Pictured(lot=code)
            | Noted(lot=code)
        ):
            return (code,)
        case Held(lots=codes) | Processed(lots=codes) | Recalled(lots=codes):
            return tuple(dict.fromkeys(codes))


def _lots(parts: tuple[Part, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(part.lot for part in parts))
