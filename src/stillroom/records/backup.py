"""Copies of the record: made while it is in use, checked after, kept by age."""

from __future__ import annotations

import contextlib
import glob
import os
import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from stillroom.records.ages import NEWEST, kept
from stillroom.records.checking import Health
from stillroom.records.copying import copy_whole, file_of, give_name, new_file
from stillroom.records.engine import place_of
from stillroom.refusal import Unreadable

DUE_AFTER = timedelta(days=1)
STAMP = "%Y-%m-%dT%H-%M-%SZ"
"""In a name: UTC, sorts as time does, and no sign that a memory stick refuses."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """A copy that was written and checked."""

    file: Path
    health: Health
    gone: tuple[Path, ...] = ()
    """Older copies that were given up by their age."""


def folder_beside(file: Path) -> Path:
    """
    Return where the copies go when nobody says: beside the record.

    >>> folder_beside(Path("farm/stillroom.db")).as_posix()
    'farm/stillroom-backups'
    """
    return file.with_name(f"{file.stem}-backups")


def backups_in(folder: Path, stem: str) -> dict[datetime, Path]:
    """Return the copies of the record called ``stem``, by when they were made."""
    pattern = re.compile(
        re.escape(stem) + r"-(\d{4}-\d\d-\d\dT\d\d-\d\d-\d\dZ)\.db", re.ASCII
    )
    found = {}
    for path in sorted(folder.iterdir()) if folder.is_dir() else ():
        if match := pattern.fullmatch(path.name):
            with contextlib.suppress(ValueError):  # 31 February: no copy of ours
                made = datetime.strptime(match[1], STAMP).replace(tzinfo=UTC)
                found[made] = path
    return found


def back_up(
    where: str | os.PathLike[str],
    *,
    to: Path | None = None,
    newest: int = NEWEST,
    now: datetime | None = None,
) -> Backup:
    """
    Write a copy of the record as it is at one moment, check it, give up old ones.

    Others may read and write meanwhile. The copy is one file of its own. Until it has
    been opened, read through and found to end where the record ended, it has no name
    that a restore would take, and no older copy goes.

    Parameters
    ----------
    where : str or path
        The record: a file.
    to : Path, optional
        Folder for the copies; made where there is none. Default: beside the record.
    newest : int, optional
        So many of the newest stay whatever their age.
    now : datetime, optional
        With a time zone.

    Raises
    ------
    Unreadable
        If the record cannot be read or is damaged, or the copy cannot be written or
        is not whole. No copy is then left behind or given up.
    """
    file = file_of(place_of(where))
    moment = (now or datetime.now(UTC)).astimezone(UTC)
    folder = folder_beside(file) if to is None else to
    if not file.exists():
        raise Unreadable(f"{file} is not there: give the file that holds the record")
    _make_folder(folder)
    target = folder / f"{file.stem}-{moment.strftime(STAMP)}.db"
    if target.exists():
        raise Unreadable(f"{target} is there already; wait a second, then do it again")
    with new_file(target) as part:
        health = copy_whole(file, part, target=target)
        give_name(part, target)
    return Backup(
        file=target,
        health=health,
        gone=_give_up(folder, file.stem, moment, newest),
    )


def last_backup(
    where: str | os.PathLike[str], *, to: Path | None = None
) -> datetime | None:
    """Return when the newest copy was made; `None` if there is none."""
    file = file_of(place_of(where))
    return max(backups_in(to or folder_beside(file), file.stem), default=None)


def newest_copy(where: str | os.PathLike[str]) -> str:
    """Say which copy to restore, as a sentence; empty where none is beside it."""
    place = place_of(where)
    if place.file is None:
        return ""
    made = backups_in(folder_beside(place.file), place.file.stem)
    return f"Your last copy is {made[max(made)]}." if made else ""


def back_up_if_due(
    where: str | os.PathLike[str],
    *,
    to: Path | None = None,
    now: datetime | None = None,
) -> Backup | None:
    """Make a copy if the last one is older than a day, or of a day to come."""
    moment = now or datetime.now(UTC)
    last = last_backup(where, to=to)
    if last is not None and timedelta(0) <= moment - last < DUE_AFTER:
        return None
    return back_up(where, to=to, now=moment)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
    except FileExistsError:
        raise Unreadable(
            f"{folder} is a file: give a folder for the copies with --to"
        ) from None
    except OSError as error:
        raise Unreadable(
            f"{folder} cannot be made ({error.strerror}): allow writing there, or give "
            "another folder for the copies with --to"
        ) from None


def _give_up(folder: Path, stem: str, now: datetime, newest: int) -> tuple[Path, ...]:
    """Delete what no age keeps; a file that cannot go stays, and that is no failure."""
    made = backups_in(folder, stem)
    stays = kept(made, now, newest=newest)
    gone = []
    for moment, path in made.items():
        if moment not in stays:
            with contextlib.suppress(OSError):
                path.unlink()
                gone.append(path)
    for path in folder.glob(f"{glob.escape(stem)}-*.db.*.part*"):
        with contextlib.suppress(OSError):  # what a copy left that was killed
            if now.timestamp() - path.stat().st_mtime > DUE_AFTER.total_seconds():
                path.unlink()
    return tuple(gone)
