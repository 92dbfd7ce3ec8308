"""The tables, and the triggers by which the database itself refuses to forget."""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

# INTEGER is 32 bit on PostgreSQL; a BIGINT key does not count up by itself on SQLite.
KEY = BigInteger().with_variant(Integer, "sqlite")

metadata = MetaData()

event = Table(
    "event",
    metadata,
    Column("id", KEY, primary_key=True),
    Column("stream", String(200), nullable=False),
    Column("sequence", BigInteger, nullable=False),
    Column("kind", String(100), nullable=False),
    Column("version", Integer, nullable=False),
    Column("body", Text, nullable=False),
    Column("occurred_at", String(32), nullable=False),
    Column("recorded_at", String(32), nullable=False),
    UniqueConstraint("stream", "sequence", name="event_one_per_sequence"),
    CheckConstraint("sequence >= 1", name="event_sequence_from_one"),
    CheckConstraint("version >= 1", name="event_version_from_one"),
)
"""What happened: one row an event, numbered from 1 in each stream; times in UTC."""

migration = Table(
    "migration",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("what", String(200), nullable=False),
    Column("applied_at", String(32), nullable=False),
)
"""Which changes of the tables this database has seen."""

MEND = "is append-only: mend it with a counter-entry"
TAKEN = "is append-only: that sequence is taken"


def guards(dialect: str) -> tuple[str, ...]:
    """
    Return the statements that make ``event`` append-only.

    On SQLite ``REPLACE INTO`` deletes without firing delete triggers unless
    ``recursive_triggers`` is on. We turn it on; the third trigger stops every other
    program. Who may write the file may also drop a trigger: they keep honest programs
    honest, and are not a seal.
    """
    if dialect == "sqlite":
        return (
            "CREATE TRIGGER event_no_update BEFORE UPDATE ON event "
            f"BEGIN SELECT RAISE(ABORT, 'event {MEND}'); END",
            "CREATE TRIGGER event_no_delete BEFORE DELETE ON event "
            f"BEGIN SELECT RAISE(ABORT, 'event {MEND}'); END",
            "CREATE TRIGGER event_no_replace BEFORE INSERT ON event "
            "WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id "
            "OR (stream = NEW.stream AND sequence = NEW.sequence)) "
            f"BEGIN SELECT RAISE(ABORT, 'event {TAKEN}'); END",
        )
    return (
        "CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION 'event {MEND}'; END $$",
        "CREATE TRIGGER event_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON event "
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()",
    )
