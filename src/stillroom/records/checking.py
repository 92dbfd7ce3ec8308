"""Is the record whole? Integrity, missing numbers, chains; nothing is changed."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, select
from sqlalchemy.exc import DBAPIError

from stillroom.jar_count import counted as so_many
from stillroom.records.chain import HASHED, Broken, Follow
from stillroom.records.compare import (
    follow_otherwise,
    left_otherwise,
    rests_otherwise,
)
from stillroom.records.engine import (
    RESTORE,
    RESTORE_ON_A_SERVER,
    Place,
    open_to_read,
    place_of,
    told_in_words,
)
from stillroom.records.following import Following
from stillroom.records.migrations import (
    CHAINED,
    MIGRATIONS,
    WITH_LOTS,
    applied,
    refuse_strangers,
)
from stillroom.records.tables import event, head
from stillroom.refusal import Unreadable

AT_ONCE = 1000
"""Rows that are held in memory together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Health:
    """What a check found."""

    where: str
    number: int
    """Number of the last change of its tables."""
    integrity: tuple[str, ...]
    """What the database says about its own pages and keys; none where it is whole."""
    broken: tuple[Broken, ...]
    """Where streams are not as they were written."""
    astray: tuple[str, ...] = ()
    """Where lots, movements and balances do not follow from the entries."""
    streams: int
    events: int
    fingerprint: str
    """SHA-256 over where each stream ends: the same for two that hold the same."""
    cut_short: bool = False
    """Not every entry could be read."""

    @property
    def entries_whole(self) -> bool:
        """The entries are as they were written: all else can be made from them."""
        return not self.integrity and not self.broken

    @property
    def whole(self) -> bool:
        """Nothing at all was found."""
        return self.entries_whole and not self.astray

    @property
    def chained(self) -> bool:
        """Its events carry hashes; a file of the first Stillroom does not yet."""
        return self.number >= CHAINED

    def sentences(self) -> tuple[str, ...]:
        """Say it in words, what is whole and what is not."""
        says = [
            "Its pages and keys are whole."
            if not self.integrity
            else "Its pages or keys are damaged: " + "; ".join(self.integrity[:5]) + "."
        ]
        counted = (
            f"{self.events:,} {'entry' if self.events == 1 else 'entries'} in "
            f"{self.streams:,} {'stream' if self.streams == 1 else 'streams'}"
        )
        if self.cut_short:
            says.append(
                f"{counted} could be read; of what is behind, nothing is known."
            )
        elif not self.broken:
            says.append(
                f"{counted}: none is missing, none was changed."
                if self.chained
                else f"{counted}: none is missing. They are not chained yet: that is "
                "done when this Stillroom first opens the record."
            )
        else:
            at = {found.stream for found in self.broken}
            says.append(
                f"{counted}: {len(at)} of the streams "
                f"{'is' if len(at) == 1 else 'are'} not as written."
            )
            says += [str(found) for found in self.broken[:SHOWN]]
            if len(self.broken) > SHOWN:
                says.append(f"and {so_many(len(self.broken) - SHOWN, 'more place')}")
        if self.astray:
            says.append("Lots and movements do not follow from the entries:")
            says += self.astray[:SHOWN]
            if len(self.astray) > SHOWN:
                says.append(f"and {so_many(len(self.astray) - SHOWN, 'more place')}")
        elif self.number >= WITH_LOTS and not self.integrity:
            says.append("What is on hand is the sum of its movements.")
        if not self.entries_whole:
            advice = RESTORE_ON_A_SERVER if "://" in self.where else RESTORE
            says.append(f"What to do: {advice}.")
        elif self.astray:
            says.append(
                "What to do: the entries are whole, and all of that is made from them "
                "again by stillroom check --rebuild."
            )
        return tuple(says)


SHOWN = 20


@dataclass(slots=True)
class _Found:
    integrity: list[str] = field(default_factory=list)
    broken: list[Broken] = field(default_factory=list)
    astray: list[str] = field(default_factory=list)
    ends: dict[str, tuple[int, str]] = field(default_factory=dict)
    events: int = 0
    cut_short: bool = False


def check_records(
    where: str | os.PathLike[str], *, following: Following | None = None
) -> Health:
    """
    Read all of the record and say whether it is whole. Nothing is changed.

    Parameters
    ----------
    where : str or path
        A file or a server.
    following : Following, optional
        Tells what follows from the entries of a stream; then lots, movements and links
        are compared with that, entry by entry. Without it, what is on hand is compared
        with the sum of the movements.

    Raises
    ------
    Unreadable
        If there is none, if it belongs to another program or a newer Stillroom, or if
        it is so damaged that its tables cannot be read.
    """
    place = place_of(where)
    engine = open_to_read(place)
    try:
        with told_in_words(place):
            refuse_strangers(engine, place)
            with engine.connect() as connection:
                return health_of(connection, place, following=following)
    finally:
        engine.dispose()


