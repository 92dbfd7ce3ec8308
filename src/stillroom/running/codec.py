"""Events to entries of the ledger and back: the body is JSON."""

from __future__ import annotations

from typing import Any

import msgspec

from stillroom.records.ledger import Entry, Recorded
from stillroom.refusal import Unreadable
from stillroom.running.events import KINDS, AnyEvent

for _event in KINDS.values():
    # A class is looked at when it is first read, and two threads that do so at once end
    # the whole program (a fault of the library's); so each is looked at here, alone.
    msgspec.json.Decoder(_event)


def to_entry(event: AnyEvent) -> Entry:
    """Return the entry of an event; its time has a column of its own."""
    # Sets in order: else the same day is another entry in each process that writes it.
    body: dict[str, Any] = msgspec.to_builtins(event, order="deterministic")
    del body["occurred_at"]
    return Entry(
        kind=event.kind,
        version=event.version,
        body=msgspec.json.encode(body).decode(),
        occurred_at=event.occurred_at,
    )


UPCASTS = {
    ("day-begun", 1): 2,
    ("plan-taken", 1): 2,
    ("full-boil-reached", 1): 2,
    ("boil-lost", 1): 2,
    ("load-lifted", 1): 2,
    ("step-begun", 1): 2,
    ("step-done", 1): 2,
}
"""
Versions whose bodies are read as a later one: from 1 to 2 a key was added and none
changed, so the batches of an old day stay unknown; nothing was taken in before, and
no tap came late.
"""


def from_entry(entry: Recorded) -> AnyEvent:
    """
    Return the event of an entry.

    Raises
    ------
    Unreadable
        If it is of a kind or version that this program does not know, or its body is
        not what that version has.
    """
    event = KINDS.get(entry.kind)
    version = UPCASTS.get((entry.kind, entry.version), entry.version)
    if event is None or version != event.version:
        raise Unreadable(
            f"entry {entry.sequence} is {entry.kind!r}, version {entry.version}, which "
            "this Stillroom does not know: open it with the newer one that wrote it"
        )
    try:
        body = msgspec.json.decode(entry.body, type=dict[str, Any])
        return msgspec.convert({**body, "occurred_at": entry.occurred_at}, type=event)
    except msgspec.MsgspecError as error:
        raise Unreadable(
            f"entry {entry.sequence} ({entry.kind}) cannot be read: {error}. "
            "Restore your last copy of the records"
        ) from error
