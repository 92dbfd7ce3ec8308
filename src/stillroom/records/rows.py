"""What follows from an entry, as rows; who writes entries says it, nobody else."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select, text

from stillroom.records.lot_tables import (
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


@dataclass(frozen=True, slots=True, kw_only=True)
class LotRow:
    """A lot that came to be by the entry; its columns are told in `lot_tables`."""

    code: str
    name: str
    what: str
    kind: str
    unit: str
    day: str = ""
    supplier: str = ""
    series: str = ""
    shared: str = ""


@dataclass(frozen=True, slots=True)
class MovementRow:
    """What the entry adds to a lot at a place; nothing, at no place: it is told of."""

    lot: str
    place: str = ""
    quantity: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """All that follows from one entry."""

    form: int = 1
    """Version of the way in which entries are turned into rows."""
    lots: tuple[LotRow, ...] = ()
    movements: tuple[MovementRow, ...] = ()
    links: tuple[tuple[str, str], ...] = ()
    """(source, made) pairs of lot codes."""
    marks: tuple[tuple[str, str], ...] = ()
    """(mark, lot) pairs: what else a lot may be asked for by."""
    shared: tuple[str, ...] = ()
    """What lots shared that the entry is about, whichever those lots are."""
    undoes: int | None = None
    """The entry that this one takes back."""
    token: str = ""
    """The name of the request that it answers, if it has one."""


Numbered = Sequence[tuple[int, Rows]]
"""Rows with the sequence of their entry."""


def write(connection: Connection, numbered: Numbered) -> None:
    """Add rows, but for what is on hand: see `add_to_hand`."""
    for table, rows in by_table(numbered).items():
        if rows:
            connection.execute(insert(table), rows)
    _new_places(connection, numbered)


def add_to_hand(connection: Connection, numbered: Numbered) -> None:
    """Let what is on hand follow the movements."""
    change: dict[tuple[str, str], int] = defaultdict(int)
    for _, rows in numbered:
        for row in rows.movements:
            change[row.lot, row.place] += row.quantity
    moved = [
        {"lot": code, "place": where, "quantity": number}
        for (code, where), number in sorted(change.items())
        if number
    ]
    if not moved:
        return
    connection.execute(_MORE, moved)
    less = [{"of": code, "at": where} for (code, where), n in change.items() if n < 0]
    if less:
        connection.execute(_NOTHING_LEFT, less)


# Both databases have it in these words; their dialects' own builders load slowly.
_MORE = text(
    "INSERT INTO on_hand (lot, place, quantity) VALUES (:lot, :place, :quantity) "
    "ON CONFLICT (lot, place) "
    "DO UPDATE SET quantity = on_hand.quantity + excluded.quantity"
)


_NOTHING_LEFT = delete(on_hand).where(
    on_hand.c.lot == bindparam("of"),
    on_hand.c.place == bindparam("at"),
    on_hand.c.quantity == 0,
)


def by_table(numbered: Numbered) -> dict[Any, list[dict[str, Any]]]:
    """Return the rows of each table, as columns."""
    found: dict[Any, list[dict[str, Any]]] = {
        table: []
        for table in (lot, movement, link, mark, shared_entry, undone, request)
    }
    for number, rows in numbered:
        for one in rows.lots:
            found[lot].append(lot_values(number, one))
        for moved in rows.movements:
            found[movement].append(
                {
                    "number": number,
                    "lot": moved.lot,
                    "place": moved.place,
                    "quantity": moved.quantity,
                }
            )
        for source, made in rows.links:
            found[link].append({"number": number, "source": source, "made": made})
        for name, code in rows.marks:
            found[mark].append({"mark": name, "lot": code, "number": number})
        for key in rows.shared:
            found[shared_entry].append({"shared": key, "number": number})
        if rows.undoes is not None:
            found[undone].append({"number": rows.undoes, "by": number})
        if rows.token:
            found[request].append({"token": rows.token, "number": number})
    return found


def lot_values(number: int, row: LotRow) -> dict[str, Any]:
    """Return the columns of a lot."""
    return {"number": number} | {name: getattr(row, name) for name in LotRow.__slots__}


def _new_places(connection: Connection, numbered: Numbered) -> None:
    first: dict[str, int] = {}
    for number, rows in numbered:
        for row in rows.movements:
            if row.quantity and row.place:
                first.setdefault(row.place, number)
    known = _known(connection, first)
    fresh = [{"name": n, "number": at} for n, at in first.items() if n not in known]
    if fresh:
        connection.execute(insert(place), fresh)


def _known(connection: Connection, names: Iterable[str]) -> set[str]:
    wanted = tuple(names)
    if not wanted:
        return set()
    return set(
        connection.execute(select(place.c.name).where(place.c.name.in_(wanted)))
        .scalars()
        .all()
    )
