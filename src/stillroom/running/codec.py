"""Events of a run to entries of the ledger and back."""

from __future__ import annotations

from stillroom.records.codec import entry_of, event_of, look_at
from stillroom.records.ledger import Entry, Recorded
from stillroom.running.events import KINDS, AnyEvent

look_at(KINDS.values())

UPCASTS = {
    ("day-begun", 1): 4,
    ("day-begun", 2): 4,
    ("day-begun", 3): 4,
    ("plan-taken", 1): 3,
    ("plan-taken", 2): 3,
    ("full-boil-reached", 1): 4,
    ("full-boil-reached", 2): 4,
    ("full-boil-reached", 3): 4,
    ("boil-lost", 1): 2,
    ("load-lifted", 1): 2,
    ("step-begun", 1): 2,
    ("step-done", 1): 2,
    ("clock-set", 1): 2,
}
"""
Versions whose bodies are read as a later one: a key was added and none changed, so the
batches of an old day stay unknown; nothing was taken in before, no tap came late, no
lot was named, no day said by which clock it was begun, and no setting of the clock and
no full boil said which run of the computer it was of, and none how its canner was
vented.
"""


def to_entry(event: AnyEvent) -> Entry:
    """Return the entry of an event."""
    return entry_of(event)


def from_entry(entry: Recorded) -> AnyEvent:
    """
    Return the event of an entry.

    Raises
    ------
    Unreadable
        If it is of a kind or version that this program does not know, or its body is
        not what that version has.
    """
    return event_of(entry, KINDS, UPCASTS, called="entry")
