"""Everything that was written, as text: JSON Lines, CSV, and the schema beside."""

from __future__ import annotations

import contextlib
import csv
import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, RowMapping, func, select
from sqlalchemy.exc import DBAPIError

from stillroom.records.chain import Follow
from stillroom.records.checking import AT_ONCE, ends_of, fingerprint_of
from stillroom.records.engine import Place, open_to_read, place_of, told_in_words
from stillroom.records.migrations import CHAINED, applied, refuse_strangers
from stillroom.records.portable import (
    ABOUT,
    COLUMNS,
    FORMAT,
    LINES,
    SCHEMA,
    TABLE,
    dumped,
    line_of,
    schema,
)
from stillroom.records.tables import event
from stillroom.refusal import Unreadable

_ASKED = (event.c.id, *(event.c[name] for name in COLUMNS))


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """What was written, and what is not as it was recorded."""

    folder: Path
    events: int
    streams: int
    fingerprint: str
    broken: tuple[str, ...] = ()
    """Only where a damaged record was asked for."""


def export(
    where: str | os.PathLike[str], out: Path, *, damaged: bool = False
) -> Exported:
    """
    Write every event to a new folder, as it is at one moment.

    Two exports of the same record are the same, byte for byte.

    Parameters
    ----------
    where : str or path
        The record: a file, or ``postgresql://...``.
    out : Path
        A folder that is not there yet, or is empty.
    damaged : bool, optional
        Write what can be read of a record that is not whole; else it is refused.

    Raises
    ------
    Unreadable
        If the record cannot be read or is not whole, or the folder cannot be written.
        No folder is then left behind.
    """
    place = place_of(where)
    engine = open_to_read(place)
    try:
        with told_in_words(place):
            refuse_strangers(engine, place)
            with engine.connect() as connection:
                number = number_of_chained(connection, place, to="export")
                with _new_folder(out) as part:
                    done = write_all(connection, number, part)
                    if done.broken and not damaged:
                        raise Unreadable(
                            f"{place} is not whole, so it was not exported. "
                            f"{'. '.join(done.broken[:3])}. Restore your last good "
                            "copy (stillroom restore), or give --damaged to export "
                            "what can be read"
                        )
                    _give_name(part, out)
    finally:
        engine.dispose()
    return Exported(
        folder=out,
        events=done.events,
        streams=done.streams,
        fingerprint=done.fingerprint,
        broken=done.broken,
    )


def number_of_chained(connection: Connection, place: Place, *, to: str) -> int:
    """Return the number of its tables, which must be those of a chained record."""
    number = applied(connection)
    if number < CHAINED:
        raise Unreadable(
            f"{place} was last used by an earlier Stillroom: open it once with this "
            f"one, by stillroom serve, then {to} it"
            if number
            else f"{place} is empty: there is no record in it to {to}"
        )
    return number


def write_all(connection: Connection, number: int, part: Path) -> Exported:
    """
    Write every event to a folder that is there, and say what is broken.

    Parameters
    ----------
    connection : Connection
        What it reads is of one moment.
    number : int
        Of the tables, as it is to be said beside the events.
    part : Path
        An empty folder.
    """
    unread: list[str] = []
    ends = _ends(connection, unread)
    walks: dict[str, Follow] = {}
    events = 0
    with (
        _text(part / LINES) as lines,
        _text(part / TABLE) as table,
    ):
        rows = csv.writer(table, lineterminator="\n")
        rows.writerow(COLUMNS)
        for row in _rows(connection, unread):
            lines.write(line_of(row))
            rows.writerow([row[name] for name in COLUMNS])
            walks.setdefault(row["stream"], Follow(row["stream"])).step(row)
            events += 1
    if ends is not None:
        for stream, walk in walks.items():
            walk.end(*ends.get(stream, (0, "")))
    broken = [str(found) for walk in walks.values() for found in walk.broken]
    broken += [
        f"the whole stream {name} is missing"
        for name in sorted((ends or {}).keys() - walks)
    ]
    found = {name: (walk.sequence, walk.hash) for name, walk in walks.items()}
    about = {
        "format": FORMAT,
        "tables_at": number,
        "events": events,
        "fingerprint": fingerprint_of(found),
        "streams": {
            name: {"events": found[name][0], "hash": found[name][1]}
            for name in sorted(found)
        },
    }
    for name, body in ((ABOUT, about), (SCHEMA, schema())):
        with _text(part / name) as file:
            file.write(dumped(body, indent=2) + "\n")
    return Exported(
        folder=part,
        events=events,
        streams=len(walks),
        fingerprint=fingerprint_of(found),
        broken=(*unread, *broken),
    )


