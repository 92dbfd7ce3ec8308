"""The ledger: events are added after an expected sequence, and read back in order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime

from sqlalchemy import Connection, Engine, func, insert, select, update
from sqlalchemy.exc import DBAPIError

from stillroom.records.chain import FIRST, chained
from stillroom.records.engine import Place, told_in_words
from stillroom.records.following import add
from stillroom.records.lots import Lots
from stillroom.records.rows import Rows
from stillroom.records.stored import OF_ENTRIES, Entry, Recorded, recorded
from stillroom.records.tables import event, head
from stillroom.refusal import NotNow, Refusal, Refused, Unreadable

__all__ = ["Entry", "KeyTaken", "Ledger", "MovedOn", "Recorded", "utc_now"]

LONGEST_KEY = 200


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


class KeyTaken(Refused):
    """The key of a retry belongs to what was written to another stream."""

    def __init__(self, key: str, *, wanted: str, stream: str) -> None:
        super().__init__(
            Refusal(
                f"the key {key!r} of this entry to {wanted} was used for {stream}",
                instead="give each thing that is done a key of its own",
                source="how Stillroom keeps records: a retry never doubles",
            )
        )


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
        self,
        engine: Engine,
        place: Place,
        *,
        now: Callable[[], datetime] = utc_now,
        only_read: str = "",
    ) -> None:
        self._reader = engine
        self._writer = engine.execution_options(writes=True)
        self._place = place
        self._now = now
        self._only_read = only_read
        """Why nothing may be written, and what to do; empty where it may."""
        self.lots = Lots(engine, place, may_write=not only_read)
        """What the entries lead to, asked for by lot."""

    def append(
        self,
        stream: str,
        events: Sequence[Entry],
        *,
        after: int,
        key: str | None = None,
    ) -> int:
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
        key : str, optional
            What names this append and no other, at most 200 characters. Tried again
            with the same key it writes nothing and is answered as the first time,
            whatever ``after`` says: a retry cannot double. An append of no events
            leaves no key behind.

        Returns
        -------
        int
            The sequence of the last event of this append.

        Raises
        ------
        MovedOn
            If the stream does not end at ``after``. Nothing is written.
        KeyTaken
            If ``key`` was used for another stream. Nothing is written.
        Unreadable
            If two lots would have one code. Nothing is written.
        ValueError
            If a time has no time zone, or a key is empty or too long.
        Unreadable
            If the database cannot be written to. Nothing is written.
        """
        for entry in events:
            if entry.occurred_at.tzinfo is None:
                raise ValueError(f"{entry.kind} needs a time zone in occurred_at")
        if self._only_read and events:
            raise NotNow(self._only_read)
        if self._only_read:
            return after  # there is nothing to write, and nobody else writes
        if key is not None and not 0 < len(key) <= LONGEST_KEY:
            raise ValueError(f"a key has 1 to {LONGEST_KEY} characters, not {len(key)}")
        recorded_at = _written(self._now())
        rows: list[dict[str, object]] = [
            {
                "stream": stream,
                "sequence": sequence,
                "kind": entry.kind,
                "version": entry.version,
                "body": entry.body,
                "occurred_at": _written(entry.occurred_at),
                "recorded_at": recorded_at,
                "key": None,
            }
            for sequence, entry in enumerate(events, start=after + 1)
        ]
        if rows:
            rows[-1]["key"] = key
        follows = [(after + n, e.rows) for n, e in enumerate(events, 1) if e.rows]
        with told_in_words(self._place):
            try:
                with self._writer.begin() as connection:
                    return self._append(connection, stream, rows, after, key, follows)
            except DBAPIError as error:
                if any(sign in str(error.orig) for sign in _CODE_TAKEN):
                    raise Unreadable(
                        f"{stream} would give two lots one lot code, so nothing was "
                        "booked. That is a mistake of the program and not of what was "
                        "typed: see with stillroom check whether the record is whole, "
                        "and book it with another day or load until that is mended"
                    ) from error
                # Where a writer takes no lock at once (PostgreSQL), two may begin a
                # stream together or use a key together; what is unique stops one.
                if not any(sign in str(error.orig) for sign in _CLASHES):
                    raise
                if key is not None and (first := self.answered(stream, key)):
                    return first
                now = self.last(stream)
                raise MovedOn(stream, seen=after, now=now) from error

    def _append(
        self,
        connection: Connection,
        stream: str,
        rows: list[dict[str, object]],
        after: int,
        key: str | None,
        follows: list[tuple[int, Rows]],
    ) -> int:
        last, hash_ = _head(connection, stream)
        if key is not None and (first := _answered(connection, stream, key)):
            return first
        if last != after:
            if (there := _last(connection, stream)) == after:
                raise Unreadable(
                    f"{self._place} is damaged: {stream} was known to go up to number "
                    f"{last}, and its last entry is {there}. Nothing was written; see "
                    "what else is missing with stillroom check, and restore your last "
                    "good copy"
                )
            raise MovedOn(stream, seen=after, now=last)
        if not rows:
            return after
        whole = list(chained(rows, hash_))
        connection.execute(insert(event), whole)
        end = {"sequence": whole[-1]["sequence"], "hash": whole[-1]["hash"]}
        if last:
            connection.execute(
                update(head).where(head.c.stream == stream).values(**end)
            )
        else:
            connection.execute(insert(head).values(stream=stream, **end))
        if len(follows) == len(rows):  # all of them, or the rows stay behind
            now = (whole[-1]["sequence"], whole[-1]["hash"])
            add(connection, stream, follows, before=(last, hash_), now=now)
        return after + len(rows)

    def answered(self, stream: str, key: str) -> int | None:
        """
        Return what an append with this key was answered; `None` if there was none.

        Raises
        ------
        KeyTaken
            If the key was used for another stream.
        """
        with told_in_words(self._place), self._reader.connect() as connection:
            return _answered(connection, stream, key)

    def read(self, stream: str, *, after: int = 0) -> tuple[Recorded, ...]:
        """Return the stream in order, behind number ``after``; empty if not begun."""
        with told_in_words(self._place), self._reader.connect() as connection:
            found = connection.execute(
                select(*OF_ENTRIES)
                .where(event.c.stream == stream, event.c.sequence > after)
                .order_by(event.c.sequence)
            )
            return tuple(recorded(row) for row in found)

    def latest(self, stream: str) -> Recorded | None:
        """Return the last entry of the stream, or `None` if it is not begun."""
        with told_in_words(self._place), self._reader.connect() as connection:
            row = connection.execute(
                select(*OF_ENTRIES)
                .where(event.c.stream == stream)
                .order_by(event.c.sequence.desc())
                .limit(1)
            ).one_or_none()
            return None if row is None else recorded(row)

    def newest_stream(self, prefix: str) -> str | None:
        """
        Return the stream, of those that begin so, that was begun last.

        What comes late for an older one does not make that one the newest.
        """
        with told_in_words(self._place), self._reader.connect() as connection:
            found = connection.execute(
                select(event.c.stream)
                .where(event.c.stream.startswith(prefix, autoescape=True))
                .where(event.c.sequence == 1)
                .order_by(event.c.id.desc())
                .limit(1)
            ).scalar()
            return None if found is None else str(found)

    def last_written_streams(self, prefix: str, *, most: int) -> tuple[str, ...]:
        """Return the streams that begin so, the last written to first; so many."""
        ends = (event.c.stream == head.c.stream) & (event.c.sequence == head.c.sequence)
        with told_in_words(self._place), self._reader.connect() as connection:
            found = connection.execute(
                select(event.c.stream)
                .join(head, ends)
                .where(head.c.stream.startswith(prefix, autoescape=True))
                .order_by(event.c.id.desc())
                .limit(most)
            ).scalars()
            return tuple(map(str, found))

    def streams(self, prefix: str) -> tuple[str, ...]:
        """Return the streams that begin so, in order of their names."""
        with told_in_words(self._place), self._reader.connect() as connection:
            found = connection.execute(
                select(head.c.stream)
                .where(head.c.stream.startswith(prefix, autoescape=True))
                .order_by(head.c.stream)
            ).scalars()
            return tuple(found)

    def ends(self, prefix: str) -> dict[str, tuple[int, str]]:
        """Return where the streams end that begin so: the last number and its hash."""
        with told_in_words(self._place), self._reader.connect() as connection:
            found = connection.execute(
                select(head).where(head.c.stream.startswith(prefix, autoescape=True))
            )
            return {row.stream: (row.sequence, row.hash) for row in found}

    def last(self, stream: str) -> int:
        """Return the last sequence of the stream; 0 if it is not begun."""
        with told_in_words(self._place), self._reader.connect() as connection:
            return _last(connection, stream)


_CODE_TAKEN = ("lot.code", "lot_pkey")
"""What the databases say where a lot comes to be that is there."""
_CLASHES = (
    "that sequence is taken",
    "that key is taken",
    "event_one_per",
    "head_pkey",
    "one stream a row",
)
"""What the databases say when two writers meet; see tables.py."""


def _head(connection: Connection, stream: str) -> tuple[int, str]:
    """Where the stream ends. Locked until the transaction ends, on every database."""
    row = connection.execute(
        select(head.c.sequence, head.c.hash)
        .where(head.c.stream == stream)
        .with_for_update()
    ).one_or_none()
    return (0, FIRST) if row is None else (row.sequence, row.hash)


def _answered(connection: Connection, stream: str, key: str) -> int | None:
    row = connection.execute(
        select(event.c.stream, event.c.sequence).where(event.c.key == key)
    ).one_or_none()
    if row is None:
        return None
    if row.stream != stream:
        raise KeyTaken(key, wanted=stream, stream=row.stream)
    return int(row.sequence)


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
