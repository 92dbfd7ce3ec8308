"""The entries of the stock by kind and by lot, and what they say of a lot. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import TypeVar

from stillroom.stock.about import lots_of
from stillroom.stock.events import (
    KINDS,
    AnyEvent,
    Checked,
    ColdSaid,
    Completed,
    Counted,
    Event,
    GaugeSaid,
    Labelled,
    Mended,
    Noted,
    Pictured,
    Processed,
    PutUpSaid,
    Recalled,
)

E = TypeVar("E", bound=Event)


class Entries:
    """
    What was said of each lot since it came to be, one entry after the other.

    An entry that was mended is kept, and says nothing any more.
    """

    def __init__(self) -> None:
        self._events: dict[int, AnyEvent] = {}
        self._of: dict[type[Event], dict[str, list[int]]] = {
            kind: defaultdict(list) for kind in KINDS.values()
        }
        """By kind and lot code: entries about a lot, but for holds of a whole load."""
        self._undone: set[int] = set()
        self._mended_by: dict[int, list[int]] = defaultdict(list)

    def _read(self, code: str) -> None:
        """Have every event about a lot at hand."""

    def _keep(self, sequence: int, event: AnyEvent) -> None:
        """Keep one more entry under the lots that it is about."""
        self._events[sequence] = event
        for code in lots_of(event):
            self._of[type(event)][code].append(sequence)
        if isinstance(event, Mended):
            self._undone.add(event.of)
            self._mended_by[event.of].append(sequence)

    @property
    def undone(self) -> set[int]:
        """Sequences of entries that were mended."""
        return self._undone

    def event(self, sequence: int) -> AnyEvent:
        """Return the event of a sequence, from 1."""
        return self._events[sequence]

    def __contains__(self, sequence: int) -> bool:
        """Whether an entry counts: it is there, and was not mended."""
        return self._counts(sequence)

    def completed(self, code: str) -> Completed | None:
        """Return what was added of a lot since it was booked; `None` if nothing was."""
        self._read(code)
        return next(reversed(self._those(Completed, code)), None)

    def said_cold(self, code: str) -> frozenset[str]:
        """Return the places of a lot that were cold all the while, as somebody said."""
        self._read(code)
        return frozenset(event.place for event in self._those(ColdSaid, code))

    def put_up_said(self, code: str) -> PutUpSaid | None:
        """Return how jars that came in were put up, as somebody said last."""
        self._read(code)
        return next(reversed(self._those(PutUpSaid, code)), None)

    def gauge_said(self, code: str) -> GaugeSaid | None:
        """Return what the gauge read by who said it later; `None` if nobody did."""
        self._read(code)
        return next(reversed(self._those(GaugeSaid, code)), None)

    def processed(self, code: str) -> Processed | None:
        """Return the process that was typed in late for a lot, the last one."""
        self._read(code)
        return next(reversed(self._those(Processed, code)), None)

    def checks(self, code: str) -> tuple[Checked, ...]:
        """Return the checks of a lot, in order."""
        self._read(code)
        return self._those(Checked, code)

    def counts(self, code: str) -> tuple[Counted, ...]:
        """Return how often a lot was counted, in order."""
        self._read(code)
        return self._those(Counted, code)

    def label(self, code: str) -> Labelled | None:
        """Return how a lot was labelled; `None` where it was not yet."""
        self._read(code)
        return next(reversed(self._those(Labelled, code)), None)

    def notes(self, code: str) -> tuple[Noted, ...]:
        """Return what was written down of a lot since it came to be, in order."""
        self._read(code)
        return self._those(Noted, code)

    def pictures(self, code: str) -> tuple[str, ...]:
        """Return the names of the pictures of a lot, in order."""
        self._read(code)
        return tuple(event.name for event in self._those(Pictured, code))

    def recall(self, code: str) -> Recalled | None:
        """Return the recall that a lot is under, if any."""
        self._read(code)
        return next(iter(self._those(Recalled, code)), None)

    def _those(self, kind: type[E], code: str) -> tuple[E, ...]:
        """Return the events of a kind about a lot that count, in order."""
        return self._counting(kind, self._of[kind].get(code, ()))

    def _counting(self, kind: type[E], sequences: Iterable[int]) -> tuple[E, ...]:
        found = (self.event(s) for s in sequences if s in self)
        return tuple(event for event in found if isinstance(event, kind))

    def _counts(self, sequence: int | None) -> bool:
        return sequence is not None and sequence not in self._undone
