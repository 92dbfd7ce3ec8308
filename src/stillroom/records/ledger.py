"""The ledger: events are added after an expected sequence, and read back in order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection, Engine, Row, func, insert, select
from sqlalchemy.exc import DBAPIError

from stillroom.records.engine import Place, told_in_words
from stillroom.records.tables import TAKEN, event
from stillroom.refusal import Refusal, Refused


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """An event as it is written: its kind and version, its body as JSON text."""

    kind: str
    version: int
    body: str
    occurred_at: datetime
    """When it happened, with a time zone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded(Entry):
    """An entry in its place in the stream."""

    sequence: int
    """From 1, without a gap."""
    recorded_at: datetime


class MovedOn(Refused):
    """The stream has more in it than the writer had seen: look again, then decide."""

    def __init__(self, stream: str, *, seen: int, now: int) -> None:
        super().__init__(
            Refusal(
                f"{stream} has moved on: seen up to number {seen}, now at number {now}",
                instead="look at it as it is now, then do it again if it still holds",
                source="how Stillroom keeps records: nobody's entry is overwritten",
            )
        )
        self.seen = seen
        self.now = now


def utc_now() -> datetime:
    """Return the time of recording."""
    return datetime.now(UTC)


class Ledger:
    """
    Append-only streams of events in one database.

    Every append is one transaction, on disk before the call returns. An instance may
    be used from several threads.
    """

    def __init__(
        self, engine: Engine, place: Place, *, now: Callable[[], datetime] = utc_now
    ) -> None:
        self._reader = engine
        self._writer = engine.execution_options(writes=True)
        self._place = place
        self._now = now

    def append(self, stream: str, events: Sequence[Entry], *, after: int) -> int:
        """
        Add ``events`` behind number ``after`` of the stream, all of them or none.

        Parameters
        ----------
        stream : str
            Name of the stream: "day", "run/2026-11-25".
        events : sequence of Entry
            In the order in which they happened. None at all is no change.
        after : int
            The last sequence that the writer has seen; 0 for a stream not yet begun.

        Returns
        -------
        int
            The stream's last sequence now.

        Raises
        ------
        MovedOn
            If the stream does not end at ``after``. Nothing is written.
        ValueError
            If a time has no time zone.
        Unreadable
            If the database cannot be written to. Nothing is written.
        """
        for entry in events:
            if entry.occurred_at.tzinfo is None:
                raise ValueError(f"{entry.kind} needs a time zone in occurred_at")
        recorded_at = _written(self._now())
        rows = [
            {
                "stream": stream,
                "sequence": sequence,
                "kind": entry.kind,
                "version": entry.version,
                "body": entry.body,
                "occurred_at": _written(entry.occurred_at),
                "recorded_at": recorded_at,
            }
            for sequence, entry in enumerate(events, start=after + 1)
        ]
        with told_in_words(self._place):
            try:
                with self._writer.begin() as connection:
                    last = _last(connection, stream)
                    if last != after:
                        raise MovedOn(stream, seen=after, now=last)
                    if rows:
                        connection.execute(insert(event), rows)
            except DBAPIError as error:
                # Where a writer takes no lock at once (PostgreSQL), two may pass the
                # look above; the unique pair then stops the second.
                if TAKEN in str(error.orig) or "event_one_per" in str(error.orig):
                    now = self.last(stream)
                    raise MovedOn(stream, seen=after, now=now) from error
                raise
        return after + len(rows)

    def read(self, stream: str, *, after: int = 0) -> tuple[Recorded, ...]:
        """Return the stream in order, behind number ``after``; empty if not begun."""
        with told_in_words(self._place), self._reader.connect() as connection:
            found = connection.execute(
                select(event)
                .where(event.c.stream == stream, event.c.sequence > after)
                .order_by(event.c.sequence)
            )
            return tuple(_recorded(row) for row in found)

    def latest(self, stream: str) -> Recorded | None:
        """Return the last entry of the stream, or `None` if it is not begun."""
        with told_in_words(self._place), self._reader.connect() as connection:
            row = connection.execute(
                select(event)
                .where(event.c.stream == stream)
                .order_by(event.c.sequence.desc())
                .limit(1)
            ).one_or_none()
            return None if row is None else _recorded(row)

    def newest_stream(self, prefix: str) -> str | None:
        """Return the stream, of those that begin so, that was last written to."""
        with told_in_words(self._place), self._reader.connect() as connection:
            found = connection.execute(
                select(event.c.stream)
                .where(event.c.stream.startswith(prefix, autoescape=True))
                .order_by(event.c.id.desc())
                .limit(1)
            ).scalar()
            return None if found is None else str(found)

    def last(self, stream: str) -> int:
        """Return the last sequence of the stream; 0 if it is not begun."""
        with told_in_words(self._place), self._reader.connect() as connection:
            return _last(connection, stream)


def _last(connection: Connection, stream: str) -> int:
    return (
        connection.execute(
            select(func.max(event.c.sequence)).where(event.c.stream == stream)
        ).scalar()
        or 0
    )


def _written(moment: datetime) -> str:
    """UTC with microseconds, so that text sorts as time does."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def _recorded(row: Row[tuple[object, ...]]) -> Recorded:
    return Recorded(
        kind=row.kind,
        version=row.version,
        body=row.body,
        occurred_at=datetime.fromisoformat(row.occurred_at),
        sequence=row.sequence,
        recorded_at=datetime.fromisoformat(row.recorded_at),
    )
