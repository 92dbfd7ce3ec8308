"""Copies of the record: made while it is in use, checked after, kept by age."""

from __future__ import annotations

import contextlib
import glob
import os
import shutil
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from stillroom.records.ages import NEWEST, kept
from stillroom.records.checking import Health
from stillroom.records.copy_names import CopyNames, backups_in, names_of
from stillroom.records.copying import copy_whole, give_name, new_file
from stillroom.records.engine import place_of
from stillroom.records.following import Following
from stillroom.records.missing import no_record
from stillroom.records.packed import copy_packed
from stillroom.records.pictures import (
    NONE_COPIED,
    CopiedPictures,
    copy_pictures,
    pictures_beside,
    pictures_of,
)
from stillroom.refusal import Unreadable

DUE_AFTER = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """A copy that was written and checked."""

    file: Path
    health: Health
    gone: tuple[Path, ...] = ()
    """Older copies that were given up by their age."""
    pictures: CopiedPictures = NONE_COPIED
    """Of the lots; they lie beside the copies, once each."""


def back_up(
    where: str | os.PathLike[str],
    *,
    to: Path | None = None,
    newest: int = NEWEST,
    now: datetime | None = None,
    following: Following | None = None,
) -> Backup:
    """
    Write a copy of the record as it is at one moment, check it, give up old ones.

    Pictures of the lots are copied beside it, once each.

    Others may read and write meanwhile. The copy is one file of its own. Until it has
    been opened, read through and found to end where the record ended, it has no name
    that a restore would take, and no older copy goes.

    Parameters
    ----------
    where : str or path
        The record: a file, copied as a file, or a server, copied as packed text.
    to : Path, optional
        Folder for the copies; made where there is none. Default: see `names_of`.
    newest : int, optional
        So many of the newest stay whatever their age.
    now : datetime, optional
        With a time zone.
    following : Following, optional
        Tells what follows from the entries. A file is copied with its lots in it; from
        a server's copy they are made again, and what is on hand is compared.

    Raises
    ------
    Unreadable
        If the record cannot be read or is damaged, or the copy cannot be written or
        is not whole. No copy is then left behind or given up.
    """
    place = place_of(where)
    names = names_of(place, to)
    moment = (now or datetime.now(UTC)).astimezone(UTC)
    folder = names.folder
    if place.file is not None and not place.file.exists():
        raise Unreadable(no_record(place.file))
    _make_folder(folder)
    target = folder / names.at(moment)
    if target.exists():
        raise Unreadable(f"{target} is there already; wait a second, then do it again")
    if place.file is None:
        health = copy_packed(place, target, following=following)
    else:
        with new_file(target) as part:
            health = copy_whole(place.file, part, target=target)
            give_name(part, target)
    return Backup(
        file=target,
        health=health,
        gone=_give_up(folder, names, moment, newest),
        pictures=copy_pictures(pictures_of(place), pictures_beside(target)),
    )


def last_backup(
    where: str | os.PathLike[str], *, to: Path | None = None
) -> datetime | None:
    """Return when the newest copy was made; `None` if there is none."""
    names = names_of(place_of(where), to)
    found = backups_in(names.folder, names.stem, names.ending)
    return max(found, default=None)


def newest_copy(where: str | os.PathLike[str]) -> str:
    """Say which copy to restore, as a sentence; empty where none is to be found."""
    names = names_of(place_of(where))
    made = backups_in(names.folder, names.stem, names.ending)
    return f"Your last copy is {made[max(made)]}." if made else ""


def back_up_if_due(
    where: str | os.PathLike[str],
    *,
    to: Path | None = None,
    now: datetime | None = None,
    following: Following | None = None,
) -> Backup | None:
    """Make a copy if the last one is older than a day, or of a day to come."""
    moment = now or datetime.now(UTC)
    last = last_backup(where, to=to)
    if last is not None and timedelta(0) <= moment - last < DUE_AFTER:
        return None
    return back_up(where, to=to, now=moment, following=following)


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


def _give_up(
    folder: Path, names: CopyNames, now: datetime, newest: int
) -> tuple[Path, ...]:
    """Delete what no age keeps; a file that cannot go stays, and that is no failure."""
    made = backups_in(folder, names.stem, names.ending)
    stays = kept(made, now, newest=newest)
    gone = []
    for moment, path in made.items():
        if moment not in stays:
            with contextlib.suppress(OSError):
                path.unlink()
                gone.append(path)
    for path in folder.glob(f"{glob.escape(names.stem)}-*{names.ending}.*.part*"):
        with contextlib.suppress(OSError):  # what a copy left that was killed
            if now.timestamp() - path.stat().st_mtime > DUE_AFTER.total_seconds():
                if path.is_dir():
                    shutil.rmtree(path)
                else:
                    path.unlink()
    return tuple(gone)
