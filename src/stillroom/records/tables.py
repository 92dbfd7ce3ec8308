"""The tables, and the triggers by which the database itself refuses to forget."""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    Column,
    Index,
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
    Column("previous_hash", String(64), nullable=False, server_default=""),
    Column("hash", String(64), nullable=False, server_default=""),
    Column("key", String(200)),
    UniqueConstraint("stream", "sequence", name="event_one_per_sequence"),
    CheckConstraint("sequence >= 1", name="event_sequence_from_one"),
    CheckConstraint("version >= 1", name="event_version_from_one"),
    Index("event_one_per_key", "key", unique=True),
)
"""
What happened: one row an event, numbered from 1 in each stream; times in UTC.

``key`` is on the last event of an append that may be tried again.
"""

head = Table(
    "head",
    metadata,
    Column("stream", String(200), primary_key=True),
    Column("sequence", BigInteger, nullable=False),
    Column("hash", String(64), nullable=False),
)
"""
Where each stream ends. It is what shows that last entries are missing, and what
writers of one stream lock; the state is still the fold of the events alone.
"""

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
KEY_TAKEN = "is append-only: that key is taken"
FORWARD = "goes forward only, one stream a row"


def guards(dialect: str) -> tuple[str, ...]:
    """
    Return the statements that make ``event`` append-only and ``head`` go forward only.

    On SQLite ``REPLACE INTO`` deletes without firing delete triggers unless
    ``recursive_triggers`` is on. We turn it on; the insert triggers stop every other
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
            "CREATE TRIGGER event_no_second_key BEFORE INSERT ON event "
            "WHEN EXISTS (SELECT 1 FROM event WHERE key = NEW.key) "
            f"BEGIN SELECT RAISE(ABORT, 'event {KEY_TAKEN}'); END",
            "CREATE TRIGGER head_no_delete BEFORE DELETE ON head "
            f"BEGIN SELECT RAISE(ABORT, 'head {FORWARD}'); END",
            "CREATE TRIGGER head_forward BEFORE UPDATE ON head "
            "WHEN NEW.stream <> OLD.stream OR NEW.sequence <= OLD.sequence "
            f"BEGIN SELECT RAISE(ABORT, 'head {FORWARD}'); END",
            "CREATE TRIGGER head_no_replace BEFORE INSERT ON head "
            "WHEN EXISTS (SELECT 1 FROM head WHERE stream = NEW.stream) "
            f"BEGIN SELECT RAISE(ABORT, 'head {FORWARD}'); END",
        )
    return (
        "CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql "
        f"AS $$ BEGIN RAISE EXCEPTION 'event {MEND}'; END $$",
        "CREATE TRIGGER event_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON event "
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()",
        "CREATE FUNCTION refuse_back() RETURNS trigger LANGUAGE plpgsql "
        f"AS $$ BEGIN RAISE EXCEPTION 'head {FORWARD}'; END $$",
        "CREATE TRIGGER head_stays BEFORE DELETE OR TRUNCATE ON head "
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_back()",
        "CREATE TRIGGER head_forward BEFORE UPDATE ON head FOR EACH ROW "
        "WHEN (NEW.stream <> OLD.stream OR NEW.sequence <= OLD.sequence) "
        "EXECUTE FUNCTION refuse_back()",
    )
