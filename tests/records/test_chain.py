"""Each event carries the hash of the one before: what is not as written is seen."""

import datetime as dt
import sqlite3
from pathlib import Path

import pytest

from stillroom.records.chain import FIRST, HASHED, Follow, chained, hash_of
from stillroom.records.days import Records, open_records
from stillroom.records.engine import make_file, open_engine, place_of
from stillroom.records.ledger import Entry, KeyTaken, MovedOn
from stillroom.records.migrations import MIGRATIONS, Migration, migrate
from stillroom.refusal import Unreadable

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
SCHEMAS = sorted(
    (Path(__file__).parent / "schemas").glob("*.sql"), key=lambda path: int(path.stem)
)


def entry(body: str = "{}") -> Entry:
    return Entry(kind="jar-dropped", version=1, body=body, occurred_at=NOON)


def rows_of(file: Path) -> list[dict[str, object]]:
    plain = sqlite3.connect(file)
    plain.row_factory = sqlite3.Row
    found = [dict(r) for r in plain.execute("SELECT * FROM event ORDER BY id")]
    plain.close()
    return found


def follow(rows: list[dict[str, object]]) -> list[str]:
    follow = Follow("x")
    for row in rows:
        follow.step(row)
    follow.end(3, str(_three()[-1]["hash"]))
    return [str(found) for found in follow.broken]


def _three() -> list[dict[str, object]]:
    plain = dict.fromkeys(HASHED, "") | {"stream": "x", "version": 1, "key": None}
    return list(
        chained(({**plain, "sequence": n, "body": f"{n}"} for n in (1, 2, 3)), FIRST)
    )


def test_a_whole_stream_is_whole():
    assert follow(_three()) == []


@pytest.mark.parametrize("name", [n for n in HASHED if n != "previous_hash"])
def test_a_change_of_any_column_is_seen(name: str):
    rows = _three()
    rows[1][name] = 7 if name in ("sequence", "version") else "other"
    assert any("number 2: it is not as it was" in s for s in follow(rows)) or (
        name == "sequence"
        and follow(rows)[0].startswith("x, number 7: numbers 2 to 6 are missing")
    )


def test_a_change_whose_own_hash_was_mended_is_seen_at_the_next():
    rows = _three()
    rows[1]["body"] = "other"
    rows[1]["hash"] = hash_of(rows[1])
    assert follow(rows) == [
        "x, number 3: it does not follow on the one before: "
        "that one was changed or swapped"
    ]


def test_a_change_mended_up_to_the_end_is_seen_at_the_end():
    rows = _three()
    rows[1]["body"] = "other"
    mended = [rows[0], *chained(rows[1:], str(rows[0]["hash"]))]
    assert follow(mended) == ["x, number 3: the stream is known to end otherwise, at 3"]


def test_two_bodies_swapped_are_seen():
    rows = _three()
    rows[1]["body"], rows[2]["body"] = rows[2]["body"], rows[1]["body"]
    assert len(follow(rows)) == 2


@pytest.mark.parametrize(
    ("gone", "said"),
    [
        (0, "number 1 is missing before it"),
        (1, "number 2 is missing before it"),
        (2, "the stream went up to here, but its last entry is 2"),
    ],
)
def test_a_missing_row_is_seen(gone: int, said: str):
    rows = _three()
    del rows[gone]
    assert said in follow(rows)[0]


def test_text_cannot_slip_from_one_column_into_the_next():
    row = _three()[0]
    assert hash_of({**row, "kind": "ab", "body": "c"}) != hash_of(
        {**row, "kind": "a", "body": "bc"}
    )


def test_what_is_appended_is_chained(records: Records, file: Path):
    records.ledger.append("x", [entry("1"), entry("2")], after=0)
    records.ledger.append("y", [entry("1")], after=0)
    records.ledger.append("x", [entry("3")], after=2, key="tap")
    rows = [row for row in rows_of(file) if row["stream"] == "x"]
    assert rows[0]["previous_hash"] == FIRST
    assert [r["previous_hash"] for r in rows[1:]] == [r["hash"] for r in rows[:-1]]
    assert all(row["hash"] == hash_of(row) for row in rows)
    assert records.ledger.read("x")[-1].hash == rows[-1]["hash"]


def made(file: Path, schema: Path) -> Path:
    plain = sqlite3.connect(file)
    plain.executescript(schema.read_text("utf-8"))
    plain.close()
    return file


def test_there_is_a_schema_with_data_of_each_released_number():
    assert [int(path.stem) for path in SCHEMAS] == list(range(1, len(SCHEMAS) + 1))
    assert SCHEMAS


