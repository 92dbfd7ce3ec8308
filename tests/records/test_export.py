"""Out as text and in again: the same bytes, or a refusal that names the line."""

import csv
import datetime as dt
import json
import sqlite3
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.records import lot_tables
from stillroom.records.chain import hash_of
from stillroom.records.checking import check_records
from stillroom.records.days import open_records
from stillroom.records.exporting import export
from stillroom.records.importing import import_from
from stillroom.records.ledger import Entry
from stillroom.records.portable import line_of
from stillroom.records.tables import metadata
from stillroom.refusal import Unreadable
from tests.cli.running import run

NOON = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
FILES = ["about.json", "event.schema.json", "events.csv", "events.jsonl"]


def entry(body: str = "{}", kind: str = "jar-dropped") -> Entry:
    return Entry(kind=kind, version=1, body=body, occurred_at=NOON)


@pytest.fixture
def written(file: Path) -> Path:
    """Streams that were written in turn, invented."""
    with open_records(file) as records:
        records.ledger.append("x", [entry('{"n":1}'), entry('{"n":2}')], after=0)
        records.ledger.append("y", [entry('{"says":"=1+1, \\"ja\\"\\n"}')], after=0)
        records.ledger.append("x", [entry('{"n":"\u2028 ü 🫙"}')], after=2, key="tap")
    return file


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_every_table_with_something_to_keep_is_exported():
    """A new table must be thought of here; what follows from events is made again."""
    again = {table.name for table in lot_tables.ALL}
    assert set(metadata.tables) - again == {"event", "head", "migration"}


def test_out_and_in_and_out_again_is_the_same(written: Path, tmp_path: Path):
    done = export(written, tmp_path / "out")
    assert (done.events, done.streams) == (4, 2)
    assert done.fingerprint == check_records(written).fingerprint
    new = tmp_path / "new.db"
    read = import_from(tmp_path / "out", new)
    assert (read.events, read.fingerprint) == (4, done.fingerprint)
    export(new, tmp_path / "again")
    assert bytes_of(tmp_path / "out") == bytes_of(tmp_path / "again")
    assert list(bytes_of(tmp_path / "out")) == FILES
    health = check_records(new)
    assert health.whole
    assert health.fingerprint == done.fingerprint
    with open_records(new) as records, open_records(written) as former:
        assert records.ledger.read("x") == former.ledger.read("x")
        assert records.ledger.append("x", [entry()], after=9, key="tap") == 3
        assert records.ledger.append("y", [entry()], after=1) == 2


def test_lines_table_and_schema_say_the_same(written: Path, tmp_path: Path):
    export(written, tmp_path / "out")
    out = tmp_path / "out"
    schema = json.loads((out / "event.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    lines = [
        json.loads(line)
        for line in (out / "events.jsonl").read_text("utf-8").split("\n")[:-1]
    ]
    for line in lines:
        jsonschema.validate(line, schema)
        assert line["hash"] == hash_of(line)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**lines[0], "sequence": 0}, schema)
    with (out / "events.csv").open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    assert rows == [
        {name: "" if value is None else str(value) for name, value in line.items()}
        for line in lines
    ]


@settings(max_examples=20, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["day", "run/1", "run/2"]),
            st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0")),
            st.datetimes(timezones=st.just(dt.UTC)),
        ),
        max_size=8,
    )
)
def test_whatever_was_written_goes_out_and_in(tmp_path_factory, written):
    folder = tmp_path_factory.mktemp("round")
    with open_records(folder / "a.db") as records:
        for stream, body, at in written:
            one = Entry(kind="k", version=1, body=body, occurred_at=at)
            records.ledger.append(stream, [one], after=records.ledger.last(stream))
    export(folder / "a.db", folder / "a")
    import_from(folder / "a", folder / "b.db")
    export(folder / "b.db", folder / "b")
    assert bytes_of(folder / "a") == bytes_of(folder / "b")


def _swap(lines: list[str]) -> list[str]:
    first, second = json.loads(lines[0]), json.loads(lines[1])
    first["body"], second["body"] = second["body"], first["body"]
    return [line_of(first), line_of(second), *lines[2:]]


def _rechain(lines: list[str]) -> list[str]:
    last = json.loads(lines[3])
    last["body"] = "{}"
    last["hash"] = hash_of(last)
    return [*lines[:3], line_of(last)]


def _second_key(lines: list[str]) -> list[str]:
    other = json.loads(lines[2])
    other["key"] = "tap"
    other["hash"] = hash_of(other)
    return [*lines[:2], line_of(other), lines[3]]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda ls: [ls[0].replace("jar-dropped", "jar-filled"), *ls[1:]], "line 1, "),
        (_swap, r"line 1, .*not as it was written.*does not chain, so nothing"),
        (lambda ls: ls[1:], r"line 1, .*x goes from number 0 to 2"),
        (lambda ls: [ls[0], *ls[2:]], r"line 3, .*x goes from number 1 to 3"),
        (lambda ls: ls[:-1], r"has 2 entries of x, .*about\.json says 3"),
        (lambda ls: [*ls, ls[-1]], r"line 5, .*x goes from number 3 to 3: .* doubled"),
        (lambda ls: [*ls[:2], ls[3]], r"has 0 entries of y, .* says 1"),
        (_rechain, r"say different things of how x ends"),
        (_second_key, r"one key to two entries"),
        (lambda ls: [*ls, "\n"], r"line 5, .*no event that was exported"),
        (lambda ls: ["[]\n"], r"line 1, .*no event that was exported: Expected"),
        (lambda ls: ["{}\n"], r"line 1, .*missing required field"),
        (
            lambda ls: [ls[0].replace('"sequence":1', '"sequence":"1"')],
            r"line 1, .*Expected `int`, got `str`",
        ),
        (
            lambda ls: [ls[0].replace('"version":1', '"version":1,"more":2')],
            r"line 1, .*unknown field `more`",
        ),
        (lambda ls: ["\x00\x01 no text at all"], r"line 1, .*no event"),
        (lambda ls: [], r"has 0 entries of x"),
    ],
)
def test_what_does_not_chain_is_not_imported(
    written: Path,
    tmp_path: Path,
    change: Callable[[list[str]], list[str]],
    said: str,
):
    export(written, tmp_path / "out")
    file = tmp_path / "out" / "events.jsonl"
    lines = file.read_text("utf-8").split("\n")[:-1]
    file.write_text("".join(change([line + "\n" for line in lines])), "utf-8")
    with pytest.raises(Unreadable, match=f"(?s){said}"):
        import_from(tmp_path / "out", tmp_path / "new.db")
    assert not (tmp_path / "new.db").exists()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["out", "stillroom.db"]


