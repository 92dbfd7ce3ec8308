"""A damaged record is opened to be read, and never written to."""

from __future__ import annotations

import os

from sqlalchemy.exc import DBAPIError

from stillroom.records.backup import newest_copy
from stillroom.records.days import Records, open_records
from stillroom.records.engine import (
    DEFAULT_FILE,
    RESTORE,
    Place,
    open_to_read,
    place_of,
    told_in_words,
)
from stillroom.records.ledger import Ledger
from stillroom.records.migrations import MIGRATIONS, applied, refuse_strangers
from stillroom.refusal import NotNow, Unreadable, ended


def open_or_only_read(where: str | os.PathLike[str]) -> Records:
    """
    Open the records as `open_records` does; damaged ones only to be read.

    The database looks over its own pages first, in the quick way: some 0.1 s for the
    record of a year. What was changed inside whole pages is seen by `check_records`.

    Returns
    -------
    Records
        Where ``only_read`` is not empty, it says what is damaged and what to do, and
        every writing is refused with it.

    Raises
    ------
    Unreadable
        As `open_records`, and if so much is damaged that nothing can be read.
    """
    place = place_of(where)
    if place.file is None:
        return _of_a_server(where)
    if not place.file.exists() or not place.file.stat().st_size:
        return open_records(where)
    engine = open_to_read(place)
    try:
        with told_in_words(place):
            refuse_strangers(engine, place)
            with engine.connect() as connection:
                number = applied(connection)
                try:
                    said = connection.exec_driver_sql("PRAGMA quick_check(1)").scalar()
                except DBAPIError as error:
                    said = str(error.orig)
    except BaseException:
        engine.dispose()
        raise
    if said == "ok":
        engine.dispose()
        return open_records(where)
    advice = _advice(place, " ".join(str(said).split()))
    if number != MIGRATIONS[-1].number:
        engine.dispose()
        raise Unreadable(advice)
    ledger = Ledger(engine, place, only_read=advice)
    return Records(engine, ledger, str(place), only_read=advice)


def _of_a_server(where: str | os.PathLike[str]) -> Records:
    try:
        return open_records(where)
    except NotNow as fault:
        if not (copy := newest_copy(where)):
            raise
        raise NotNow(
            f"{ended(str(fault))} {copy} If the server is gone for good, go on from a "
            f"file: stillroom restore COPY --db {DEFAULT_FILE}"
        ) from fault


def _advice(place: Place, said: str) -> str:
    assert place.file is not None
    return " ".join(
        part
        for part in (
            f"{place} is damaged ({said}): it can only be read, and nothing more is "
            f"written to it. What to do: stop, {RESTORE}.",
            newest_copy(place.file),
            "What is wrong, in full: stillroom check. What can still be read, as "
            "text: stillroom export --damaged.",
        )
        if part
    )
