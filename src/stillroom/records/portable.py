"""The record as text that outlives any program: what export and import share."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Annotated, Any

import msgspec

from stillroom.records.chain import HASHED
from stillroom.records.ledger import LONGEST_KEY

FORMAT = 1
COLUMNS = (*HASHED, "hash")

LINES = "events.jsonl"
TABLE = "events.csv"
SCHEMA = "event.schema.json"
ABOUT = "about.json"
FILES = (ABOUT, SCHEMA, TABLE, LINES)

_Text = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
_Hash = Annotated[str, msgspec.Meta(pattern="^[0-9a-f]{64}$")]
_Time = Annotated[
    str,
    msgspec.Meta(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}\+00:00$"),
]


class Line(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One event, one line of ``events.jsonl``."""

    stream: _Text
    sequence: Annotated[int, msgspec.Meta(ge=1, le=2**63 - 1)]
    kind: Annotated[str, msgspec.Meta(min_length=1, max_length=100)]
    version: Annotated[int, msgspec.Meta(ge=1, le=2**31 - 1)]
    body: str
    occurred_at: _Time
    recorded_at: _Time
    key: Annotated[str, msgspec.Meta(min_length=1, max_length=LONGEST_KEY)] | None
    previous_hash: _Hash
    hash: _Hash

    def __post_init__(self) -> None:
        for moment in (self.occurred_at, self.recorded_at):
            datetime.fromisoformat(moment).astimezone(UTC)


class End(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Where a stream ends."""

    events: Annotated[int, msgspec.Meta(ge=1)]
    hash: _Hash


class About(msgspec.Struct, frozen=True):
    """What ``about.json`` says of the lines beside it."""

    format: int
    tables_at: int
    events: int
    fingerprint: str
    streams: dict[str, End]


def line_of(row: Mapping[str, Any]) -> str:
    """Return an event as its line, always in the same bytes."""
    return dumped({name: row[name] for name in COLUMNS}) + "\n"


def dumped(body: object, *, indent: int | None = None) -> str:
    """Return JSON in one form only, in UTF-8 as it is."""
    return json.dumps(
        body,
        ensure_ascii=False,
        indent=indent,
        separators=None if indent else (",", ":"),
    )


_WHAT = {
    "stream": "What it belongs to: the day file, a run, a lot",
    "sequence": "Its number in the stream, from 1 without a gap",
    "kind": "What happened",
    "version": "Version of the form of the body",
    "body": "What there is to say of it, as JSON text; the hash covers it as it stands",
    "occurred_at": "When it happened, UTC",
    "recorded_at": "When it was written down, UTC",
    "key": "What names the request that made it, so that a retry does not double",
    "previous_hash": "Hash of the one before it in the stream; 64 zeros for the first",
    "hash": "SHA-256 in hex of the JSON list of all the others in this order, written "
    "without spaces in UTF-8",
}


def schema() -> dict[str, Any]:
    """Return the JSON Schema of a line."""
    own = msgspec.json.schema(Line)["$defs"]["Line"]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"One event of the record, a line of {LINES}",
        "type": "object",
        "properties": {
            name: {"description": _WHAT[name], **own["properties"][name]}
            for name in COLUMNS
        },
        "required": list(COLUMNS),
        "additionalProperties": False,
    }
