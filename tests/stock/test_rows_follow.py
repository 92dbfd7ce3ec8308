"""Lots, movements and links follow from the entries: made, compared, made again."""

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.exc import DBAPIError

from stillroom.records.checking import check_records
from stillroom.records.days import Records, open_records
from stillroom.records.engine import open_engine, place_of
from stillroom.records.exporting import export
from stillroom.records.importing import import_from
from stillroom.records.ledger import Ledger
from stillroom.records.lot_tables import KEPT
from stillroom.records.migrations import MIGRATIONS, migrate
from stillroom.records.rows import Rows
from stillroom.stock.codec import from_entry, to_entry
from stillroom.stock.events import Doubt, Held, Taken, Way
from stillroom.stock.fold import fold
from stillroom.stock.handle import FOLLOWING, STREAM, handle, stock_now, stock_of
from stillroom.stock.on_hand import on_hand
from tests.cli.running import run
from tests.stock.busy import busy
from tests.stock.kitchen import MORNING, Farm

SCHEMAS = sorted((Path(__file__).parents[1] / "records" / "schemas").glob("*.sql"))


def written(records: Records, farm: Farm, *, bare: bool = False) -> None:
    """Append all that happened; bare: as before there were tables of lots."""
    for n, event in enumerate(farm.stock.events):
        entry = to_entry(event)
        if bare:
            object.__setattr__(entry, "rows", None)
        records.ledger.append(STREAM, [entry], after=n)


def tables(where: str) -> dict[str, list[tuple[object, ...]]]:
    """Return all rows, without the running numbers of rows."""
    engine = create_engine(place_of(where).url)
    try:
        with engine.connect() as connection:
            return {
                table.name: sorted(
                    tuple(value for name, value in row.items() if name != "id")
                    for row in connection.execute(table.select()).mappings()
                )
                for table in (*KEPT, *_OTHERS)
            }
    finally:
        engine.dispose()


_OTHERS = tuple(
    table for name, table in KEPT[0].metadata.tables.items() if name == "on_hand"
)


def tamper(where: str, *statements: str, free: str = "") -> None:
    """Change rows behind the guards of the table that is named."""
    engine = create_engine(place_of(where).url)
    try:
        with engine.begin() as connection:
            if free and engine.dialect.name == "sqlite":
                for deed in ("update", "delete"):
                    connection.execute(text(f"DROP TRIGGER {free}_no_{deed}"))
            elif free:
                connection.execute(text(f"ALTER TABLE {free} DISABLE TRIGGER ALL"))
            for statement in statements:
                connection.execute(text(statement))
    finally:
        engine.dispose()


def test_made_with_the_entries_or_afterwards_they_are_the_same(
    fresh: Callable[[], str], tmp_path: Path
):
    farm = busy(4, 90)
    at_once, later, imported = fresh(), fresh(), fresh()
    with open_records(at_once) as records:
        written(records, farm)
    with open_records(later) as records:
        written(records, farm, bare=True)
        assert tables(later)["lot"] == []
        assert on_hand(stock_now(records.ledger)) == on_hand(farm.stock)
    export(at_once, tmp_path / "out")
    import_from(tmp_path / "out", imported)
    with open_records(imported) as records:
        stock_now(records.ledger)
    assert tables(at_once) == tables(later) == tables(imported)
    for where in (at_once, later, imported):
        assert check_records(where, following=FOLLOWING).whole


def test_what_is_on_hand_is_the_sum_of_its_movements(database: str):
    farm = busy(5, 90)
    with open_records(database) as records:
        written(records, farm)
        for code in farm.stock.lots:
            there = records.ledger.lots.balance(code, farm.stock.sequence)
            assert there == farm.stock.places(code)
    kept = {(code, at): n for code, at, n in tables(database)["on_hand"]}
    assert kept == {
        (code, at): number
        for code in farm.stock.lots
        for at, number in farm.stock.places(code).items()
    }


@pytest.mark.parametrize("schema", SCHEMAS, ids=lambda path: path.stem)
def test_a_record_of_every_released_schema_is_brought_up(schema: Path, tmp_path: Path):
    file = tmp_path / "farm.db"
    old = sqlite3.connect(file)
    old.executescript(schema.read_text("utf-8"))
    old.close()
    with open_records(file) as records:
        whole = stock_of(records.ledger)
        now = stock_now(records.ledger)
        assert on_hand(now) == on_hand(whole)
        assert now.sequence == whole.sequence
    assert check_records(file, following=FOLLOWING).whole
    if int(schema.stem) >= 2:
        assert len(whole.lots) == 5
        assert {row[1] for row in tables(str(file))["on_hand"]} > {"set aside", "stand"}


def test_a_record_without_the_tables_is_brought_up(database: str):
    """As the second schema had it, on either database, entries and all."""
    farm, place = busy(6, 60), place_of(database)
    engine = open_engine(place)
    migrate(engine.execution_options(writes=True), migrations=MIGRATIONS[:2])
    with Records(engine, Ledger(engine, place), database) as old:
        written(old, farm, bare=True)
    assert not check_records(database, following=FOLLOWING).astray
    with open_records(database) as records:
        assert on_hand(stock_now(records.ledger)) == on_hand(farm.stock)
    health = check_records(database, following=FOLLOWING)
    assert (health.whole, health.number) == (True, MIGRATIONS[-1].number)


