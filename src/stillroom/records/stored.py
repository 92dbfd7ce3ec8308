"""An event as it is written, and as it stands in its stream."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from sqlalchemy import Row

from stillroom.records.rows import Rows


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


def recorded(row: Row[Any]) -> Recorded:
    """Return the entry of a row of the table of events."""
    return Recorded(
        kind=row.kind,
        version=row.version,
        body=row.body,
        occurred_at=datetime.fromisoformat(row.occurred_at),
        sequence=row.sequence,
        recorded_at=datetime.fromisoformat(row.recorded_at),
        hash=row.hash,
    )
