"""One file copied to another at one moment, read through before it gets its name."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from sqlalchemy import Connection, Engine

from stillroom.records.checking import (
    Health,
    check_records,
    ends_of,
    fingerprint_of,
)
from stillroom.records.engine import (
    Place,
    make_file,
    open_to_read,
    place_of,
    told_in_words,
)
from stillroom.records.migrations import CHAINED, applied, refuse_strangers
from stillroom.refusal import Unreadable, ended

SIDE_FILES = ("-journal", "-wal", "-shm")
"""What SQLite keeps beside a file; it must never stand beside another one."""


@contextlib.contextmanager
def new_file(target: Path) -> Iterator[Path]:
    """
    Give a file to write to, beside ``target``; what is left of it at the end goes.

    Raises
    ------
    Unreadable
        If it cannot be made, or the writing in the ``with`` fails.
    """
    part = target.with_name(f"{target.name}.{os.getpid()}.part")
    try:
        remove(part)
        make_file(part)
        yield part
    except OSError as error:
        raise Unreadable(
            f"{target} cannot be written ({error.strerror}): allow writing there, free "
            "some space, or name another place"
        ) from None
    finally:
        with contextlib.suppress(OSError):
            remove(part)


def remove(file: Path) -> None:
    """Delete a file of ours and what SQLite keeps beside it."""
    for end in ("", *SIDE_FILES):
        file.with_name(file.name + end).unlink(missing_ok=True)


def copy_whole(file: Path, part: Path, *, target: Path) -> Health:
    """
    Copy the record in ``file`` to ``part`` as it is at one moment, and read it through.

    Returns
    -------
    Health
        Of the copy, named as ``target``.

    Raises
    ------
    Unreadable
        If ``file`` cannot be read, or the copy is not whole or not the same.
    """
    place = place_of(file)
    source = open_to_read(place)
    try:
        with told_in_words(place):
            refuse_strangers(source, place)
            fingerprint, number = _copy(source, place, part, target)
    finally:
        source.dispose()
    health = check_records(part)
    if not health.entries_whole:
        raise Unreadable(
            f"the copy of {file} is not whole, so it was not kept. "
            f"{' '.join(map(ended, health.sentences()[:3]))} See what is wrong with "
            f"it: stillroom check --db {file}"
        )
    if health.number != number or (
        health.chained and health.fingerprint != fingerprint
    ):
        raise Unreadable(
            f"the copy of {file} does not end where the record ended, so it was not "
            "kept; do it again, and to another disk if it happens twice"
        )
    return replace(health, where=str(target))


def _copy(source: Engine, place: Place, part: Path, target: Path) -> tuple[str, int]:
    """Copy at one moment; return fingerprint and number of the tables then."""
    copy = sqlite3.connect(part, isolation_level=None)
    try:
        with source.connect() as connection:
            # What is read here and what is copied are one transaction of one
            # connection, so both are of the same moment while others write.
            ended = _ended(connection, place)
            raw = connection.connection.driver_connection
            assert isinstance(raw, sqlite3.Connection)
            with told_in_words(Place(place.url, target)):
                raw.backup(copy)
                # One file, that can be read from a stick nobody may write to.
                copy.execute("PRAGMA journal_mode=DELETE").close()
    finally:
        copy.close()
    return ended


def _ended(connection: Connection, place: Place) -> tuple[str, int]:
    number = applied(connection)
    if not number:
        raise Unreadable(f"{place} is empty: there is no record in it to copy")
    ends = ends_of(connection) if number >= CHAINED else {}
    return fingerprint_of(ends), number


def give_name(part: Path, target: Path) -> None:
    """Put what is written on disk, then give it its name; never over another file."""
    _sync(part)
    try:
        os.link(part, target)
    except FileExistsError:
        raise
    except OSError:  # a memory stick's file system has no links
        if target.exists():
            raise FileExistsError(
                errno.EEXIST, "a file is there already", str(target)
            ) from None
        part.rename(target)
    _sync(target.parent)


def take_name(part: Path, target: Path) -> None:
    """Put what is written on disk, then give it a name in use, at once."""
    _sync(part)
    part.replace(target)
    _sync(target.parent)


def second_name(file: Path, other: Path) -> None:
    """Have a file under another name too; what has that name stays as it is."""
    try:
        os.link(file, other)
    except FileExistsError:
        raise
    except OSError:  # a memory stick's file system has no links
        with new_file(other) as part:
            shutil.copy2(file, part)
            give_name(part, other)
    _sync(other.parent)


def _sync(path: Path) -> None:
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
