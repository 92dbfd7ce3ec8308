"""What is not as it was written is seen and said; nothing is changed by looking."""

import datetime as dt
import random
import sqlite3
from pathlib import Path

import pytest

from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.records.engine import open_to_read, place_of
from stillroom.records.ledger import Entry
from stillroom.refusal import Unreadable
from tests.cli.running import run

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
OLD = Path(__file__).parent / "schemas" / "1.sql"


def entry(body: str = "{}") -> Entry:
    return Entry(kind="jar-dropped", version=1, body=body, occurred_at=NOON)


@pytest.fixture
def written(file: Path) -> Path:
    """Two streams of four, invented."""
    with open_records(file) as records:
        for stream in ("x", "y"):
            for n in range(4):
                records.ledger.append(stream, [entry(f"{n}")], after=n)
    return file


def tamper(file: Path, *statements: str) -> None:
    """Do what someone with the file and a tool can do: guards off first."""
    plain = sqlite3.connect(file)
    found = plain.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
    with plain:
        for (name,) in found.fetchall():
            plain.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            plain.execute(statement)
    plain.close()


def test_a_whole_record_is_called_whole(written: Path):
    health = check_records(written)
    assert health.whole
    assert (health.events, health.streams) == (8, 2)
    assert "8 entries in 2 streams: none is missing, none was changed." in (
        health.sentences()
    )


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            "UPDATE event SET body = '7' WHERE stream = 'x' AND sequence = 2",
            ["x, number 2: it is not as it was written"],
        ),
        (
            "UPDATE event SET occurred_at = recorded_at WHERE id = 5",
            ["y, number 1: it is not as it was written"],
        ),
        (
            "DELETE FROM event WHERE stream = 'x' AND sequence IN (2, 3)",
            ["x, number 4: numbers 2 to 3 are missing before it"],
        ),
        (
            "DELETE FROM event WHERE stream = 'y' AND sequence > 2",
            ["y, number 4: the stream went up to here, but its last entry is 2"],
        ),
        (
            "DELETE FROM event WHERE stream = 'y'",
            ["y, number 4: the whole stream is missing"],
        ),
        (
            "DELETE FROM head WHERE stream = 'x'",
            ["x, number 4: the stream is known to end otherwise, at 0"],
        ),
        (
            "UPDATE event SET stream = 'z' WHERE stream = 'y'",
            ["y, number 4: the whole stream is missing", "z, number 1: it is not as"],
        ),
        (
            "UPDATE event SET body = CASE sequence WHEN 2 THEN '2' ELSE '1' END "
            "WHERE stream = 'x' AND sequence IN (2, 3)",
            ["x, number 2: it is not", "x, number 3: it is not"],
        ),
    ],
)
def test_a_changed_swapped_or_missing_row_is_said(
    written: Path, statement: str, said: list[str]
):
    tamper(written, statement)
    health = check_records(written)
    assert not health.whole
    told = [str(found) for found in health.broken]
    for words in said:
        assert any(line.startswith(words) for line in told), told
    assert "restore your last copy" in health.sentences()[-1]


def test_two_records_are_told_apart_by_their_fingerprint(written: Path):
    before = check_records(written).fingerprint
    assert check_records(written).fingerprint == before
    with open_records(written) as records:
        records.ledger.append("x", [entry()], after=4)
    assert check_records(written).fingerprint != before


def test_a_row_that_the_index_does_not_know_is_said(written: Path):
    """The database's own check is asked too: here an index that lost its rows."""
    plain = sqlite3.connect(written, isolation_level=None)
    plain.execute("PRAGMA writable_schema=ON")
    plain.execute(
        "UPDATE sqlite_master SET sql = 'CREATE UNIQUE INDEX event_one_per_key "
        "ON event (kind)' WHERE name = 'event_one_per_key'"
    )
    plain.close()
    health = check_records(written)
    assert health.integrity
    assert health.sentences()[0].startswith("Its pages or keys are damaged: ")


