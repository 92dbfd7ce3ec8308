"""The door to what is kept: open the records, and keep the day file in them."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

import msgspec
from sqlalchemy import Engine
from sqlalchemy.engine import URL
from sqlalchemy.pool import StaticPool

from stillroom.records.engine import (
    DEFAULT_FILE,
    Place,
    make_file,
    open_engine,
    place_of,
    told_in_words,
    use_write_ahead_log,
)
from stillroom.records.ledger import Entry, Ledger, MovedOn, Recorded, utc_now
from stillroom.records.migrations import migrate, refuse_strangers
from stillroom.refusal import Refusal, Refused, Unreadable

STREAM = "day"
KIND, VERSION = "day-saved", 1
DEMO = "an invented day, put in at the first start"


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """The day file as it was once saved."""

    number: int
    """From 1."""
    text: str
    why: str
    saved_at: datetime
    shown: str = ""
    """A plan of it that was shown when it was saved, as the pages write it."""


class _Body(msgspec.Struct, frozen=True, omit_defaults=True):
    text: str
    why: str
    shown: str = ""


class ChangedMeanwhile(Refused):
    """The day file is no longer the one that the writer had before her."""

    def __init__(self) -> None:
        super().__init__(
            Refusal(
                "the day file is no longer the one that was shown",
                instead="look at the day as it is now, then do it again",
                source="how Stillroom keeps records: nobody's entry is overwritten",
            )
        )


class Days:
    """The day file, append-only: every saved text stays, the last one is current."""

    def __init__(
        self, ledger: Ledger, *, now: Callable[[], datetime] = utc_now
    ) -> None:
        self._ledger = ledger
        self._now = now

    def current(self) -> str | None:
        """Return the day file as last saved; `None` if none was."""
        entry = self._ledger.latest(STREAM)
        return None if entry is None else _revision(entry).text

    def save(
        self,
        text: str,
        why: str,
        *,
        after: int | None = None,
        over: str | None = None,
        shown: str = "",
    ) -> int:
        """
        Keep ``text`` as the newest revision.

        Parameters
        ----------
        text : str
            The day file, TOML.
        why : str
            What was changed, in the keeper's words or the page's.
        after : int, optional
            The revision that the writer had before her. Given, a save over a revision
            that she has not seen is refused.
        over : str, optional
            The text that the writer had before her, empty for none: a save over any
            other is refused, though it were saved in the moment between.
        shown : str
            A plan of it that was shown, so that it is there after a restart.

        Returns
        -------
        int
            Number of the revision that now holds ``text``. Saving the same text twice
            makes no second one, unless another plan of it was shown.

        Raises
        ------
        MovedOn
            If someone else saved after revision ``after``.
        ChangedMeanwhile
            If what is saved is not ``over``.
        Unreadable
            If the records cannot be written to.
        """
        while True:
            newest = self._ledger.latest(STREAM)
            last = newest.sequence if newest else 0
            is_there = None if newest is None else _revision(newest)
            there = "" if is_there is None else is_there.text
            if is_there and there == text and shown in ("", is_there.shown):
                return last
            if over is not None and there != over:
                raise ChangedMeanwhile
            entry = Entry(
                kind=KIND,
                version=VERSION,
                body=msgspec.json.encode(_Body(text, why, shown)).decode(),
                occurred_at=self._now(),
            )
            try:
                return self._ledger.append(
                    STREAM, [entry], after=last if after is None else after
                )
            except MovedOn:
                if after is not None:
                    raise

    def newest(self) -> Revision | None:
        """Return the day file as last saved, with when and why; `None` if none was."""
        entry = self._ledger.latest(STREAM)
        return None if entry is None else _revision(entry)

    def revisions(self) -> tuple[Revision, ...]:
        """Return every revision, the oldest first."""
        return tuple(_revision(entry) for entry in self._ledger.read(STREAM))


def _revision(entry: Recorded) -> Revision:
    if (entry.kind, entry.version) != (KIND, VERSION):
        raise Unreadable(
            f"day file {entry.sequence} is kept as {entry.kind!r}, version "
            f"{entry.version}, which this Stillroom does not know: open it with the "
            "newer one that wrote it"
        )
    body = msgspec.json.decode(entry.body, type=_Body)
    return Revision(
        number=entry.sequence,
        text=body.text,
        why=body.why,
        saved_at=entry.recorded_at,
        shown=body.shown,
    )


class Records:
    """Everything that is kept in one database. Close it, or use it in a ``with``."""

    def __init__(
        self, engine: Engine, ledger: Ledger, where: str, *, only_read: str = ""
    ) -> None:
        self._engine = engine
        self.ledger = ledger
        self.days = Days(ledger)
        self.where = where
        """The file or server, to be shown."""
        self.only_read = only_read
        """Why nothing may be written, and what to do; empty where it may."""

    def close(self) -> None:
        """Let go of the database. Nothing is pending: each write was on disk."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        self.close()


def open_records(where: str | os.PathLike[str] = DEFAULT_FILE) -> Records:
    """
    Open the records: make the file at the first start, bring its tables up to date.

    Parameters
    ----------
    where : str or path, optional
        A path, ``sqlite:///path``, or ``postgresql://...`` where psycopg is installed.

    Raises
    ------
    Unreadable
        If it is a folder, cannot be made, read or written, is no database, is damaged,
        or belongs to another program or a newer Stillroom; with what to do. Such a
        file is left as it is.
    """
    place = place_of(where)
    engine = up_to_date(place)
    return Records(engine, Ledger(engine, place), str(place))


def nothing_kept(file: Path) -> Records:
    """
    Return what a record is before its first entry, without making a file.

    It can be asked and not written to.
    """
    place = Place(URL.create("sqlite"), None)
    engine = open_engine(place, poolclass=StaticPool)  # one connection is all of it
    migrate(engine.execution_options(writes=True))
    why = (
        f"{file} is not there yet: a record begins with what comes in, such as "
        'stillroom stock add "25 lb pears, cellar"'
    )
    return Records(engine, Ledger(engine, place, only_read=why), str(file))


def up_to_date(place: Place) -> Engine:
    """Return an engine on tables that are up to date; see `open_records`."""
    engine = ours_or_empty(place)
    try:
        with told_in_words(place):
            migrate(engine.execution_options(writes=True))
    except BaseException:
        engine.dispose()
        raise
    return engine


def ours_or_empty(place: Place) -> Engine:
    """Return an engine on what is a record or nothing yet; see `open_records`."""
    if place.file is not None:
        make_file(place.file)
    engine = open_engine(place)
    try:
        with told_in_words(place):
            refuse_strangers(engine, place)
            use_write_ahead_log(engine)
    except BaseException:
        engine.dispose()
        raise
    return engine


def seed_demo(records: Records, text: str) -> bool:
    """
    Put the demo day in where no day was ever saved; say whether that was done.

    Never again over a keeper's data: not when she emptied her file, nor when another
    program saved a day in the moment between.
    """
    if records.ledger.last(STREAM):
        return False
    try:
        records.days.save(text, DEMO, after=0)
    except MovedOn:
        return False
    return True
