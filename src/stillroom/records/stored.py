"""An event as it is written, and as it stands in its stream."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from stillroom.records.rows import Rows
from stillroom.records.tables import event


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """An event as it is written: its kind and version, its body as JSON text."""

    kind: str
    version: int
    body: str
    occurred_at: datetime
    """When it happened, with a time zone."""
    rows: Rows | None = field(default=None, compare=False, repr=False)
    """What follows from it for lots and movements, where anything does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded(Entry):
    """An entry in its place in the stream."""

    sequence: int
    """From 1, without a gap."""
    recorded_at: datetime
    hash: str = ""
    """SHA-256 over itself and the hash of the one before it."""


OF_ENTRIES = (
    event.c.sequence,
    event.c.kind,
    event.c.version,
    event.c.body,
    event.c.occurred_at,
    event.c.recorded_at,
    event.c.hash,
)
"""What is asked of the table of events, where entries are wanted."""


def recorded(row: Sequence[Any]) -> Recorded:
    """Return the entry of a row of `OF_ENTRIES`."""
    # Taken apart at once: asked by name, each of a whole record takes twice as long.
    sequence, kind, version, body, occurred_at, recorded_at, hash_ = row
    return Recorded(
        kind=kind,
        version=version,
        body=body,
        occurred_at=datetime.fromisoformat(occurred_at),
        sequence=sequence,
        recorded_at=datetime.fromisoformat(recorded_at),
        hash=hash_,
    )