def health_of(
    connection: Connection, place: Place, *, following: Following | None = None
) -> Health:
    """
    Return what a check finds on this connection, all of it at one moment.

    Raises
    ------
    Unreadable
        If there is nothing in it.
    """
    number = applied(connection)
    if not number:
        raise Unreadable(f"{place} is empty: there is no record in it to check")
    found = _Found()
    if connection.dialect.name == "sqlite":
        _integrity(connection, found)
    try:
        _follow(connection, found, chained=number >= CHAINED)
    except DBAPIError as error:
        if error.connection_invalidated:
            raise  # the server went away, and nothing is wrong with the entries
        found.integrity.append(f"not every entry can be read ({error.orig})")
        found.cut_short = True
    if number >= WITH_LOTS and not found.integrity:
        _compare(connection, found, following)
    return Health(
        where=str(place),
        number=number,
        integrity=tuple(found.integrity),
        broken=tuple(found.broken),
        astray=tuple(found.astray),
        streams=len(found.ends),
        events=found.events,
        fingerprint=fingerprint_of(found.ends),
        cut_short=found.cut_short,
    )


def fingerprint_of(ends: dict[str, tuple[int, str]]) -> str:
    """Return one hash for where all streams end. [64 hex digits]"""
    sha = hashlib.sha256()
    for stream in sorted(ends):
        sequence, hash_ = ends[stream]
        sha.update(f"{hash_} {sequence} {stream}\n".encode())
    return sha.hexdigest()


def ends_of(connection: Connection) -> dict[str, tuple[int, str]]:
    """Return where each stream ends, as the writers have it."""
    return {
        row.stream: (row.sequence, row.hash) for row in connection.execute(select(head))
    }


def _integrity(connection: Connection, found: _Found) -> None:
    try:
        for (line,) in connection.exec_driver_sql("PRAGMA integrity_check(20)"):
            if line != "ok":
                found.integrity.append(" ".join(str(line).split()))
        for row in connection.exec_driver_sql("PRAGMA foreign_key_check"):
            found.integrity.append(f"{row[0]}, row {row[1]}, points to nothing")
    except DBAPIError as error:
        found.integrity.append(str(error.orig))


def _compare(
    connection: Connection, found: _Found, following: Following | None
) -> None:
    found.astray += rests_otherwise(connection)
    found.astray += left_otherwise(connection)
    if following is not None and not found.broken:
        found.astray += follow_otherwise(connection, following)


def _follow(connection: Connection, found: _Found, *, chained: bool) -> None:
    ends = ends_of(connection) if chained else {}
    names = [n for n in (*HASHED, "hash") if chained or n in _FIRST_COLUMNS]
    rows = connection.execution_options(yield_per=AT_ONCE).execute(
        select(*(event.c[n] for n in names)).order_by(event.c.stream, event.c.sequence)
    )
    walk: Follow | None = None
    for columns in rows:
        row = dict(zip(names, columns, strict=True))
        if walk is None or walk.stream != row["stream"]:
            _end(walk, ends, found, chained=chained)
            walk = Follow(row["stream"])
        if chained:
            walk.step(row)
        else:
            walk.count(row["sequence"])
        found.events += 1
    _end(walk, ends, found, chained=chained)
    for stream, (sequence, _) in ends.items():
        if stream not in found.ends:
            found.broken.append(Broken(stream, sequence, "the whole stream is missing"))


_FIRST_COLUMNS = ("stream", "sequence")


def _end(
    walk: Follow | None,
    ends: dict[str, tuple[int, str]],
    found: _Found,
    *,
    chained: bool,
) -> None:
    if walk is None:
        return
    if chained:
        walk.end(*ends.get(walk.stream, (0, "")))
    found.broken += walk.broken
    found.ends[walk.stream] = (walk.sequence, walk.hash)


def as_json(health: Health) -> dict[str, Any]:
    """Return the contract of ``check --json``."""
    return {
        "where": health.where,
        "whole": health.whole,
        "tables_at": health.number,
        "newest_known": MIGRATIONS[-1].number,
        "chained": health.chained,
        "streams": health.streams,
        "events": health.events,
        "fingerprint": health.fingerprint,
        "integrity": list(health.integrity),
        "broken": [
            {"stream": b.stream, "sequence": b.sequence, "what": b.what}
            for b in health.broken
        ],
        "astray": list(health.astray),
    }
