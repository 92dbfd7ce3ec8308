"""
Events to lots and balances: pure, the same on every machine and after every restart.

Beside the balances the fold keeps, for each lot, what was made of it, what it was made
of and where it went, so that tracing walks only along what belongs together.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from stillroom.book.words import plain
from stillroom.stock.entries import Entries
from stillroom.stock.events import (
    SAID_OF_PROCESS,
    AnyEvent,
    Held,
    Lot,
    Made,
    Part,
    Received,
    Taken,
)
from stillroom.stock.lotcode import day_of_code
from stillroom.stock.made_as_it_counts import as_it_counts
from stillroom.stock.movements import movements


@dataclass(frozen=True, slots=True)
class Out:
    """Some of a lot left the shelf by one entry."""

    sequence: int
    event: Taken
    part: Part


class Stock(Entries):
    """
    What the farm holds; nothing in it but what the events say.

    Here all events are in memory. `on_demand` has a stock that reads them as it is
    asked; so every method that tells of a lot calls `_read` first, or `_read_begun`
    where the entry by which the lot came to be is enough.
    """

    def __init__(self) -> None:
        super().__init__()
        self._sequence = 0
        self._lots: dict[str, Lot] = {}
        self._named: dict[str, list[str]] = defaultdict(list)
        self._tokens: dict[str, int] = {}
        self._places: set[str] = set()
        self._at: dict[str, dict[str, int]] = defaultdict(dict)
        self._begun: dict[str, int] = {}
        self._held_loads: dict[tuple[str, int], list[int]] = defaultdict(list)
        self._from_run: dict[tuple[str, str, str], list[int]] = defaultdict(list)
        self._in_load: dict[tuple[str, int], list[str]] = defaultdict(list)
        self._on_day: dict[str, int] = defaultdict(int)

    def _read_begun(self, code: str) -> None:
        """Have the event by which a lot came to be at hand."""

    def _read_run(self, run: str, batch: str) -> None:
        """Have the events at hand by which lots of a run's batch came to be."""

    def _read_load(self, day: str, load: int) -> None:
        """Have the events at hand that are about a whole canner load."""

    def _read_said(self) -> None:
        """Have the events at hand that say something of a process since it ended."""

    def bring(self, codes: Iterable[str]) -> None:
        """Have at hand what several lots are asked for: they are read at once."""

    def gather(self, code: str) -> None:
        """Have at hand what belongs to a lot: a trace is about to be walked."""

    @property
    def lots(self) -> Mapping[str, Lot]:
        """Every lot that ever was, in the order in which they came to be."""
        return self._lots

    @property
    def events(self) -> list[AnyEvent]:
        """Every event, in order."""
        return list(self._events.values())

    @property
    def sequence(self) -> int:
        """Number of the last event."""
        return self._sequence

    def booked_as(self, token: str) -> int:
        """Return the sequence under which a request was booked; 0 if it was not."""
        return self._tokens.get(token, 0)

    def has_lot(self, code: str) -> bool:
        """Whether there ever was such a lot."""
        return code in self._lots

    def named(self, name: str) -> tuple[str, ...]:
        """Return the lots that are called so, of those that count, the oldest first."""
        return tuple(c for c in self._named.get(name, ()) if not self.is_undone(c))

    def named_on_hand(self, name: str) -> tuple[str, ...]:
        """Return those lots that are called so of which something is left."""
        return tuple(code for code in self.named(name) if self._at.get(code))

    def names(self) -> dict[str, str]:
        """Return all that lots are called: how it is looked up, and how written."""
        return {
            name: min(self._lots[code].what for code in codes)
            for name, codes in self._named.items()
        }

    def supplied(self) -> dict[str, str]:
        """Return of each lot that counts from whom it came, if that was written."""
        return {
            code: lot.supplier
            for code, lot in self._lots.items()
            if lot.supplier and not self.is_undone(code)
        }

    def on_hand(self) -> tuple[str, ...]:
        """Return the lots of which something is left."""
        return tuple(code for code, at in self._at.items() if at)

    def places(self, code: str) -> dict[str, int]:
        """Return how much of a lot is at each place; nothing is left out but zeros."""
        self._read(code)
        return dict(self._at.get(code, {}))

    def balance(self, code: str, place: str | None = None) -> int:
        """Return what is on hand of a lot, at a place or altogether."""
        here = self.places(code)
        return sum(here.values()) if place is None else here.get(place, 0)

    def made(self, code: str) -> Made | None:
        """
        Return how a lot was made; `None` where it came in, or was undone.

        What was not said when it was booked, and was added since, is in it.
        """
        self._read_begun(code)
        sequence = self._begun.get(code)
        event = self.event(sequence) if sequence else None
        if not isinstance(event, Made) or not self._counts(sequence):
            return None
        if not event.batch.canned:
            return event
        return as_it_counts(
            event,
            self.completed(code),
            late=self.processed(code),
            said_cold=self.said_cold(code),
        )

    def came(self, code: str) -> Made | Received | None:
        """Return how a lot came to be, made here or not; `None` where it was undone."""
        if (made := self.made(code)) is not None:
            return made
        sequence = self._begun.get(code)
        event = self.event(sequence) if sequence else None
        if not isinstance(event, Received) or not self._counts(sequence):
            return None
        return event

    def begun(self, code: str) -> int:
        """Return the sequence by which a lot came to be."""
        self._read_begun(code)
        return self._begun[code]

    def made_into(self, code: str) -> tuple[Made, ...]:
        """Return what was made of a lot."""
        self._read(code)
        return tuple(m for m in self._those(Made, code) if m.lot.code != code)

    def same_load(self, code: str) -> tuple[str, ...]:
        """Return the lots of one canner load, this one too; none without a load."""
        made = self.made(code)
        if made is None or made.batch.load is None:
            return ()
        codes = self._in_one_load(made.lot.day, made.batch.load)
        return tuple(
            c for c in codes if not self.is_undone(c) and self._may_be_of(c, made)
        )

    def of_load(self, day: str, load: int) -> tuple[str, ...]:
        """Return the lots of a canner load of a day, as far as they are booked."""
        self._read_load(day, load)
        codes = self._in_one_load(day, load)
        return tuple(code for code in codes if not self.is_undone(code))

    def _may_be_of(self, code: str, other: Made) -> bool:
        """Whether a lot is of the run of another, as far as both say their run."""
        made = self.made(code)
        runs = {each.batch.run for each in (made, other) if each and each.batch.run}
        return len(runs) < 2

    def _in_one_load(self, day: str, load: int) -> tuple[str, ...]:
        return tuple(self._in_load.get((day, load), ()))

    def outs(self, code: str) -> tuple[Out, ...]:
        """Return what left the shelf, but for what was made of it."""
        self._read(code)
        return tuple(
            Out(sequence, event, part)
            for sequence in self._of[Taken].get(code, ())
            if sequence in self and isinstance(event := self.event(sequence), Taken)
            for part in event.parts
            if part.lot == code
        )

    def held(self, code: str) -> tuple[Held, ...]:
        """Return why a lot, or the canner load that it came from, was put on hold."""
        self._read(code)
        return self._counting(Held, self._held_by(code))

    def numbered_holds(self, code: str) -> tuple[tuple[int, Held], ...]:
        """Return the same with the number of each entry."""
        self._read(code)
        found = ((n, self.event(n)) for n in self._held_by(code) if self._counts(n))
        return tuple((n, event) for n, event in found if isinstance(event, Held))

    def _held_by(self, code: str) -> list[int]:
        made, numbers = self.made(code), [*self._of[Held].get(code, ())]
        if made is not None and made.batch.load is not None:
            numbers += self._held_loads.get((made.lot.day, made.batch.load), ())
        return numbers

    def held_load(self, day: str, load: int) -> tuple[Held, ...]:
        """Return why a canner load was put on hold, its lots booked or not."""
        self._read_load(day, load)
        return self._counting(Held, self._held_loads.get((day, load), ()))

    def said_of_process(self) -> tuple[str, ...]:
        """Return the lots of whose process something was said since it was booked."""
        self._read_said()
        codes = {c: None for kind in SAID_OF_PROCESS for c in self._of[kind]}
        for day, load in tuple(self._held_loads):
            codes |= dict.fromkeys(self.of_load(day, load))
        return tuple(code for code in codes if not self.is_undone(code))

    def from_run(self, run: str, batch: str, load: str = "") -> str | None:
        """Return the lot that was booked from a batch and load of a run, if it was."""
        self._read_run(run, batch)
        for sequence in self._from_run.get((run, batch, load), ()):
            event = self.event(sequence)
            if sequence in self and isinstance(event, Made):
                return event.lot.code
        return None

    def number_of_batch(self, run: str, batch: str) -> int | None:
        """Return the batch's number of the day, where one lot of it was booked."""
        self._read_run(run, batch)
        for key, sequences in self._from_run.items():
            if key[:2] == (run, batch):
                for sequence in sequences:
                    event = self.event(sequence)
                    if isinstance(event, Made):
                        return event.batch.number
        return None

    def about(self, code: str) -> tuple[tuple[int, AnyEvent], ...]:
        """Return the entries about a lot, and those that took one of them back."""
        self._read(code)
        found = {n for of in self._of.values() for n in of.get(code, ())}
        found.update(self._held_by(code))
        found |= {by for of in found for by in self._mended_by.get(of, ())}
        return tuple((number, self._events[number]) for number in sorted(found))

    def is_undone(self, code: str) -> bool:
        """Whether the lot was booked by mistake, and taken back."""
        self._read_begun(code)
        return not self._counts(self._begun.get(code))

    def next_number(self, day: dt.date) -> int:
        """Return the number that the next lot of a day has in its code."""
        return self._on_day.get(day_of_code(day), 0) + 1

    def known_places(self) -> tuple[str, ...]:
        """Return every place that something was ever at, in order of the alphabet."""
        return tuple(sorted(self._places, key=str.casefold))

    def apply(self, event: AnyEvent) -> None:
        """Take one more event in."""
        self._sequence += 1
        self._take_in(self._sequence, event)

    def _take_in(self, sequence: int, event: AnyEvent) -> None:
        self._keep(sequence, event)
        if event.token:
            self._tokens[event.token] = sequence
        match event:
            case Received(lot=lot):
                self._begin(lot, sequence)
            case Made(lot=lot, batch=batch):
                self._begin(lot, sequence)
                if batch.run:
                    key = (batch.run, batch.run_batch, batch.run_load)
                    self._from_run[key].append(sequence)
                if batch.load is not None:
                    self._in_load[lot.day, batch.load].append(lot.code)
            case Held(day=day, load=load) if load is not None:
                self._held_loads[day, load].append(sequence)
            case _:
                pass
        for part in movements(event):
            if part.number:
                self._places.add(part.place)
            at = self._at[part.lot]
            at[part.place] = at.get(part.place, 0) + part.number
            if not at[part.place]:
                del at[part.place]

    def _begin(self, lot: Lot, sequence: int) -> None:
        self._lots[lot.code] = lot
        self._named[plain(lot.what)].append(lot.code)
        self._begun[lot.code] = sequence
        self._on_day[lot.code[:5]] += 1


def fold(events: Iterable[AnyEvent]) -> Stock:
    """
    Return the stock that the events lead to.

    Examples
    --------
    >>> fold([]).sequence
    0
    """
    stock = Stock()
    for event in events:
        stock.apply(event)
    return stock
