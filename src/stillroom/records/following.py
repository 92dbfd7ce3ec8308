"""How lots, movements and links follow the entries of one stream."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sqlalchemy import (
    Connection,
    Select,
    delete,
    func,
    insert,
    literal,
    select,
    update,
)

from stillroom.records.lot_tables import derived, make_again, movement, on_hand
from stillroom.records.rows import Rows, add_to_hand, write
from stillroom.records.stored import OF_ENTRIES, Recorded, recorded
from stillroom.records.tables import event, head

AT_ONCE = 500
"""Entries that are handled together."""

Derive = Callable[[Recorded], Rows]
"""Tells what follows from an entry."""


@dataclass(frozen=True, slots=True)
class Following:
    """Whose entries the rows follow, and how."""

    stream: str
    derive: Derive
    form: int
    """Counted up when the same entry leads to other rows than before."""


@dataclass(frozen=True, slots=True)
class Stand:
    """How far the rows go."""

    sequence: int
    """The last entry that is in them; 0 is none."""
    hash: str
    """Of that entry; empty where there is none."""
    current: bool
    """Whether they go up to the end of the stream, rest on it, and are of that form."""


def stand_of(connection: Connection, following: Following) -> Stand:
    """Return how far the rows go, on this connection."""
    stream = following.stream
    found = connection.execute(
        select(literal("end").label("of"), head.c.sequence, head.c.hash)
        .where(head.c.stream == stream)
        .union_all(
            select(literal("rows"), derived.c.sequence, derived.c.hash).where(
                derived.c.stream == stream, derived.c.form == following.form
            ),
            select(literal("other"), derived.c.sequence, derived.c.hash).where(
                derived.c.stream == stream, derived.c.form != following.form
            ),
        )
    )
    ends = {row.of: (int(row.sequence), str(row.hash)) for row in found}
    rows = ends.get("rows") or ends.get("other") or (0, "")
    return Stand(
        *rows, current="other" not in ends and rows == ends.get("end", (0, ""))
    )


def follow(connection: Connection, following: Following) -> Stand:
    """Let the rows follow what is there, again from the start where they do not fit."""
    stream = following.stream
    end = connection.execute(
        select(head.c.sequence, head.c.hash)
        .where(head.c.stream == stream)
        .with_for_update()  # two who come at once do it once
    ).one_or_none()
    stand = stand_of(connection, following)
    if stand.current or end is None:
        return stand
    if not _rests(connection, following):
        make_again(connection)
        stand = Stand(0, "", False)
    after = stand.sequence
    for batch in read_on(connection, stream, after=after, upto=end.sequence):
        write(connection, [(one.sequence, following.derive(one)) for one in batch])
    _move_on(connection, stream, following.form, end.sequence, end.hash)
    connection.execute(delete(on_hand))
    connection.execute(
        insert(on_hand).from_select(["lot", "place", "quantity"], sums())
    )
    return Stand(end.sequence, end.hash, True)


def sums() -> Select[tuple[str, str, int]]:
    """Ask what is left of each lot at each place, by its movements."""
    total = func.sum(movement.c.quantity)
    return (
        select(movement.c.lot, movement.c.place, total.label("quantity"))
        .group_by(movement.c.lot, movement.c.place)
        .having(total != 0)
    )


def add(
    connection: Connection,
    stream: str,
    numbered: list[tuple[int, Rows]],
    *,
    before: tuple[int, str],
    now: tuple[int, str],
) -> None:
    """
    Add the rows of entries that were appended just now, if the rows go up to there.

    Where they do not, they stay behind, and `Lots.brought_up` fills them in.
    """
    form = numbered[0][1].form
    there = [tuple(row) for row in connection.execute(select(derived))]
    if there != ([(stream, form, *before)] if before[0] else []):
        return
    write(connection, numbered)
    add_to_hand(connection, numbered)
    _move_on(connection, stream, form, *now)


def read_on(
    connection: Connection, stream: str, *, after: int, upto: int
) -> Iterator[list[Recorded]]:
    """Yield the entries of a stream in order, some at a time."""
    while after < upto:
        found = connection.execute(
            select(*OF_ENTRIES)
            .where(
                event.c.stream == stream,
                event.c.sequence > after,
                event.c.sequence <= min(upto, after + AT_ONCE),
            )
            .order_by(event.c.sequence)
        )
        yield [recorded(row) for row in found]
        after += AT_ONCE


def _rests(connection: Connection, following: Following) -> bool:
    """Whether the rows, as far as they go, are those of this stream, in this form."""
    stream = following.stream
    there = connection.execute(select(derived)).all()
    if not there:
        return True
    row = there[0]
    if len(there) > 1 or (row.stream, row.form) != (stream, following.form):
        return False
    hash_ = connection.execute(
        select(event.c.hash).where(
            event.c.stream == stream, event.c.sequence == row.sequence
        )
    ).scalar()
    return bool(hash_ == row.hash)


def _move_on(
    connection: Connection, stream: str, form: int, sequence: int, hash_: str
) -> None:
    end = {"form": form, "sequence": sequence, "hash": hash_}
    moved = connection.execute(
        update(derived).where(derived.c.stream == stream).values(**end)
    )
    if not moved.rowcount:
        connection.execute(insert(derived).values(stream=stream, **end))
