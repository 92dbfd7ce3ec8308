"""An export read back into an empty record: all of it as it was, or nothing."""

from __future__ import annotations

import contextlib
import os
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec
from sqlalchemy import Connection, func, insert, select
from sqlalchemy.exc import DBAPIError

from stillroom.records.chain import Follow
from stillroom.records.checking import AT_ONCE, Health, fingerprint_of, health_of
from stillroom.records.copying import remove
from stillroom.records.days import ours_or_empty
from stillroom.records.engine import Place, place_of, told_in_words
from stillroom.records.migrations import MIGRATIONS, apply
from stillroom.records.portable import ABOUT, FORMAT, LINES, About, Line
from stillroom.records.tables import event, head
from stillroom.refusal import Fault, Unreadable


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What was read in."""

    where: str
    events: int
    streams: int
    fingerprint: str
    health: Health
    """As it was read back before it counted."""


def import_from(folder: Path | zipfile.Path, where: str | os.PathLike[str]) -> Imported:
    """
    Read an export into an empty record, every event with the hashes that it had.

    Tables and entries are one transaction, in which all is read back and checked: until
    that is done the database is as it was.

    Parameters
    ----------
    folder : Path
        As `export` wrote it, or as it is packed in a copy. ``events.jsonl`` and
        ``about.json`` are read; the table for spreadsheets is not.
    where : str or path
        A file that is not there yet or holds nothing, or an empty database on a server.

    Raises
    ------
    Unreadable
        If the export cannot be read, does not chain, or ends before it says; if there
        are entries already. Nothing is then written.
    """
    about = about_of(folder)
    place = place_of(where)
    made_here = place.file is not None and not place.file.exists()
    try:
        with told_in_words(place):
            return _import(folder, about, place)
    except BaseException:
        if made_here and place.file is not None:
            with contextlib.suppress(OSError):
                remove(place.file)
        raise


def _import(folder: Path | zipfile.Path, about: About, place: Place) -> Imported:
    engine = ours_or_empty(place)
    try:
        with engine.execution_options(writes=True).begin() as connection:
            for step in MIGRATIONS:
                apply(connection, step)
            _refuse_what_is_there(connection, place)
            walks = _read_in(connection, folder / LINES)
            ends = {name: (walk.sequence, walk.hash) for name, walk in walks.items()}
            _refuse_other_ends(ends, about, folder)
            if ends:
                connection.execute(
                    insert(head),
                    [
                        {"stream": name, "sequence": sequence, "hash": hash_}
                        for name, (sequence, hash_) in ends.items()
                    ],
                )
            health = health_of(connection, place)
            if not health.entries_whole or health.fingerprint != fingerprint_of(ends):
                raise Unreadable(
                    f"{place} does not hold what was written to it, so nothing was "
                    f"kept. {' '.join(health.sentences()[:3])}"
                )
    except DBAPIError as error:
        if any(sign in str(error.orig) for sign in ("that key", "event_one_per_key")):
            raise Unreadable(
                f"{folder / LINES} gives one key to two entries: it is not as it was "
                f"exported ({error.orig})"
            ) from None
        raise
    finally:
        engine.dispose()
    return Imported(
        where=str(place),
        events=sum(sequence for sequence, _ in ends.values()),
        streams=len(ends),
        fingerprint=fingerprint_of(ends),
        health=health,
    )


def about_of(folder: Path | zipfile.Path) -> About:
    """Return what is said beside the lines of an export."""
    file = folder / ABOUT
    try:
        about = msgspec.json.decode(file.read_bytes(), type=About)
    except OSError as error:
        raise Unreadable(
            f"{file} cannot be read ({error.strerror}): give the folder that stillroom "
            "export wrote"
        ) from None
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise Unreadable(f"{file} is not as it was exported: {error}") from None
    if about.format != FORMAT:
        raise Unreadable(
            f"{file} is of format {about.format}, this Stillroom reads {FORMAT}: "
            "install the one that exported it"
        )
    return about


def _refuse_what_is_there(connection: Connection, place: Place) -> None:
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql("LOCK TABLE event IN EXCLUSIVE MODE")
    there = connection.execute(select(func.count()).select_from(event)).scalar()
    if there:
        raise Unreadable(
            f"{place} holds {there:,} entries already and was left as it is: "
            + (
                "import into a file that is not there yet"
                if place.file is not None
                else "make a new, empty database on the server (createdb NAME) and "
                "give that one with --db"
            )
        )


def _read_in(connection: Connection, file: Path | zipfile.Path) -> dict[str, Follow]:
    walks: dict[str, Follow] = {}
    rows: list[dict[str, Any]] = []
    for number, line in _lines(file):
        row = msgspec.structs.asdict(line)
        walk = walks.setdefault(line.stream, Follow(line.stream))
        if line.sequence != walk.sequence + 1:
            raise Unreadable(
                Fault(
                    f"{line.stream} goes from number {walk.sequence} to "
                    f"{line.sequence}: entries are missing or doubled, so nothing was "
                    "imported",
                    key=str(file),
                    line=number,
                )
            )
        walk.step(row)
        if walk.broken:
            raise Unreadable(
                Fault(
                    f"{walk.broken[0]}. It does not chain, so nothing was imported",
                    key=str(file),
                    line=number,
                )
            )
        rows.append(row)
        if len(rows) == AT_ONCE:
            connection.execute(insert(event), rows)
            rows = []
    if rows:
        connection.execute(insert(event), rows)
    return walks


def _lines(file: Path | zipfile.Path) -> Iterator[tuple[int, Line]]:
    decoder = msgspec.json.Decoder(Line)
    try:
        with file.open("rb") as opened:
            for number, line in enumerate(opened, start=1):
                try:
                    yield number, decoder.decode(line)
                except (msgspec.DecodeError, UnicodeDecodeError) as error:
                    raise Unreadable(
                        Fault(
                            f"no event that was exported: {error}; nothing was "
                            "imported",
                            key=str(file),
                            line=number,
                        )
                    ) from None
    except OSError as error:
        raise Unreadable(
            f"{file} cannot be read ({error.strerror}): give the folder that stillroom "
            "export wrote"
        ) from None


def _refuse_other_ends(
    ends: dict[str, tuple[int, str]], about: About, folder: Path | zipfile.Path
) -> None:
    said = {name: (end.events, end.hash) for name, end in about.streams.items()}
    for name in sorted(said.keys() | ends.keys()):
        if said.get(name) != ends.get(name):
            found = ends[name][0] if name in ends else 0
            told = said[name][0] if name in said else 0
            raise Unreadable(
                f"{folder / LINES} has {found} entries of {name}, {folder / ABOUT} "
                f"says {told}: the export is not whole, so nothing was imported"
                if found != told
                else f"{folder / LINES} and {folder / ABOUT} say different things of "
                f"how {name} ends, so nothing was imported"
            )
