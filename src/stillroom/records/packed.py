"""A server's record as one file: what `export` writes, packed, and read back."""

from __future__ import annotations

import contextlib
import os
import shutil
import struct
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from sqlalchemy import Connection, select

from stillroom.records.checking import Health, check_records
from stillroom.records.copy_names import OF_A_SERVER
from stillroom.records.copying import give_name
from stillroom.records.days import open_records
from stillroom.records.engine import (
    Place,
    make_file,
    open_to_read,
    place_of,
    told_in_words,
)
from stillroom.records.exporting import number_of_chained, write_all
from stillroom.records.following import Following, stand_of
from stillroom.records.importing import about_of, import_from
from stillroom.records.lot_tables import on_hand
from stillroom.records.migrations import MIGRATIONS, WITH_LOTS, refuse_strangers
from stillroom.records.portable import FILES
from stillroom.refusal import NotNow, Unreadable

FRESH = "fresh.db"
FIRST_BYTES = b"PK\x03\x04"
_DAY_OF_NO_MEANING = (1980, 1, 1, 0, 0, 0)
"""The first that a pack can tell; so that two copies of the same are the same."""
_DAMAGED = (zipfile.BadZipFile, zlib.error, EOFError)
_MORE_DAMAGED = (
    *_DAMAGED,
    zipfile.LargeZipFile,
    struct.error,
    NotImplementedError,
    RuntimeError,
    ValueError,
    OverflowError,
)
"""All that the unpacking may stumble over where bytes are not as they were."""

Hand = dict[tuple[str, str], int]
"""What is on hand, by lot and place."""


def copy_packed(place: Place, target: Path, *, following: Following | None) -> Health:
    """
    Write the record as it is at one moment to a packed copy, and read that back.

    The copy is unpacked into a fresh ledger: it must chain, end as the record ended,
    and come out of there as the same bytes. Only then it gets its name.

    Parameters
    ----------
    place : Place
        A server.
    target : Path
        A file that is not there yet.
    following : Following or None
        Tells what follows from the entries; then what is on hand is made from the copy
        and compared with what was on hand there.

    Returns
    -------
    Health
        Of the copy. What is astray in it are lots and balances of the server.

    Raises
    ------
    Unreadable
        If the record cannot be read or is not whole, or the copy cannot be written or
        is not what the record was. Nothing is then left of it.
    """
    with _work_folder(target) as work:
        plain, packed = work / "record", work / target.name
        plain.mkdir()
        fingerprint, hand = _write_plain(place, plain, following)
        pack(plain, packed)
        shutil.rmtree(plain)
        try:
            health = read_back(packed, work, following=following, expected=hand)
        except NotNow as fault:  # it names files that are gone in a moment
            raise Unreadable(
                f"{target} was written and could not be read back, so it was not kept: "
                f"{fault}"
            ) from None
        if health.fingerprint != fingerprint:
            raise Unreadable(
                f"the copy of {place} does not end where the record ended, so it was "
                "not kept; do it again, and to another disk if it happens twice"
            )
        give_name(packed, target)
    return replace(health, where=str(target))


def _write_plain(
    place: Place, folder: Path, following: Following | None
) -> tuple[str, Hand | None]:
    """Write the export; return its fingerprint, and what is known as on hand."""
    engine = open_to_read(place)
    try:
        with told_in_words(place):
            refuse_strangers(engine, place)
            with engine.connect() as connection:
                number = number_of_chained(connection, place, to="copy")
                done = write_all(connection, number, folder)
                hand = _hand_of(connection, number, following)
    finally:
        engine.dispose()
    if done.broken:
        raise Unreadable(
            f"{place} is not whole, so no copy of it was kept. "
            f"{'. '.join(done.broken[:3])}. See what is wrong with it: stillroom check "
            f"--db {place}"
        )
    return done.fingerprint, hand


def _hand_of(
    connection: Connection, number: int, following: Following | None
) -> Hand | None:
    if following is None or number < WITH_LOTS:
        return None
    if not stand_of(connection, following).current:
        return None  # it is brought up when it is next asked, and was right before
    rows = connection.execute(select(on_hand))
    return {(row.lot, row.place): row.quantity for row in rows}


def pack(folder: Path, target: Path) -> None:
    """Pack an export into a new file for its owner alone; the same makes the same."""
    make_file(target)
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as packed:
        for name in FILES:
            info = zipfile.ZipInfo(name, _DAY_OF_NO_MEANING)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o600 << 16
            info.file_size = (folder / name).stat().st_size
            with (folder / name).open("rb") as plain, packed.open(info, "w") as out:
                shutil.copyfileobj(plain, out, 1 << 20)


