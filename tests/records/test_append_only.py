"""The database itself refuses to forget, whoever asks it."""

import datetime as dt
import sqlite3
from pathlib import Path

import pytest

from stillroom.records.days import Records
from stillroom.records.ledger import Entry


@pytest.fixture
def written(records: Records, file: Path) -> Path:
    noon = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
    records.ledger.append(
        "x", [Entry(kind="k", version=1, body="first", occurred_at=noon)], after=0
    )
    return file


COLUMNS = "stream, sequence, kind, version, body, occurred_at, recorded_at"


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("UPDATE event SET body = 'other'", "mend it with a counter-entry"),
        ("DELETE FROM event", "mend it with a counter-entry"),
        (
            f"REPLACE INTO event (id, {COLUMNS}) "
            "VALUES (1, 'x', 1, 'k', 1, 'other', 'a', 'b')",
            "that sequence is taken",
        ),
        (
            f"INSERT OR REPLACE INTO event ({COLUMNS}) "
            "VALUES ('x', 1, 'k', 1, 'other', 'a', 'b')",
            "that sequence is taken",
        ),
        (
            f"INSERT OR IGNORE INTO event ({COLUMNS}) "
            "VALUES ('x', 1, 'k', 1, 'other', 'a', 'b')",
            "that sequence is taken",
        ),
    ],
)
@pytest.mark.parametrize("recursive", ["ON", "OFF"])
def test_another_program_cannot_change_an_event(
    written: Path, statement: str, said: str, recursive: str
):
    """A plain connection, with SQLite's own default for recursive triggers and ours."""
    other = sqlite3.connect(written)
    try:
        other.execute(f"PRAGMA recursive_triggers={recursive}")
        with pytest.raises(sqlite3.IntegrityError, match=f"append-only: {said}"):
            other.execute(statement)
        other.rollback()
        assert other.execute("SELECT body FROM event").fetchall() == [("first",)]
    finally:
        other.close()
