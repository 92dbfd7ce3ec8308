"""Events to entries of the ledger and back: the body is JSON, its time is apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, ClassVar, Protocol, TypeVar

import msgspec

from stillroom.records.rows import Rows
from stillroom.records.stored import Entry, Recorded
from stillroom.refusal import Unreadable


class Happened(Protocol):
    """An event, as the record needs to know it."""

    kind: ClassVar[str]
    version: ClassVar[int]

    @property
    def occurred_at(self) -> datetime:
        """Return when it happened."""
        ...


E = TypeVar("E", bound=Happened)


def look_at(kinds: Iterable[type[Happened]]) -> None:
    """
    Have each class of event looked at, alone, before any is read.

    A class is looked at when it is first read, and two threads that do so at once end
    the whole program (a fault of the library's).
    """
    for kind in kinds:
        msgspec.json.Decoder(kind)


def entry_of(event: Happened, *, rows: Rows | None = None) -> Entry:
    """Return the entry of an event, with what follows from it."""
    # Sets in order: else the same day is another entry in each process that writes it.
    body: dict[str, Any] = msgspec.to_builtins(event, order="deterministic")
    del body["occurred_at"]
    return Entry(
        kind=event.kind,
        version=event.version,
        body=msgspec.json.encode(body).decode(),
        occurred_at=event.occurred_at,
        rows=rows,
    )


def event_of(
    entry: Recorded,
    kinds: Mapping[str, type[E]],
    upcasts: Mapping[tuple[str, int], int],
    *,
    called: str,
) -> E:
    """
    Return the event of an entry.

    Parameters
    ----------
    entry : Recorded
        As it stands in its stream.
    kinds : mapping of str to class
        The events that the stream may have.
    upcasts : mapping of (str, int) to int
        Kinds and versions whose bodies are read as a later version.
    called : str
        What an error calls it: "stock entry".

    Raises
    ------
    Unreadable
        If it is of a kind or version that this program does not know, or its body is
        not what that version has.
    """
    event = kinds.get(entry.kind)
    version = upcasts.get((entry.kind, entry.version), entry.version)
    if event is None or version != event.version:
        raise Unreadable(
            f"{called} {entry.sequence} is {entry.kind!r}, version {entry.version}, "
            "which this Stillroom does not know: open it with the newer one that "
            "wrote it"
        )
    try:
        body = msgspec.json.decode(entry.body, type=dict[str, Any])
        return msgspec.convert({**body, "occurred_at": entry.occurred_at}, type=event)
    except msgspec.MsgspecError as error:
        raise Unreadable(
            f"{called} {entry.sequence} ({entry.kind}) cannot be read: {error}. "
            "Restore your last copy of the records"
        ) from error
