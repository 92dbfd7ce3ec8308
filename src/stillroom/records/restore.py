"""Bring a copy back; the record that is there is never written over."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from stillroom.records.backup import STAMP
from stillroom.records.checking import Health, check_records
from stillroom.records.copying import (
    SIDE_FILES,
    copy_whole,
    file_of,
    give_name,
    new_file,
)
from stillroom.records.engine import is_sqlite, place_of
from stillroom.refusal import Unreadable

PATIENCE_S = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What was brought back, and where the former record is now."""

    file: Path
    health: Health
    aside: Path | None


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
        The copy; it stays as it is.
    where : str or path
        A file.
    aside : bool, optional
        Move a record that is there aside, under a dated name; else it is refused.
    now : datetime, optional
        With a time zone.

    Raises
    ------
    Unreadable
        If the copy is no whole record, if ``where`` is there and not to be moved, is
        in use, is the copy itself, or cannot be written. All is then as it was.
    """
    target, copied = file_of(place_of(where)), file_of(place_of(backup))
    if not copied.exists():
        raise Unreadable(f"{copied} is not there: give a backup, as its file")
    if target.exists() and target.samefile(copied):
        raise Unreadable(
            f"{copied} is the record itself: give a copy of it, such as one that "
            "stillroom backup made"
        )
    health = check_records(copied)
    if not health.entries_whole:
        raise Unreadable(
            f"{copied} is not whole and was not restored. "
            f"{' '.join(health.sentences()[:-1][:3])} Give another copy"
        )
    there = _there(target)
    if there and not aside:
        raise Unreadable(
            f"{there[0]} is there already and was left as it is: give --aside to move "
            "it to a dated name first, or another file with --db"
        )
    moved: dict[Path, Path] = {}
    with new_file(target) as part:
        health = copy_whole(copied, part, target=target)
        try:
            if there:
                _move_aside(target, now or datetime.now(UTC), moved)
            give_name(part, target)
        except BaseException:
            for here, former in moved.items():
                with contextlib.suppress(OSError):
                    former.rename(here)
            raise
    after = check_records(target)
    if (after.entries_whole, after.fingerprint) != (True, health.fingerprint):
        raise Unreadable(
            f"{target} was written but is not what {copied} holds: the disk may be "
            "failing; restore to another disk"
        )
    return Restored(file=target, health=after, aside=moved.get(target))


def _there(target: Path) -> list[Path]:
    """Return what is there of a record: its file, or a log that was left behind."""
    files = [target.with_name(target.name + end) for end in ("", *SIDE_FILES)]
    return [file for file in files if file.exists()]


def _move_aside(target: Path, now: datetime, moved: dict[Path, Path]) -> None:
    """
    Move a record to a dated name, its log with it, and note each move in ``moved``.

    The log goes first: beside another file it would be written into that one.
    """
    if target.exists() and is_sqlite(target):
        _fold_log(target)  # of any other file SQLite would throw the log away
    stamp = now.astimezone(UTC).strftime(STAMP)
    base, again = f"{target.stem}-aside-{stamp}", 1
    while _there(target.with_name(base + target.suffix)):
        again += 1
        base = f"{target.stem}-aside-{stamp}-{again}"
    for here in reversed(_there(target)):
        end = here.name.removeprefix(target.name)
        former = target.with_name(f"{base}{target.suffix}{end}")
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