def test_a_damaged_page_is_said_and_the_rest_is_still_read(file: Path):
    with open_records(file) as records:
        for n in range(60):
            records.ledger.append("x", [entry("jars " * 400)], after=n)
    damaged = bytearray(file.read_bytes())
    middle = len(damaged) // 2 // 4096 * 4096
    damaged[middle : middle + 4096] = random.Random(1).randbytes(4096)
    file.write_bytes(damaged)
    health = check_records(file)
    assert not health.whole
    assert health.integrity
    assert file.read_bytes() == bytes(damaged)


def test_what_reads_cannot_write(written: Path):
    engine = open_to_read(place_of(written))
    with (
        pytest.raises(Exception, match="readonly"),
        engine.connect() as connection,
    ):
        connection.exec_driver_sql("INSERT INTO head VALUES ('z', 1, '')")
    engine.dispose()


@pytest.mark.parametrize("writable", [True, False])
def test_looking_leaves_nothing_behind(
    written: Path, writable: bool, monkeypatch: pytest.MonkeyPatch
):
    """Also where nothing may be written, as on a stick that is locked."""
    before = written.read_bytes()
    monkeypatch.setattr("os.access", lambda *_: writable)
    assert check_records(written).whole
    assert [path.name for path in written.parent.iterdir()] == [written.name]
    assert written.read_bytes() == before


def test_an_older_file_is_checked_as_it_is(file: Path):
    plain = sqlite3.connect(file)
    plain.executescript(OLD.read_text("utf-8"))
    plain.close()
    before = file.read_bytes()
    health = check_records(file)
    assert health.whole
    assert not health.chained
    assert "not chained yet" in health.sentences()[1]
    assert file.read_bytes() == before
    tamper(file, "DELETE FROM event WHERE stream = 'day' AND sequence = 1")
    assert [str(found) for found in check_records(file).broken] == [
        "day, number 2: number 1 is missing before it"
    ]


def test_a_name_with_the_signs_of_an_address_is_a_name(tmp_path: Path):
    odd = tmp_path / "jam ?mode=rw#50%.db"
    with open_records(odd) as records:
        records.ledger.append("x", [entry()], after=0)
    assert check_records(odd).events == 1
    assert {path.name for path in tmp_path.iterdir()} >= {odd.name}


def test_an_empty_file_holds_no_record(file: Path):
    file.touch()
    with pytest.raises(Unreadable, match="is empty: there is no record in it"):
        check_records(file)
    assert file.read_bytes() == b""


def test_the_command_says_it_in_words_and_by_its_code(written: Path):
    said = run("check", "--db", str(written))
    assert (said.code, said.err) == (0, "")
    assert "stillroom.db: whole." in said.out
    tamper(written, "UPDATE event SET body = '7' WHERE id = 1")
    said = run("check", "--db", str(written))
    assert said.code == 1
    assert "NOT whole" in said.out
    assert "x, number 1: it is not as it was written" in said.out
    said = run("check", "--db", str(written), "--json")
    assert said.code == 1
    assert said.json["whole"] is False
    assert said.json["broken"] == [
        {"stream": "x", "sequence": 1, "what": "it is not as it was written"}
    ]


@pytest.mark.parametrize("what", ["folder", "text", "nothing"])
def test_the_command_refuses_nonsense(tmp_path: Path, what: str):
    place = tmp_path / "x"
    if what == "folder":
        place.mkdir()
    elif what == "text":
        place.write_text("jars in the cellar, a long list of them")
    said = run("check", "--db", str(place))
    assert said.code == 2
    assert said.err.startswith(str(place))
    assert said.out == ""


def test_a_database_of_a_newer_stillroom_is_not_checked(file: Path):
    open_records(file).close()
    newer = sqlite3.connect(file)
    with newer:
        newer.execute("INSERT INTO migration VALUES (99, 'of the future', 'then')")
    newer.close()
    said = run("check", "--db", str(file))
    assert said.code == 2
    assert "newer Stillroom" in said.err
