"""The same code against a real PostgreSQL; skipped, with the reason, where none is."""

import datetime as dt
import threading
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.records.engine import open_engine, place_of
from stillroom.records.exporting import export
from stillroom.records.importing import import_from
from stillroom.records.ledger import Entry, KeyTaken, MovedOn
from stillroom.records.migrations import MIGRATIONS, migrate
from stillroom.refusal import Unreadable
from tests.cli.running import run
from tests.conftest import empty_database
from tests.records.postgres_server import missing

pytestmark = pytest.mark.skipif(bool(missing()), reason=missing())
NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)


def entry(body: str = "{}") -> Entry:
    return Entry(kind="jar-dropped", version=1, body=body, occurred_at=NOON)


@pytest.fixture
def url(address: str) -> str:
    return empty_database(address)


def tamper(url: str, *statements: str) -> None:
    engine = open_engine(place_of(url))
    try:
        with engine.begin() as connection:
            for statement in statements:
                connection.execute(text(statement))
    finally:
        engine.dispose()


def test_what_is_written_is_read_chained_and_checked(url: str):
    with open_records(url) as records:
        assert records.ledger.append("x", [entry("1"), entry("2")], after=0) == 2
        assert records.ledger.append("x", [entry("3")], after=2, key="tap") == 3
        assert records.ledger.append("x", [entry("3")], after=2, key="tap") == 3
        assert [e.body for e in records.ledger.read("x")] == ["1", "2", "3"]
        with pytest.raises(MovedOn):
            records.ledger.append("x", [entry("4")], after=2)
        with pytest.raises(KeyTaken):
            records.ledger.append("y", [entry("4")], after=0, key="tap")
    health = check_records(url)
    assert health.whole
    assert (health.events, health.streams) == (3, 1)


def test_writers_side_by_side_lose_nothing_and_chain(url: str):
    done: list[str] = []
    with open_records(url) as records:

        def write(name: str) -> None:
            for n in range(20):
                while True:
                    last = records.ledger.last("x")
                    try:
                        records.ledger.append("x", [entry(f"{name}{n}")], after=last)
                    except MovedOn:
                        continue
                    done.append(f"{name}{n}")
                    break

        hands = [threading.Thread(target=write, args=(name,)) for name in "abcd"]
        for hand in hands:
            hand.start()
        for hand in hands:
            hand.join()
        found = records.ledger.read("x")
    assert [e.sequence for e in found] == list(range(1, 81))
    assert sorted(e.body for e in found) == sorted(done)
    assert check_records(url).whole


def test_one_key_from_many_hands_at_once_is_written_once(url: str):
    """Each on a stream not yet begun, where there is no row to lock."""
    with open_records(url) as records:
        for round_ in range(10):
            answers: list[int] = []
            start = threading.Barrier(4)

            def write(
                stream: str = f"run/{round_}",
                answers: list[int] = answers,
                start: threading.Barrier = start,
            ) -> None:
                start.wait()
                answers.append(
                    records.ledger.append(
                        stream, [entry("1"), entry("2")], after=0, key=stream
                    )
                )

            hands = [threading.Thread(target=write) for _ in range(4)]
            for hand in hands:
                hand.start()
            for hand in hands:
                hand.join()
            assert answers == [2, 2, 2, 2]
            assert len(records.ledger.read(f"run/{round_}")) == 2
    assert check_records(url).whole


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE event SET body = 'other'",
        "DELETE FROM event",
        "TRUNCATE event",
        "DELETE FROM head",
        "TRUNCATE head",
        "UPDATE head SET sequence = 1",
    ],
)
def test_the_database_refuses_to_forget(url: str, statement: str):
    with open_records(url) as records:
        records.ledger.append("x", [entry("1"), entry("2")], after=0)
    with pytest.raises(DBAPIError, match=r"append-only|goes forward only"):
        tamper(url, statement)
    assert check_records(url).whole


def test_a_changed_and_a_missing_row_are_seen(url: str):
    with open_records(url) as records:
        for n in range(4):
            records.ledger.append("x", [entry(f"{n}")], after=n)
    tamper(
        url,
        "ALTER TABLE event DISABLE TRIGGER ALL",
        "UPDATE event SET body = 'other' WHERE sequence = 2",
        "DELETE FROM event WHERE sequence = 4",
    )
    said = run("check", "--db", url, "--json")
    assert said.code == 1
    assert [found["sequence"] for found in said.json["broken"]] == [2, 4]


def test_events_of_the_first_schema_are_chained(url: str):
    engine = open_engine(place_of(url))
    migrate(engine, migrations=MIGRATIONS[:1])
    tamper(
        url,
        *(
            "INSERT INTO event (stream, sequence, kind, version, body, occurred_at, "
            f"recorded_at) VALUES ('{stream}', {n}, 'k', 1, '{{}}', "
            "'2026-11-25T12:00:00.000000+00:00', '2026-11-25T12:00:00.000000+00:00')"
            for n in (1, 2)
            for stream in "xy"
        ),
    )
    engine.dispose()
    assert not check_records(url).chained
    with open_records(url) as records:
        assert records.ledger.append("x", [entry()], after=2) == 3
    health = check_records(url)
    assert health.whole
    assert (health.chained, health.events) == (True, 5)


def test_out_of_one_database_into_the_other_is_the_same(
    address: str, url: str, tmp_path: Path
):
    file = tmp_path / "stillroom.db"
    with open_records(file) as records:
        records.ledger.append("x", [entry('{"n":1}')], after=0)
        records.ledger.append("y", [entry('{"says":"ü\u2028 🫙"}')], after=0, key="k")
        records.ledger.append("x", [entry('{"n":2}')], after=1)
    export(file, tmp_path / "a")
    import_from(tmp_path / "a", url)
    export(url, tmp_path / "b")
    import_from(tmp_path / "b", tmp_path / "again.db")
    export(tmp_path / "again.db", tmp_path / "c")
    import_from(tmp_path / "c", empty_database(address))
    for name in ("events.jsonl", "events.csv", "about.json", "event.schema.json"):
        assert (tmp_path / "a" / name).read_bytes() == (
            tmp_path / "b" / name
        ).read_bytes()
        assert (tmp_path / "a" / name).read_bytes() == (
            tmp_path / "c" / name
        ).read_bytes()
    with pytest.raises(Unreadable, match="holds 3 entries already"):
        import_from(tmp_path / "a", url)


def test_programs_that_open_a_fresh_database_at_once_make_its_tables_once(url: str):
    start = threading.Barrier(4)
    done: list[int] = []

    def begin() -> None:
        start.wait()
        with open_records(url) as records:
            done.append(records.ledger.last("x"))

    hands = [threading.Thread(target=begin) for _ in range(4)]
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join()
    assert done == [0, 0, 0, 0]
    assert check_records(url).number == MIGRATIONS[-1].number


def test_nothing_is_checked_where_nothing_is(url: str):
    with pytest.raises(Unreadable, match="is empty"):
        check_records(url)
