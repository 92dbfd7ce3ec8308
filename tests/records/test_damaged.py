"""A damaged record is read and not written; a full disk loses nothing."""

import datetime as dt
import random
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import event as listening
from sqlalchemy.exc import OperationalError

from stillroom.records.backup import back_up
from stillroom.records.checking import check_records
from stillroom.records.damaged import open_or_only_read
from stillroom.records.days import open_records
from stillroom.records.engine import open_engine, place_of, told_in_words
from stillroom.records.exporting import export
from stillroom.records.ledger import Entry
from stillroom.records.migrations import migrate
from stillroom.refusal import Unreadable
from tests.cli.running import run

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
OLD = Path(__file__).parent / "schemas" / "1.sql"


def entry(body: str) -> Entry:
    return Entry(kind="jar-dropped", version=1, body=body, occurred_at=NOON)


@pytest.fixture
def damaged(file: Path) -> Path:
    """A page in the midst of the file is random, as after a failing disk."""
    with open_records(file) as records:
        records.days.save("hers", "first")
        for n in range(80):
            records.ledger.append("x", [entry(f"{n}" + " jars" * 400)], after=n)
        records.days.save("hers, newer", "second")
    back_up(file, now=NOON)
    body = bytearray(file.read_bytes())
    middle = len(body) // 2 // 4096 * 4096
    body[middle : middle + 4096] = random.Random(1).randbytes(4096)
    file.write_bytes(body)
    return file


def test_a_damaged_record_can_be_read_and_not_written(damaged: Path):
    before = damaged.read_bytes()
    with open_or_only_read(damaged) as records:
        assert "can only be read" in records.only_read
        assert "stillroom restore BACKUP --db FILE --aside" in records.only_read
        assert "Your last copy is" in records.only_read
        assert "stillroom-2026-11-25T12-00-00Z.db" in records.only_read
        assert records.days.current() == "hers, newer"
        with pytest.raises(Unreadable, match="nothing more is written to it"):
            records.days.save("hers, again", "third")
    assert damaged.read_bytes() == before


def test_what_can_still_be_read_is_exported(damaged: Path, tmp_path: Path):
    with pytest.raises(Unreadable, match="not whole, so it was not exported"):
        export(damaged, tmp_path / "out")
    done = export(damaged, tmp_path / "out", damaged=True)
    assert 0 < done.events < 82
    assert done.broken
    lines = (tmp_path / "out" / "events.jsonl").read_text("utf-8").split("\n")[:-1]
    assert len(lines) == done.events


def test_the_check_names_the_last_copy(damaged: Path):
    said = run("check", "--db", str(damaged))
    assert said.code == 1
    assert "stillroom-2026-11-25T12-00-00Z.db" in said.out


def test_a_whole_or_new_record_is_opened_as_ever(file: Path):
    with open_or_only_read(file) as records:
        assert records.only_read == ""
        records.days.save("hers", "first")
    with open_or_only_read(file) as records:
        assert records.days.save("hers, newer", "second") == 2


def test_an_older_file_that_is_damaged_is_left_as_it_is(file: Path):
    plain = sqlite3.connect(file)
    plain.executescript(OLD.read_text("utf-8"))
    with plain:
        for n in range(200):
            plain.execute(
                "INSERT INTO event VALUES (?, 'x', ?, 'k', 1, ?, '', '')",
                (n + 10, n + 1, "jars " * 100),
            )
    plain.close()
    body = bytearray(file.read_bytes())
    middle = len(body) // 2 // 4096 * 4096
    body[middle : middle + 4096] = random.Random(2).randbytes(4096)
    file.write_bytes(body)
    with pytest.raises(Unreadable, match="is damaged"):
        open_or_only_read(file)
    assert file.read_bytes() == bytes(body)


def test_a_newer_or_strange_file_is_refused_as_ever(file: Path, tmp_path: Path):
    open_records(file).close()
    newer = sqlite3.connect(file)
    with newer:
        newer.execute("INSERT INTO migration VALUES (99, 'of the future', 'then')")
    newer.close()
    with pytest.raises(Unreadable, match="newer Stillroom"):
        open_or_only_read(file)
    (tmp_path / "list.txt").write_text("jars in the cellar, a long list of them")
    with pytest.raises(Unreadable, match="is not a database"):
        open_or_only_read(tmp_path / "list.txt")


def test_a_disk_that_fills_up_while_an_older_file_is_brought_up(file: Path):
    """SQLite's own page limit gives the same answer as a full disk."""
    plain = sqlite3.connect(file)
    plain.executescript(OLD.read_text("utf-8"))
    with plain:
        for n in range(200):
            plain.execute(
                "INSERT INTO event VALUES (?, 'x', ?, 'k', 1, ?, '', '')",
                (n + 10, n + 1, "jars " * 20),
            )
    pages = plain.execute("PRAGMA page_count").fetchone()[0]
    dump = list(plain.iterdump())
    plain.close()
    place = place_of(file)
    engine = open_engine(place)

    def limit(dbapi: sqlite3.Connection, _record: object) -> None:
        dbapi.execute(f"PRAGMA max_page_count={pages + 1}").close()

    listening.listen(engine, "connect", limit)
    with (
        pytest.raises(Unreadable, match="disk is full: free some space"),
        told_in_words(place),
    ):
        migrate(engine.execution_options(writes=True))
    engine.dispose()
    plain = sqlite3.connect(file)
    assert list(plain.iterdump()) == dump
    plain.close()
    with open_records(file) as records:  # there is space again
        assert records.ledger.last("x") == 200
    assert check_records(file).whole


def test_a_full_disk_leaves_chain_and_key_as_they_were(file: Path):
    with open_records(file) as records:
        records.ledger.append("x", [entry("kept")], after=0)
        with records._engine.connect() as connection:
            pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
            connection.exec_driver_sql(f"PRAGMA max_page_count={pages}")
        many = [entry("long " * 4000), entry("long " * 4000)]
        with pytest.raises(Unreadable, match="disk is full: free some space"):
            records.ledger.append("x", many, after=1, key="tap")
        assert check_records(file).events == 1
        assert records.ledger.answered("x", "tap") is None
        with records._engine.connect() as connection:
            connection.exec_driver_sql("PRAGMA max_page_count=1000000")
        assert records.ledger.append("x", many, after=1, key="tap") == 3
    assert check_records(file).whole


def test_a_full_disk_of_a_server_is_no_server_out_of_reach():
    psycopg = pytest.importorskip("psycopg")
    full = 'could not extend file "base/16384/16385": No space left on device'
    with (
        pytest.raises(Unreadable, match="disk is full: free some space"),
        told_in_words(place_of("postgresql://keeper@127.0.0.1/farm")),
    ):
        raise OperationalError("INSERT", {}, psycopg.errors.DiskFull(full))