@pytest.mark.parametrize("schema", SCHEMAS, ids=lambda path: path.stem)
def test_an_older_file_is_brought_up_and_chained(file: Path, schema: Path):
    before = rows_of(made(file, schema))
    with open_records(file) as records:
        assert [r.text for r in records.days.revisions()][-1].startswith("name = ")
        after = rows_of(file)
        assert [{n: r[n] for n in before[0]} for r in after] == before
        assert records.ledger.append("day", [entry()], after=2) == 3
        assert records.ledger.append("run/2026-11-25", [entry()], after=3) == 4
    for stream in ("day", "run/2026-11-25"):
        walk = Follow(stream)
        for row in rows_of(file):
            if row["stream"] == stream:
                walk.step(row)
        assert walk.broken == []
    plain = sqlite3.connect(file)
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        plain.execute("UPDATE event SET body = 'other'")
    plain.close()


def test_a_chain_half_made_leaves_the_older_file_as_it_was(file: Path):
    made(file, SCHEMAS[0])
    make_file(file)
    engine = open_engine(place_of(file))

    def breaks(connection: object) -> None:
        MIGRATIONS[1].change(connection)  # type: ignore[arg-type]
        raise RuntimeError("the power went")

    with pytest.raises(RuntimeError, match="the power went"):
        migrate(
            engine.execution_options(writes=True),
            migrations=(MIGRATIONS[0], Migration(2, "breaks", breaks)),
        )
    engine.dispose()
    plain = sqlite3.connect(file)
    dump = "\n".join(plain.iterdump())
    plain.close()
    assert dump in SCHEMAS[0].read_text("utf-8")


def test_a_retry_is_answered_as_the_first_time(records: Records):
    ledger = records.ledger
    assert ledger.append("x", [entry("1"), entry("2")], after=0, key="tap") == 2
    ledger.append("x", [entry("3")], after=2)
    assert ledger.append("x", [entry("1"), entry("2")], after=0, key="tap") == 2
    assert ledger.append("x", [entry("1"), entry("2")], after=3, key="tap") == 2
    assert [e.body for e in ledger.read("x")] == ["1", "2", "3"]
    assert ledger.answered("x", "tap") == 2
    assert ledger.answered("x", "other") is None


def test_a_refused_append_leaves_no_key(records: Records):
    records.ledger.append("x", [entry("1")], after=0)
    with pytest.raises(MovedOn):
        records.ledger.append("x", [entry("2")], after=0, key="tap")
    assert records.ledger.append("x", [entry("2")], after=1, key="tap") == 2


def test_a_key_of_another_stream_is_refused(records: Records):
    records.ledger.append("x", [entry("1")], after=0, key="tap")
    with pytest.raises(KeyTaken, match=r"'tap' of this entry to y was used for x"):
        records.ledger.append("y", [entry("1")], after=0, key="tap")
    assert records.ledger.read("y") == ()


@pytest.mark.parametrize("key", ["", "k" * 201])
def test_a_key_empty_or_too_long_is_refused(records: Records, key: str):
    with pytest.raises(ValueError, match="1 to 200 characters"):
        records.ledger.append("x", [entry()], after=0, key=key)


def test_nothing_is_put_behind_a_missing_last_entry(records: Records, file: Path):
    records.ledger.append("x", [entry("1"), entry("2")], after=0)
    plain = sqlite3.connect(file)
    with plain:
        plain.execute("DROP TRIGGER event_no_delete")
        plain.execute("DELETE FROM event WHERE sequence = 2")
    plain.close()
    with pytest.raises(Unreadable, match=r"x was known to go up to number 2, .* is 1"):
        records.ledger.append("x", [entry("3")], after=1)
    assert len(records.ledger.read("x")) == 1


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM head",
        "UPDATE head SET sequence = 1",
        "UPDATE head SET stream = 'y', sequence = 9",
        "REPLACE INTO head VALUES ('x', 1, '')",
    ],
)
def test_where_a_stream_ends_goes_forward_only(
    records: Records, file: Path, statement: str
):
    records.ledger.append("x", [entry("1"), entry("2")], after=0)
    plain = sqlite3.connect(file)
    with pytest.raises(sqlite3.IntegrityError, match="goes forward only"):
        plain.execute(statement)
    plain.close()


def test_another_program_cannot_replace_by_key(records: Records, file: Path):
    records.ledger.append("x", [entry("1")], after=0, key="tap")
    plain = sqlite3.connect(file)
    with pytest.raises(sqlite3.IntegrityError, match="that key is taken"):
        plain.execute(
            "REPLACE INTO event (stream, sequence, kind, version, body, occurred_at, "
            "recorded_at, key) VALUES ('z', 1, 'k', 1, 'b', '', '', 'tap')"
        )
    plain.close()
