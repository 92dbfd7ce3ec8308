"""All or nothing: an append, a migration."""

import datetime as dt
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import Connection

from stillroom.records.days import Records, open_records
from stillroom.records.engine import make_file, open_engine, place_of
from stillroom.records.ledger import Entry
from stillroom.records.migrations import MIGRATIONS, Migration, migrate
from stillroom.refusal import Unreadable

NEXT = len(MIGRATIONS) + 1
NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def tables(file: Path) -> set[str]:
    with sqlite3.connect(file) as plain:
        found = {name for (name,) in plain.execute("SELECT name FROM sqlite_master")}
    plain.close()
    return found


def test_an_append_that_fails_half_way_leaves_nothing(records: Records):
    good = Entry(kind="k", version=1, body="first", occurred_at=NOON)
    bad = Entry(kind="k", version=0, body="versions count from 1", occurred_at=NOON)
    with pytest.raises(Exception, match="event_version_from_one"):
        records.ledger.append("x", [good, bad], after=0)
    assert records.ledger.read("x") == ()
    assert records.ledger.append("x", [good], after=0) == 1


def test_a_full_disk_loses_nothing_and_says_what_to_do(file: Path):
    """SQLite's own page limit gives the same answer as a full disk."""
    with open_records(file) as records:
        records.days.save("kept", "first")
        engine = records._engine
        with engine.connect() as connection:
            pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
            assert pages
            connection.exec_driver_sql(f"PRAGMA max_page_count={pages}")
        with pytest.raises(Unreadable, match="disk is full: free some space"):
            records.days.save("x" * 200_000, "too long for the disk")
        assert records.days.current() == "kept"
        with engine.connect() as connection:
            connection.exec_driver_sql("PRAGMA max_page_count=1000000")
        assert records.days.save("x" * 200_000, "now it fits") == 2


def _breaks_down(connection: Connection) -> None:
    connection.exec_driver_sql("CREATE TABLE half_made (x INTEGER)")
    connection.exec_driver_sql("INSERT INTO half_made VALUES (1)")
    raise RuntimeError("the power went")


def test_a_migration_that_breaks_down_leaves_no_trace(file: Path):
    make_file(file)
    engine = open_engine(place_of(file))
    writer = engine.execution_options(writes=True)
    with pytest.raises(RuntimeError, match="the power went"):
        migrate(
            writer, migrations=(*MIGRATIONS, Migration(NEXT, "breaks", _breaks_down))
        )
    assert "half_made" not in tables(file)

    def mend(connection: Connection) -> None:
        connection.exec_driver_sql("CREATE TABLE whole (x INTEGER)")

    assert migrate(writer, migrations=(*MIGRATIONS, Migration(NEXT, "mend", mend))) == (
        NEXT,
    )
    engine.dispose()
    assert "whole" in tables(file)


def test_migrations_are_numbered_in_order_and_recorded(records: Records, file: Path):
    assert [m.number for m in MIGRATIONS] == list(range(1, len(MIGRATIONS) + 1))
    plain = sqlite3.connect(file)
    rows = plain.execute(
        "SELECT number, what FROM migration ORDER BY number"
    ).fetchall()
    plain.close()
    assert rows == [(m.number, m.what) for m in MIGRATIONS]


def test_opening_again_changes_nothing(records: Records, file: Path):
    records.days.save("mine", "first")
    with open_records(file) as again:
        assert again.days.current() == "mine"
        assert len(again.days.revisions()) == 1
