"""Bring a copy back; the record that is there is never written over."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import tempfile
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from stillroom.records.checking import Health, check_records
from stillroom.records.copy_names import STAMP
from stillroom.records.copying import (
    SIDE_FILES,
    copy_whole,
    give_name,
    new_file,
    second_name,
    take_name,
)
from stillroom.records.days import open_records
from stillroom.records.engine import Place, is_sqlite, place_of
from stillroom.records.exporting import export
from stillroom.records.importing import import_from
from stillroom.records.packed import FRESH, is_packed, read_back, unpacked
from stillroom.records.pictures import (
    NONE_COPIED,
    CopiedPictures,
    copy_pictures,
    pictures_beside,
    pictures_of,
)
from stillroom.records.portable import LINES
from stillroom.refusal import Unreadable

PATIENCE_S = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What was brought back, and where the former record is now."""

    where: str
    """The file or server, to be shown."""
    health: Health
    aside: Path | None
    pictures: CopiedPictures = NONE_COPIED
    """Those that were beside the copy and no longer beside the record."""


def restore(
    backup: str | os.PathLike[str],
    where: str | os.PathLike[str],
    *,
    aside: bool = False,
    now: datetime | None = None,
) -> Restored:
    """
    Make the record at ``where`` anew from a copy that is whole, and check it again.

    Parameters
    ----------
    backup : str or path
        The copy, a file's or a server's; it stays as it is. Each can be brought back
        into either.
    where : str or path
        A file, or an empty database on a server.
    aside : bool, optional
        Move a file that is there aside, under a dated name; else it is refused.
    now : datetime, optional
        With a time zone.

    Raises
    ------
    Unreadable
        If the copy is no whole record, if ``where`` is there and not to be moved, is
        in use, is the copy itself, or cannot be written. All is then as it was.
    """
    place, copied = place_of(where), _copy_at(place_of(backup))
    if place.file is None:
        done = _into_server(copied, where, place, aside=aside)
        return replace(done, pictures=_pictures_back(copied, place))
    target = place.file
    if target.exists() and target.samefile(copied):
        raise Unreadable(
            f"{copied} is the record itself: give a copy of it, such as one that "
            "stillroom backup made"
        )
    with _work_folder() as work:
        plain = _as_file(copied, work)
        done = _into_file(copied, plain, target, aside=aside, now=now)
    return replace(done, pictures=_pictures_back(copied, place))


@contextlib.contextmanager
def _work_folder() -> Iterator[Path]:
    """Give a folder to unpack in; the copy may be on a stick nobody may write to."""
    try:
        with tempfile.TemporaryDirectory(prefix="stillroom-restore-") as work:
            yield Path(work)
    except OSError as error:
        raise Unreadable(
            f"there is no room to unpack the copy in {tempfile.gettempdir()} "
            f"({error.strerror}): free some space there, or name another folder in "
            "TMPDIR. Nothing was restored"
        ) from None


def _pictures_back(copied: Path, place: Place) -> CopiedPictures:
    return copy_pictures(pictures_beside(copied), pictures_of(place))


def _copy_at(place: Place) -> Path:
    if place.file is None:
        raise Unreadable(
            f"{place} is a server: give a copy, as the file that stillroom backup wrote"
        )
    if not place.file.exists():
        raise Unreadable(f"{place.file} is not there: give a backup, as its file")
    if not place.file.is_file():
        raise Unreadable(f"{place.file} is no file: give a backup, as its file")
    return place.file


def _as_file(copied: Path, work: Path) -> Path:
    """Return a whole record in a file that holds what the copy does."""
    if is_packed(copied):
        read_back(copied, work, names=(LINES,))
        return work / FRESH
    health = check_records(copied)
    if not health.entries_whole:
        raise Unreadable(
            f"{copied} is not whole and was not restored. "
            f"{' '.join(health.sentences()[:-1][:3])} Give another copy"
        )
    return copied


