"""What was understood of a thing that came in, in words to be shown. Pure."""

from __future__ import annotations

from stillroom.stock.commands import Incoming
from stillroom.stock.events import Kind, Lot
from stillroom.stock.keeps import keeps
from stillroom.stock.no_process_needed import KEPT_DRY
from stillroom.stock.not_food import is_never_eaten
from stillroom.stock.words import said_day


def understood(thing: Incoming) -> tuple[tuple[str, str], ...]:
    """Return what was understood of a thing: (what, words) pairs, to be shown."""
    said = [
        ("what", thing.what),
        ("how much", thing.measure.words(thing.number)),
        ("where", thing.place),
        ("sort", thing.kind.value),
    ]
    if thing.kept_dry:
        said.append(("kept", KEPT_DRY))
    if thing.day:
        said.append(("day", said_day(thing.day)))
    if thing.supplier:
        said.append(("from", thing.supplier))
    if thing.paid:
        said.append(("paid", thing.paid))
    if thing.note:
        said.append(("note", thing.note))
    if thing.kind in (Kind.JARS, Kind.LIDS):
        return tuple(said)  # glass and lids keep
    return (*said, ("keeps", _keeping_words(thing)))


def _keeping_words(thing: Incoming) -> str:
    """Say until when something that came in keeps, as far as that is published."""
    kept = keeps(lot_of(thing), thing.place)
    if kept.until is None and is_never_eaten(thing.what):
        return kept.words
    if kept.until is None:
        return f"not known: {kept.words}"
    until = said_day(kept.until.isoformat())
    return f"best until {until} ({kept.words}; {kept.source})"


def lot_of(thing: Incoming) -> Lot:
    """Return the lot that a thing would be, without its code."""
    return Lot(
        code="",
        what=thing.what,
        kind=thing.kind,
        measure=thing.measure,
        day=thing.day,
        best_before=thing.best_before,
        kept_dry=thing.kept_dry,
    )
