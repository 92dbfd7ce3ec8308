"""The tables as an earlier Stillroom made them. Never edited: files like this exist."""

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

from stillroom.records.tables import KEY

event_1 = Table(
    "event",
    MetaData(),
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
"""Events at number 1: without chain and key."""

_MEND = "is append-only: mend it with a counter-entry"
_TAKEN = "is append-only: that sequence is taken"


def guards_1(dialect: str) -> tuple[str, ...]:
    """Return the statements by which number 1 made ``event`` append-only."""
    if dialect == "sqlite":
        return (
            "CREATE TRIGGER event_no_update BEFORE UPDATE ON event "
            f"BEGIN SELECT RAISE(ABORT, 'event {_MEND}'); END",
            "CREATE TRIGGER event_no_delete BEFORE DELETE ON event "
            f"BEGIN SELECT RAISE(ABORT, 'event {_MEND}'); END",
            "CREATE TRIGGER event_no_replace BEFORE INSERT ON event "
            "WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id "
            "OR (stream = NEW.stream AND sequence = NEW.sequence)) "
            f"BEGIN SELECT RAISE(ABORT, 'event {_TAKEN}'); END",
        )
    return (
        "CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION 'event {_MEND}'; END $$",
        "CREATE TRIGGER event_append_only BEFORE UPDATE OR DELETE OR TRUNCATE ON event "
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()",
    )