def _into_server(
    copied: Path, where: str | os.PathLike[str], place: Place, *, aside: bool
) -> Restored:
    if aside:
        raise Unreadable(
            f"{place} is on a server, and only a file is moved aside: make a new, "
            "empty database there (createdb NAME), and restore into that one, without "
            "--aside"
        )
    with contextlib.ExitStack() as stack:
        if is_packed(copied):
            text: Path | zipfile.Path = stack.enter_context(unpacked(copied))
        else:
            text = _as_text(copied, stack.enter_context(_work_folder()))
        done = import_from(text, where)
    return Restored(where=str(place), health=done.health, aside=None)


def _as_text(copied: Path, work: Path) -> Path:
    """Return the export of a copy that is a file."""
    plain = _as_file(copied, work)
    if not check_records(plain).chained:  # of the first Stillroom: chained in between
        chained = work / FRESH
        copy_whole(plain, chained, target=chained)
        open_records(chained).close()
        plain = chained
    return export(plain, work / "record").folder


def _into_file(
    copied: Path, plain: Path, target: Path, *, aside: bool, now: datetime | None
) -> Restored:
    there = _there(target)
    if there and not aside:
        raise Unreadable(
            f"{there[0]} is there already and was left as it is: give --aside to move "
            "it to a dated name first, or another file with --db"
        )
    moved: dict[Path, Path] = {}
    with new_file(target) as part:
        health = copy_whole(plain, part, target=target)
        try:
            if there:
                _move_aside(target, now or datetime.now(UTC), moved)
            if target in moved:
                take_name(part, target)
            else:
                give_name(part, target)
        except BaseException:
            for here, former in moved.items():
                with contextlib.suppress(OSError):
                    former.replace(here)
                    # Of two names of one file a rename takes neither away.
                    former.unlink(missing_ok=True)
            raise
    after = check_records(target)
    if (after.entries_whole, after.fingerprint) != (True, health.fingerprint):
        raise Unreadable(
            f"{target} was written but is not what {copied} holds: the disk may be "
            "failing; restore to another disk"
        )
    return Restored(where=str(target), health=after, aside=moved.get(target))


def _there(target: Path) -> list[Path]:
    """Return what is there of a record: its file, or a log that was left behind."""
    files = [target.with_name(target.name + end) for end in ("", *SIDE_FILES)]
    return [file for file in files if file.exists()]


def _move_aside(target: Path, now: datetime, moved: dict[Path, Path]) -> None:
    """
    Give a record a dated name, its log with it, and note each in ``moved``.

    The file keeps its own name too, until another takes that: killed at any moment,
    there is a record under it. The log is gone by then: beside another file it would
    be written into that one.
    """
    if target.exists() and is_sqlite(target):
        _fold_log(target)  # of any other file SQLite would throw the log away
    stamp = now.astimezone(UTC).strftime(STAMP)
    base, again = f"{target.stem}-aside-{stamp}", 1
    while _there(target.with_name(base + target.suffix)):
        again += 1
        base = f"{target.stem}-aside-{stamp}-{again}"
    for here in _there(target):
        end = here.name.removeprefix(target.name)
        former = target.with_name(f"{base}{target.suffix}{end}")
        if here == target:
            second_name(here, former)
        else:
            here.rename(former)
        moved[here] = former


def _fold_log(target: Path) -> None:
    """Bring the log into the file, which nobody else may have open for that."""
    present = sqlite3.connect(target, timeout=PATIENCE_S, isolation_level=None)
    try:
        present.execute("PRAGMA journal_mode=DELETE").close()
    except sqlite3.OperationalError as error:
        if "locked" in str(error):
            raise Unreadable(
                f"{target} is in use: end stillroom serve and what else has it open, "
                "then do it again"
            ) from None
    except sqlite3.DatabaseError:
        pass  # damaged, which may be why it is to go: it is moved with its log
    finally:
        present.close()
