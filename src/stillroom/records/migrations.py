"""Each change of the tables and its record, in one transaction, in order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import (
    Connection,
    Engine,
    bindparam,
    func,
    insert,
    inspect,
    select,
    update,
)

from stillroom.records import lot_tables
from stillroom.records.chain import FIRST, HASHED, chained
from stillroom.records.engine import Place
from stillroom.records.released import event_1, guards_1
from stillroom.records.tables import event, guards, head, migration
from stillroom.refusal import Unreadable


@dataclass(frozen=True, slots=True)
class Migration:
    """One change: its number, what it does in words, and how."""

    number: int
    what: str
    change: Callable[[Connection], None]


def _keep_events(connection: Connection) -> None:
    migration.create(connection)
    event_1.create(connection)
    for statement in guards_1(connection.dialect.name):
        connection.exec_driver_sql(statement)


_GUARDS_OF_1 = {
    "sqlite": (
        "DROP TRIGGER event_no_update",
        "DROP TRIGGER event_no_delete",
        "DROP TRIGGER event_no_replace",
    ),
    "postgresql": ("DROP TRIGGER event_append_only ON event",),
}


def _chain_events(connection: Connection) -> None:
    """Add chain and key, fill the chain in for what is there, and guard it again."""
    for statement in (
        *_GUARDS_OF_1[connection.dialect.name],
        "ALTER TABLE event ADD COLUMN previous_hash VARCHAR(64) NOT NULL DEFAULT ''",
        "ALTER TABLE event ADD COLUMN hash VARCHAR(64) NOT NULL DEFAULT ''",
        "ALTER TABLE event ADD COLUMN key VARCHAR(200)",
        "CREATE UNIQUE INDEX event_one_per_key ON event (key)",
    ):
        connection.exec_driver_sql(statement)
    head.create(connection)
    streams = connection.execute(select(event.c.stream).distinct()).scalars().all()
    for stream in streams:
        found = connection.execute(
            select(event.c.id, *(event.c[name] for name in HASHED))
            .where(event.c.stream == stream)
            .order_by(event.c.sequence)
        ).mappings()
        rows = list(chained((dict(row) for row in found), FIRST))
        connection.execute(
            update(event)
            .where(event.c.id == bindparam("row"))
            .values(previous_hash=bindparam("before"), hash=bindparam("own")),
            [
                {"row": row["id"], "before": row["previous_hash"], "own": row["hash"]}
                for row in rows
            ],
        )
        last = rows[-1]
        connection.execute(
            insert(head).values(
                stream=stream, sequence=last["sequence"], hash=last["hash"]
            )
        )
    for statement in guards(connection.dialect.name):
        connection.exec_driver_sql(statement)


CHAINED = 2
"""From this number on events carry hashes."""

WITH_LOTS = 3
"""
From this number on there are tables of lots. The change makes them empty, as no trade
is known here; who writes the entries fills them when they are first asked.
"""

MIGRATIONS: tuple[Migration, ...] = (
    Migration(1, "keep events, append-only", _keep_events),
    Migration(2, "chain the events of a stream, and know a retry", _chain_events),
    Migration(3, "keep lots, movements and links beside the events", lot_tables.make),
)
"""Never edited once released: a mistake is mended by the next number."""


def refuse_strangers(
    engine: Engine, place: Place, *, migrations: tuple[Migration, ...] = MIGRATIONS
) -> None:
    """
    Refuse, untouched, a database of a newer Stillroom or of another program.

    Raises
    ------
    Unreadable
        With what was found and what to do.
    """
    with engine.connect() as connection:
        names = set(inspect(connection).get_table_names())
        if not names:
            return
        if not {migration.name, event.name} <= names:
            raise Unreadable(
                f"{place} is a database of another program (tables: "
                f"{', '.join(sorted(names)[:5])}); it was left as it is: "
                "give another file"
            )
        found, known = applied(connection), migrations[-1].number
    if found > known:
        raise Unreadable(
            f"{place} was made by a newer Stillroom (its tables are at number {found}, "
            f"this one knows up to {known}); it was left as it is: "
            "install the newer Stillroom, or give another file"
        )


def applied(connection: Connection) -> int:
    """Return the number of the last change that the database has seen; 0 is none."""
    if not inspect(connection).has_table(migration.name):
        return 0
    return connection.execute(select(func.max(migration.c.number))).scalar() or 0


def migrate(
    writer: Engine, *, migrations: tuple[Migration, ...] = MIGRATIONS
) -> tuple[int, ...]:
    """
    Bring the tables up to date; return the numbers of the changes made now.

    What is there is read again inside each writing transaction, so two programs that
    open a fresh file at once do not both change it.
    """
    made = []
    for step in migrations:
        with writer.begin() as connection:
            if apply(connection, step):
                made.append(step.number)
    return tuple(made)


def apply(connection: Connection, step: Migration) -> bool:
    """Make a change in a transaction that is open; say whether it was due."""
    if connection.dialect.name == "postgresql":
        # A file's writer has its lock; here two would both find no tables yet.
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_ONE_AT_A_TIME})")
    if applied(connection) >= step.number:
        return False
    step.change(connection)
    connection.execute(
        insert(migration).values(
            number=step.number,
            what=step.what,
            applied_at=datetime.now(UTC).isoformat(timespec="seconds"),
        )
    )
    return True


_ONE_AT_A_TIME = int.from_bytes(b"still")
"""What programs that change the tables of one database wait for."""