def _ends(
    connection: Connection, unread: list[str]
) -> dict[str, tuple[int, str]] | None:
    """Return where each stream ends; `None` where that page of a file is damaged."""
    try:
        return ends_of(connection)
    except DBAPIError as error:
        if connection.dialect.name != "sqlite":
            raise
        unread.append(f"where the streams end cannot be read ({error.orig})")
        return None


def _rows(connection: Connection, unread: list[str]) -> Iterator[dict[str, Any]]:
    """Yield the events in the order of writing, also behind what cannot be read."""
    found = connection.execution_options(yield_per=AT_ONCE).execute(
        select(*_ASKED).order_by(event.c.id)
    )
    last = 0
    try:
        with contextlib.closing(found):
            for row in found.mappings():
                last = row["id"]
                yield _as_written(row)
    except DBAPIError as error:
        if error.connection_invalidated:
            raise  # the server went away, and nothing is wrong with the entry
        if connection.dialect.name != "sqlite":  # which answers nothing after a fault
            unread.append(f"from some entry on it cannot be read ({error.orig})")
            return
        yield from _one_by_one(connection, last, unread, error)


def _one_by_one(
    connection: Connection, after: int, unread: list[str], fault: DBAPIError
) -> Iterator[dict[str, Any]]:
    """
    Yield what can be read behind a row, each row asked for alone.

    A damaged page takes the rows that are on it; those on the pages behind it are found
    by their number.
    """
    lost = 0
    for number in range(after + 1, _last_number(connection) + 1):
        asked = select(*_ASKED).where(event.c.id == number)
        try:
            row = connection.execute(asked).mappings().one_or_none()
        except DBAPIError:
            lost += 1
        else:
            if row is not None:
                yield _as_written(row)
    many = "1 entry" if lost == 1 else f"{lost:,} entries"
    unread.append(f"{many} cannot be read ({fault.orig})")


def _last_number(connection: Connection) -> int:
    """Return the row number of the last event; by where streams end if it is hidden."""
    try:
        last = connection.execute(select(func.max(event.c.id))).scalar()
    except DBAPIError:
        last = sum(sequence for sequence, _ in (_ends(connection, []) or {}).values())
    return int(last or 0)


def _as_written(row: RowMapping) -> dict[str, Any]:
    return {name: row[name] for name in COLUMNS}


@contextlib.contextmanager
def _text(path: Path) -> Iterator[Any]:
    with path.open("x", encoding="utf-8", newline="") as file:
        yield file
        file.flush()
        os.fsync(file.fileno())


@contextlib.contextmanager
def _new_folder(out: Path) -> Iterator[Path]:
    """Give a folder to write in, beside ``out``; nothing is left where it fails."""
    if out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise Unreadable(
            f"{out} is there already and was left as it is: name a folder that is not"
        )
    part = out.with_name(f"{out.name}.{os.getpid()}.part")
    try:
        part.mkdir(mode=0o700)
        yield part
    except OSError as error:
        raise Unreadable(
            f"{out} cannot be written ({error.strerror}): make the folder that it is "
            "to be in, allow writing there, free some space, or name another"
        ) from None
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _give_name(part: Path, out: Path) -> None:
    if out.is_dir():
        out.rmdir()
    part.rename(out)
