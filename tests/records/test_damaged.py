"""A damaged record is read and not written; a full disk loses nothing."""

import datetime as dt
import json
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


def test_nothing_is_booked_in_a_broken_file_at_the_terminal(damaged: Path):
    """It was said to be booked, and the way out is to put that file aside."""
    before = damaged.read_bytes()
    record = ("--db", str(damaged))
    said = run("stock", "add", "2 cups plum juice, pantry", "--yes", *record)
    assert said.code == 2
    assert "nothing more is written to it" in said.err
    assert "Booked" not in said.out
    looked = run("stock", *record)
    assert looked.code == 0
    assert "is damaged and can only be read" in looked.err
    assert damaged.read_bytes() == before


def test_what_can_still_be_read_is_exported(damaged: Path, tmp_path: Path):
    with pytest.raises(Unreadable, match="not whole, so it was not exported"):
        export(damaged, tmp_path / "out")
    done = export(damaged, tmp_path / "out", damaged=True)
    assert 0 < done.events < 82
    assert done.broken[0].endswith("cannot be read (database disk image is malformed)")
    lines = (tmp_path / "out" / "events.jsonl").read_text("utf-8").split("\n")[:-1]
    assert len(lines) == done.events


@pytest.mark.parametrize("seed", range(12))
def test_one_damaged_page_takes_the_entries_that_are_on_it_and_no_more(
    file: Path, tmp_path: Path, seed: int
):
    draw = random.Random(seed)
    with open_records(file) as records:
        for n in range(400):
            records.ledger.append("x", [entry(f"{n} jars" * 40)], after=n)
    written = {body_of(line) for line in lines_of(file, tmp_path / "whole")}
    assert len(written) == 400
    body = bytearray(file.read_bytes())
    pages = len(body) // 4096  # the first ones tell what tables there are
    page = draw.randrange(pages // 4, pages) * 4096
    body[page : page + 4096] = draw.randbytes(4096)
    file.write_bytes(body)
    left = lines_of(file, tmp_path / "left")
    bodies = {body_of(line) for line in left}
    assert bodies <= written
    assert len(bodies) == len(left) > 300


def test_entries_are_exported_where_nobody_knows_where_they_end(
    file: Path, tmp_path: Path
):
    with open_records(file) as records:
        for n in range(30):
            records.ledger.append("x", [entry(f"{n} jars")], after=n)
    asked = sqlite3.connect(file)
    (root,) = asked.execute(
        "SELECT rootpage FROM sqlite_master WHERE name = 'head'"
    ).fetchone()
    asked.close()
    body = bytearray(file.read_bytes())
    body[(root - 1) * 4096 : root * 4096] = random.Random(1).randbytes(4096)
    file.write_bytes(body)
    done = export(file, tmp_path / "out", damaged=True)
    assert done.events == 30
    assert [b.partition(" (")[0] for b in done.broken] == [
        "where the streams end cannot be read"
    ]


def lines_of(file: Path, out: Path) -> list[str]:
    """The lines of what can be exported."""
    export(file, out, damaged=True)
    return (out / "events.jsonl").read_text("utf-8").split("\n")[:-1]


def body_of(line: str) -> str:
    return str(json.loads(line)["body"])


def test_the_check_names_the_last_copy(damaged: Path):
    said = run("check", "--db", str(damaged))
    assert said.code == 1
    assert "stillroom-2026-11-25T12-00-00Z.db" in said.out


def test_the_check_of_a_damaged_file_does_not_say_that_none_is_missing(damaged: Path):
    said = run("check", "--db", str(damaged)).out
    assert "could be read; of what is behind, nothing is known." in said
    assert "none is missing" not in said
    assert "on hand" not in said


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