CHANGES = [
    (
        "movement",
        "UPDATE movement SET quantity = quantity + 1 WHERE number = 1",
        "number 1: the rows in 'movement'",
    ),
    ("movement", "DELETE FROM movement WHERE number = 2", "number 2"),
    (
        "movement",
        "INSERT INTO movement (number, lot, place, quantity) "
        "SELECT 999, code, 'pantry', 1 FROM lot WHERE number = 1",
        "belong to no entry",
    ),
    ("lot", "UPDATE lot SET what = 'hay' WHERE number = 1", "'lot'"),
    ("link", "DELETE FROM link", "'link'"),
    ("undone", "DELETE FROM undone", "'undone'"),
    ("shared_entry", "DELETE FROM shared_entry", "'shared_entry'"),
    ("mark", "DELETE FROM mark", "'mark'"),
    ("place", "UPDATE place SET number = number + 1", "the place"),
    (
        "",
        "UPDATE on_hand SET quantity = quantity + 1",
        "are kept as on hand, and its movements add up to",
    ),
    ("", "DELETE FROM on_hand", "0 are kept as on hand"),
    ("", "UPDATE derived SET hash = 'x'", "or not as it was"),
]


def test_a_changed_row_is_seen_and_made_again(database: str):
    with open_records(database) as records:
        written(records, busy(0, 90))
    before = tables(database)
    assert all(before[name] for name in before if name != "request")
    for table, statement, said in CHANGES:
        tamper(database, statement, free=table)
        found = run("check", "--db", database)
        assert found.code == 1
        assert said in " ".join(found.out.split()), statement
        assert "stillroom check --rebuild" in found.out
        assert run("check", "--db", database, "--rebuild").code == 0
        assert tables(database) == before
    assert run("check", "--db", database, "--json").json["astray"] == []


def test_the_database_refuses_to_change_them(database: str):
    with open_records(database) as records:
        written(records, busy(0, 90))
        handle(_token(), ledger=records.ledger)
    for table in KEPT:
        name = next(c.name for c in table.columns if c.name != "id")
        for deed in (f"UPDATE {table} SET {name} = {name}", f"DELETE FROM {table}"):
            with pytest.raises(DBAPIError, match="follows from the entries"):
                tamper(database, deed)
    assert check_records(database, following=FOLLOWING).whole


def _token() -> object:
    from stillroom.stock.commands import Receive
    from tests.stock.kitchen import thing

    things = (thing("5 lb sugar, pantry"),)
    return Receive(things=things, at=MORNING, token="a" * 32)


def test_rows_of_another_form_are_made_again(database: str):
    farm = busy(3, 60)
    with open_records(database) as records:
        written(records, farm)
        before = tables(database)
        tamper(database, "UPDATE derived SET form = 0")
        assert on_hand(stock_now(records.ledger)) == on_hand(farm.stock)
    assert tables(database) == before


def test_rows_of_another_record_are_made_again(database: str):
    """A record whose entries were changed by hand: the rows follow what is there."""
    farm = busy(3, 60)
    with open_records(database) as records:
        written(records, farm)
        tamper(database, "UPDATE derived SET hash = 'x', sequence = 3")
        assert on_hand(stock_now(records.ledger)) == on_hand(farm.stock)
    assert check_records(database, following=FOLLOWING).whole


def test_an_entry_whose_rows_cannot_be_written_is_not_written(database: str):
    """Entries and rows are one transaction: none of them, or both."""
    from stillroom.stock.events import Part

    stray = Taken(
        way=Way.EATEN,
        parts=(Part(lot="26M2519", place="pantry", number=1),),
        occurred_at=MORNING,
    )
    with open_records(database) as records:
        written(records, busy(3, 20))
        last = records.ledger.last(STREAM)
        with pytest.raises(DBAPIError):
            records.ledger.append(STREAM, [to_entry(stray)], after=last)
        assert records.ledger.last(STREAM) == last
    assert check_records(database, following=FOLLOWING).whole


def test_a_copy_of_whole_entries_is_kept_though_rows_are_astray(tmp_path: Path):
    file = tmp_path / "farm.db"
    with open_records(file) as records:
        written(records, busy(0, 40))
    tamper(str(file), "DELETE FROM on_hand")
    assert run("backup", "--db", str(file)).code == 0
    (copy,) = (tmp_path / "farm-backups").iterdir()
    again = tmp_path / "again.db"
    assert run("restore", str(copy), "--db", str(again)).code == 0
    assert run("check", "--db", str(again), "--rebuild").code == 0


def test_a_load_held_before_its_lot_was_booked_holds_it():
    """Held on its day, then the lot is added to a stock that is read on demand."""
    farm = Farm()
    plums = farm.add("25 lb plums, cellar")
    day = farm.at.date().isoformat()
    farm.stock.apply(Held(doubt=Doubt.WATER_LOW, day=day, load=2, occurred_at=farm.at))
    assert farm.made("8 half-pints plum jelly, pantry", (plums, "4 lb"), load=2) is None
    last = farm.stock.events[-1]
    with_file = Path(__import__("tempfile").mkdtemp()) / "farm.db"
    with open_records(with_file) as records:
        before = [to_entry(event) for event in farm.stock.events[:-1]]
        records.ledger.append(STREAM, before, after=0)
        now = stock_now(records.ledger)
        now.apply(last)
        assert now.held(farm.last) == farm.stock.held(farm.last) != ()


def test_an_entry_of_every_kind_leads_to_rows():
    farm = busy(7, 150)
    kinds = {event.kind for event in farm.stock.events}
    assert len(kinds) >= 9
    assert all(isinstance(to_entry(e).rows, Rows) for e in farm.stock.events)
    assert fold(map(_there_and_back, farm.stock.events)).events == farm.stock.events


def _there_and_back(event):
    import datetime as dt

    from stillroom.records.ledger import Recorded

    entry = to_entry(event)
    return from_entry(
        Recorded(
            kind=entry.kind,
            version=entry.version,
            body=entry.body,
            occurred_at=entry.occurred_at,
            sequence=1,
            recorded_at=dt.datetime.now(dt.UTC),
        )
    )