def is_packed(file: Path) -> bool:
    """Whether it is a copy of this kind, by its name or its first bytes."""
    if file.suffix == OF_A_SERVER:
        return True
    try:
        with file.open("rb") as opened:
            return opened.read(len(FIRST_BYTES)) == FIRST_BYTES
    except OSError as error:
        raise Unreadable(_not_read(file, error)) from None


@contextlib.contextmanager
def unpacked(copy: Path) -> Iterator[zipfile.Path]:
    """
    Give what is packed in a copy, as a folder to read from; every byte is right.

    Raises
    ------
    Unreadable
        If it is damaged, no copy of ours, or of a newer Stillroom.
    """
    with contextlib.ExitStack() as stack:
        try:
            packed = stack.enter_context(zipfile.ZipFile(copy))
            wrong = packed.testzip()
            names = set(packed.namelist())
        except _MORE_DAMAGED as error:
            raise Unreadable(_damaged(copy, error)) from None
        except OSError as error:
            raise Unreadable(_not_read(copy, error)) from None
        if wrong is not None:
            raise Unreadable(_damaged(copy, f"{wrong} is not as it was packed"))
        if missing := set(FILES) - names:
            raise Unreadable(
                f"{copy} is no copy that stillroom backup made: there is no "
                f"{min(missing)} in it. It was left as it is; give a copy"
            )
        folder = zipfile.Path(packed)
        number, known = about_of(folder).tables_at, MIGRATIONS[-1].number
        if number > known:
            raise Unreadable(
                f"{copy} was made by a newer Stillroom (its tables were at number "
                f"{number}, this one knows up to {known}) and was not restored: "
                "install the newer Stillroom"
            )
        try:
            yield folder
        except _DAMAGED as error:  # it was right a moment ago: a failing disk
            raise Unreadable(_damaged(copy, error)) from None


def _not_read(copy: Path, error: OSError) -> str:
    return (
        f"{copy} cannot be read ({error.strerror}): allow reading it, or give another "
        "copy"
    )


def _damaged(copy: Path, error: object) -> str:
    return (
        f"{copy} is damaged ({' '.join(str(error).split()) or 'it ends too early'}) "
        "and was not restored: give another copy"
    )


def read_back(
    copy: Path,
    work: Path,
    *,
    names: tuple[str, ...] = FILES,
    following: Following | None = None,
    expected: Hand | None = None,
) -> Health:
    """
    Read a copy into ``work / FRESH``, and that out again: it must be the same.

    ``names`` are what must be the same; schema and table of an earlier Stillroom may
    have said the same entries in other words.

    Raises
    ------
    Unreadable
        If it does not chain, does not end where it says, or is not the same bytes.
    """
    fresh, again = work / FRESH, work / "again"
    again.mkdir()
    with unpacked(copy) as text:
        health = import_from(text, fresh).health
        engine = open_to_read(place_of(fresh))
        try:
            with engine.connect() as connection:
                write_all(connection, about_of(text).tables_at, again)
        finally:
            engine.dispose()
        for name in names:
            if not _same(text / name, again / name):
                raise Unreadable(
                    f"{copy} does not come out of a ledger as it went in ({name}), so "
                    "it was not used"
                )
    shutil.rmtree(again)
    if following is None:
        return health
    return _with_lots(fresh, following, expected)


def _same(one: zipfile.Path, other: Path) -> bool:
    with one.open("rb") as a, other.open("rb") as b:
        while True:
            here, there = a.read(1 << 20), b.read(1 << 20)
            if here != there:
                return False
            if not here:
                return True


def _with_lots(fresh: Path, following: Following, expected: Hand | None) -> Health:
    """Make the lots from the entries of a copy, and compare what is on hand."""
    with open_records(fresh) as records:
        records.ledger.lots.made_again(following)
    health = check_records(fresh, following=following)
    engine = open_to_read(place_of(fresh))
    try:
        with engine.connect() as connection:
            made = _hand_of(connection, health.number, following)
    finally:
        engine.dispose()
    if expected is None or made is None:
        return health
    astray = [
        f"lot {lot} at {where}: {expected.get((lot, where), 0)} were kept as on hand, "
        f"and {made.get((lot, where), 0)} follow from the entries"
        for lot, where in sorted(expected.keys() | made.keys())
        if expected.get((lot, where)) != made.get((lot, where))
    ]
    return replace(health, astray=(*health.astray, *astray))


@contextlib.contextmanager
def _work_folder(target: Path) -> Iterator[Path]:
    """Give a folder to work in, beside ``target``; nothing of it stays."""
    work = target.with_name(f"{target.name}.{os.getpid()}.part")
    try:
        shutil.rmtree(work, ignore_errors=True)
        work.mkdir(mode=0o700)
        yield work
    except OSError as error:
        raise Unreadable(
            f"{target} cannot be written ({error.strerror}): allow writing there, free "
            "some space, or name another place"
        ) from None
    finally:
        shutil.rmtree(work, ignore_errors=True)