def test_a_time_that_is_none_is_refused_although_it_chains(
    written: Path, tmp_path: Path
):
    export(written, tmp_path / "out")
    file = tmp_path / "out" / "events.jsonl"
    line = json.loads(file.read_text("utf-8").split("\n")[0])
    line["occurred_at"] = "2026-02-31T12:00:00.000000+00:00"
    line["hash"] = hash_of(line)
    file.write_text(line_of(line), "utf-8")
    with pytest.raises(Unreadable, match=r"line 1, .*day is out of range"):
        import_from(tmp_path / "out", tmp_path / "new.db")


def test_nothing_is_imported_over_entries(written: Path, tmp_path: Path):
    export(written, tmp_path / "out")
    before = check_records(written)
    with pytest.raises(Unreadable, match="holds 4 entries already and was left"):
        import_from(tmp_path / "out", written)
    assert check_records(written) == before


def test_a_file_that_was_there_empty_takes_an_import(written: Path, tmp_path: Path):
    export(written, tmp_path / "out")
    new = tmp_path / "new.db"
    new.touch()
    assert import_from(tmp_path / "out", new).events == 4


def test_an_export_of_a_later_form_is_refused(written: Path, tmp_path: Path):
    export(written, tmp_path / "out")
    about = tmp_path / "out" / "about.json"
    about.write_text(about.read_text("utf-8").replace('"format": 1', '"format": 2'))
    with pytest.raises(Unreadable, match=r"is of format 2, this Stillroom reads 1"):
        import_from(tmp_path / "out", tmp_path / "new.db")
    about.write_text("jars")
    with pytest.raises(Unreadable, match=r"about\.json is not as it was exported"):
        import_from(tmp_path / "out", tmp_path / "new.db")


def test_a_folder_that_is_there_is_left_alone(written: Path, tmp_path: Path):
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "hers.txt").write_text("hers")
    with pytest.raises(Unreadable, match="is there already and was left as it is"):
        export(written, tmp_path / "out")
    with pytest.raises(Unreadable, match="is there already"):
        export(written, written)
    with pytest.raises(Unreadable, match=r"cannot be written \(No such file"):
        export(written, tmp_path / "no" / "where")
    assert [p.name for p in (tmp_path / "out").iterdir()] == ["hers.txt"]


def test_a_record_that_is_not_whole_is_exported_only_when_asked(
    written: Path, tmp_path: Path
):
    plain = sqlite3.connect(written)
    with plain:
        plain.execute("DROP TRIGGER event_no_update")
        plain.execute("UPDATE event SET body = '{}' WHERE stream = 'y'")
    plain.close()
    with pytest.raises(Unreadable, match=r"not whole.*y, number 1: .* --damaged"):
        export(written, tmp_path / "out")
    assert not (tmp_path / "out").exists()
    done = export(written, tmp_path / "out", damaged=True)
    assert done.events == 4
    assert done.broken[0].startswith("y, number 1")
    with pytest.raises(Unreadable, match=r"line 3, .*does not chain"):
        import_from(tmp_path / "out", tmp_path / "new.db")


def test_an_older_file_is_asked_to_be_opened_first(file: Path, tmp_path: Path):
    plain = sqlite3.connect(file)
    schema = Path(__file__).parent / "schemas" / "1.sql"
    plain.executescript(schema.read_text("utf-8"))
    plain.close()
    with pytest.raises(Unreadable, match="by an earlier Stillroom: open it once"):
        export(file, tmp_path / "out")
    file.write_bytes(b"")
    with pytest.raises(Unreadable, match="no record in it to export"):
        export(file, tmp_path / "out")


def test_the_commands(written: Path, tmp_path: Path):
    out, new = str(tmp_path / "out"), str(tmp_path / "new.db")
    said = run("export", "--db", str(written), "--out", out)
    assert (said.code, said.err) == (0, "")
    assert "Wrote 4 entries" in said.out
    said = run("import", out, "--db", new, "--json")
    assert said.code == 0
    assert said.json["fingerprint"] == check_records(written).fingerprint
    assert run("import", out, "--db", new).code == 2
    assert run("import", str(tmp_path), "--db", str(tmp_path / "no.db")).code == 2
    assert not (tmp_path / "no.db").exists()
    assert run("export", "--db", str(tmp_path / "none.db"), "--out", out).code == 2
    assert run("export", "--db", str(written)).code == 2
    said = run(
        "export", "--db", new, "--out", str(tmp_path / "2"), "--damaged", "--json"
    )
    assert said.json["broken"] == []
