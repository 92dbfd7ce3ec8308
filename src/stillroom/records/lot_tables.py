"""
The tables of lots, movements and links: what follows from the entries of one stream.

The entries are the record. These rows are derived from them, written in the same
transaction, and can be made again from them at any time; ``derived`` says how far they
go. What a row stands for is decided by whoever writes the entries: nothing here knows
a trade. Rows are never changed, as entries are not; only what is on hand goes up and
down, and that is the sum of the movements.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Column,
    Connection,
    ForeignKey,
    Index,
    Integer,
    String,
    Table,
    Text,
)

from stillroom.records.tables import KEY, metadata

CODE = String(40)

lot = Table(
    "lot",
    metadata,
    Column("code", CODE, primary_key=True),
    Column("number", BigInteger, nullable=False),
    Column("name", Text, nullable=False),
    Column("what", Text, nullable=False),
    Column("kind", String(40), nullable=False),
    Column("unit", String(20), nullable=False),
    Column("day", String(10), nullable=False),
    Column("supplier", Text, nullable=False),
    Column("series", String(20), nullable=False),
    Column("shared", String(60), nullable=False),
    Index("lot_by_name", "name", "what", "number"),
    Index("lot_by_series", "series", "number"),
    Index("lot_by_shared", "shared", "code"),
    Index("lot_by_number", "number"),
)
"""
What came to be, and by which entry.

``name`` is what it is looked up by, ``what`` what it is called; ``series`` is what its
code counts up in, and ``shared`` is the same for those that went through something
together, empty where nothing was shared.
"""

movement = Table(
    "movement",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("number", BigInteger, nullable=False),
    Column("lot", CODE, ForeignKey("lot.code"), nullable=False),
    Column("place", Text, nullable=False),
    Column("quantity", BigInteger, nullable=False),
    Index("movement_of_lot", "lot", "number", "place", "quantity"),
    Index("movement_by_number", "number", "lot"),
)
"""
What an entry adds to a lot at a place, in the unit of the lot; below zero, takes away.

An entry about a lot that moved nothing has a row of nothing, at no place.
"""

link = Table(
    "link",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("number", BigInteger, nullable=False),
    Column("source", CODE, ForeignKey("lot.code"), nullable=False),
    Column("made", CODE, ForeignKey("lot.code"), nullable=False),
    Index("link_back", "made", "number", "source"),
    Index("link_forward", "source", "number", "made"),
)
"""Which lot went into which, by which entry."""

mark = Table(
    "mark",
    metadata,
    Column("mark", Text, primary_key=True),
    Column("lot", CODE, ForeignKey("lot.code"), primary_key=True),
    Column("number", BigInteger, nullable=False),
)
"""What else a lot may be asked for by, such as where it came from."""

shared_entry = Table(
    "shared_entry",
    metadata,
    Column("shared", String(60), primary_key=True),
    Column("number", BigInteger, primary_key=True, autoincrement=False),
)
"""Entries about all lots that shared something, also those that come to be later."""

undone = Table(
    "undone",
    metadata,
    Column("number", BigInteger, primary_key=True, autoincrement=False),
    Column("by", BigInteger, nullable=False),
)
"""Which entry was taken back, and by which."""

request = Table(
    "request",
    metadata,
    Column("token", String(200), primary_key=True),
    Column("number", BigInteger, nullable=False),
)
"""What was asked, by its name, and the entry that answered it."""

place = Table(
    "place",
    metadata,
    Column("name", Text, primary_key=True),
    Column("number", BigInteger, nullable=False),
)
"""Every place that something was ever at, and since which entry."""

on_hand = Table(
    "on_hand",
    metadata,
    Column("lot", CODE, ForeignKey("lot.code"), primary_key=True),
    Column("place", Text, primary_key=True),
    Column("quantity", BigInteger, nullable=False),
)
"""What is left, where: the sum of the movements, where that is not nothing."""

derived = Table(
    "derived",
    metadata,
    Column("stream", String(200), primary_key=True),
    Column("form", Integer, nullable=False),
    Column("sequence", BigInteger, nullable=False),
    Column("hash", String(64), nullable=False),
)
"""Up to which entry of which stream the rows go, and in which form they are."""

KEPT = (lot, movement, link, mark, shared_entry, undone, request, place)
"""Tables whose rows are never changed."""
ALL = (*KEPT, on_hand, derived)
FOLLOWS = "follows from the entries: mend those, never this"


def make(connection: Connection) -> None:
    """Make the tables, empty, and let the database refuse any change of their rows."""
    for table in ALL:
        table.create(connection)
    for statement in _guards(connection.dialect.name):
        connection.exec_driver_sql(statement)


def make_again(connection: Connection) -> None:
    """Drop the tables with all that is in them, and make them empty."""
    for table in reversed(ALL):
        table.drop(connection)
    make(connection)


def _guards(dialect: str) -> tuple[str, ...]:
    names = [table.name for table in KEPT]
    if dialect == "sqlite":
        return tuple(
            f"CREATE TRIGGER {name}_no_{deed.lower()} BEFORE {deed} ON {name} "
            f"BEGIN SELECT RAISE(ABORT, '{name} {FOLLOWS}'); END"
            for name in names
            for deed in ("UPDATE", "DELETE")
        )
    return (
        "CREATE OR REPLACE FUNCTION refuse_derived() RETURNS trigger LANGUAGE plpgsql "
        # The driver takes a single % for its own.
        f"AS $$ BEGIN RAISE EXCEPTION '%% {FOLLOWS}', TG_TABLE_NAME; END $$",
        *(
            f"CREATE TRIGGER {name}_stays BEFORE UPDATE OR DELETE OR TRUNCATE "
            f"ON {name} FOR EACH STATEMENT EXECUTE FUNCTION refuse_derived()"
            for name in names
        ),
    )
