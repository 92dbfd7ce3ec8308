"""Do lots, movements and links follow from the entries? Read, compared, told."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Any

from sqlalchemy import Column, Connection, Table, func, or_, select

from stillroom.records.following import Following, read_on, sums
from stillroom.records.lot_tables import (
    derived,
    link,
    lot,
    mark,
    movement,
    on_hand,
    place,
    request,
    shared_entry,
    undone,
)
from stillroom.records.rows import Rows, by_table
from stillroom.records.tables import event

_NUMBER = {
    table: table.c.by if table is undone else table.c.number
    for table in (lot, movement, link, mark, shared_entry, undone, request)
}
_OWN = ("id",)
"""Columns that no entry leads to."""


def left_otherwise(connection: Connection) -> Iterator[str]:
    """Say where what is on hand is not the sum of the movements, with the figures."""
    book = {(r.lot, r.place): r.quantity for r in connection.execute(select(on_hand))}
    moved = {(r.lot, r.place): int(r.quantity) for r in connection.execute(sums())}
    for key in sorted(book.keys() | moved.keys()):
        if book.get(key) != moved.get(key):
            code, where = key
            yield (
                f"lot {code} at {where}: {book.get(key, 0)} are kept as on hand, "
                f"and its movements add up to {moved.get(key, 0)}"
            )


def rests_otherwise(connection: Connection) -> Iterator[str]:
    """Say where the rows rest on an entry that is not there as it was."""
    for row in connection.execute(select(derived)):
        found = connection.execute(
            select(event.c.hash).where(
                event.c.stream == row.stream, event.c.sequence == row.sequence
            )
        ).scalar()
        if found != row.hash:
            yield (
                f"lots and movements of {row.stream} follow number {row.sequence}, "
                "which is not there, or not as it was"
            )


def follow_otherwise(connection: Connection, following: Following) -> Iterator[str]:
    """Say which entries lead to other rows than those that are there."""
    stream = following.stream
    row = connection.execute(
        select(derived).where(derived.c.stream == stream)
    ).one_or_none()
    if row is not None and row.form != following.form:
        return  # they are made again when they are first asked
    upto = 0 if row is None else int(row.sequence)
    first: dict[str, int] = {}
    for batch in read_on(connection, stream, after=0, upto=upto):
        numbered = [(one.sequence, following.derive(one)) for one in batch]
        low, high = numbered[0][0], numbered[-1][0]
        for number, rows in numbered:
            _note_places(first, number, rows)
        for table, expected in by_table(numbered).items():
            there = _there(connection, table, low, high)
            for number in sorted(_expected(table, expected) ^ there):
                yield (
                    f"{stream}, number {number}: the rows in {table.name!r} are not "
                    "those that follow from it"
                )
    for table, column in _NUMBER.items():
        beyond = connection.execute(
            select(func.count())
            .select_from(table)
            .where(or_(column < 1, column > upto))
        ).scalar_one()
        if beyond:
            yield f"{beyond} rows in {table.name!r} belong to no entry"
    known = {row.name: row.number for row in connection.execute(select(place))}
    for name in sorted(known.keys() | first.keys()):
        if known.get(name) != first.get(name):
            yield f"the place {name!r} is not kept as the entries have it"


class _ByNumber(dict[int, list[tuple[Any, ...]]]):
    """Rows by the number of their entry; ``^`` gives the numbers that differ."""

    def __xor__(self, other: _ByNumber) -> set[int]:
        if self == other:  # mostly
            return set()
        return {n for n in self.keys() | other.keys() if self.get(n) != other.get(n)}


def _compared(table: Table) -> list[Column[Any]]:
    return [column for column in table.columns if column.name not in _OWN]


def _expected(table: Table, rows: list[dict[str, Any]]) -> _ByNumber:
    names = [column.name for column in _compared(table)]
    return _by_number(table, (tuple(row[name] for name in names) for row in rows))


def _there(connection: Connection, table: Table, low: int, high: int) -> _ByNumber:
    rows = connection.execute(
        select(*_compared(table)).where(_NUMBER[table].between(low, high))
    )
    return _by_number(table, map(tuple, rows))


def _by_number(table: Table, rows: Iterable[tuple[Any, ...]]) -> _ByNumber:
    at = [column.name for column in _compared(table)].index(_NUMBER[table].name)
    found: dict[int, list[tuple[Any, ...]]] = defaultdict(list)
    for row in rows:
        found[row[at]].append(row)
    return _ByNumber({number: sorted(some) for number, some in found.items()})


def _note_places(first: dict[str, int], number: int, rows: Rows) -> None:
    for row in rows.movements:
        if row.quantity and row.place:
            first.setdefault(row.place, number)
