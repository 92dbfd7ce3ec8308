"""Events of the stock to entries of the ledger and back."""

from __future__ import annotations

from stillroom.records.codec import entry_of, event_of, look_at
from stillroom.records.ledger import Entry, Recorded
from stillroom.stock.events import KINDS, AnyEvent
from stillroom.stock.rows import rows_of

look_at(KINDS.values())

UPCASTS = {
    **{
        (kind, 1): 2
        for kind in (
            *("received", "made", "taken", "moved"),
            *("checked", "recalled", "mended"),
        )
    },
    **{("counted", before): 3 for before in (1, 2)},
}
"""
Versions whose bodies are read as a later one.

From 1 to 2, and of a count to 3, keys were added and none changed: what an old body
does not have stays as unknown as it was (``late`` false, no run, no clock times, no
hour of the counting but that of the entry).
"""


def to_entry(event: AnyEvent) -> Entry:
    """Return the entry of an event, and what follows from it for lots."""
    return entry_of(event, rows=rows_of(event))


def from_entry(entry: Recorded) -> AnyEvent:
    """
    Return the event of an entry.

    Raises
    ------
    Unreadable
        If it is of a kind or version that this program does not know, or its body is
        not what that version has.
    """
    return event_of(entry, KINDS, UPCASTS, called="stock entry")
