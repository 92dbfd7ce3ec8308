"""Each change of the tables and its record, in one transaction, in order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection, Engine, func, insert, inspect, select

from stillroom.records.engine import Place
from stillroom.records.tables import event, guards, migration
from stillroom.refusal import Unreadable


@dataclass(frozen=True, slots=True)
class Migration:
    """One change: its number, what it does in words, and how."""

    number: int
    what: str
    change: Callable[[Connection], None]


def _keep_events(connection: Connection) -> None:
    migration.create(connection)
    event.create(connection)
    for statement in guards(connection.dialect.name):
        connection.exec_driver_sql(statement)


MIGRATIONS: tuple[Migration, ...] = (
    Migration(1, "keep events, append-only", _keep_events),
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
            if applied(connection) >= step.number:
                continue
            step.change(connection)
            connection.execute(
                insert(migration).values(
                    number=step.number,
                    what=step.what,
                    applied_at=datetime.now(UTC).isoformat(timespec="seconds"),
                )
            )
        made.append(step.number)
    return tuple(made)
