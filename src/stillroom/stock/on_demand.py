"""
The stock without reading all of it: the entries of a lot are read when it is asked for.

The answers are those of `fold.Stock` on the same entries, as what a lot is follows from
the entries about it alone. What is written meanwhile changes no answer: it is the stock
up to one number. Only `history` of everything reads everything.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Iterator, Mapping

from stillroom.records.lots import Lots
from stillroom.records.stored import Recorded
from stillroom.stock.codec import from_entry
from stillroom.stock.events import AnyEvent, Lot, Made
from stillroom.stock.fold import Stock
from stillroom.stock.lotcode import day_of_code
from stillroom.stock.movements import movements
from stillroom.stock.rows import SAID_LATER, mark_of, shared_in


class StockOnDemand(Stock):
    """The stock as the first ``upto`` entries have it, read lot by lot."""

    def __init__(self, lots: Lots, stream: str, upto: int) -> None:
        super().__init__()
        self._ask = lots
        self._stream = stream
        self._upto = upto
        self._whole: set[str] = set()
        """Lots of which every entry is at hand."""
        self._known: set[str] = set()
        """Lots of which at least the first entry is at hand, if they have any."""
        self._marks: set[str] = set()
        self._on_loads: dict[str, tuple[str, ...]] = {}
        self._all = False
        self._begin_again({}, upto)

    def _read(self, code: str) -> None:
        self.bring((code,))

    def _read_begun(self, code: str) -> None:
        if code not in self._known and not self._all:
            self._add(self._ask.begun(self._stream, (code,), self._upto), known=(code,))

    def bring(self, codes: Iterable[str]) -> None:
        """Read several lots at once."""
        fresh = set(codes) - self._whole
        if not fresh or self._all:
            return
        self._add(self._ask.about(self._stream, fresh, self._upto), whole=fresh)
        for code in fresh:
            # Its load may have been held before there was such a lot.
            made = self.event(self._begun[code]) if self._is_new(code) else None
            if isinstance(made, Made) and made.batch.load is not None:
                key = shared_in(made.lot.day, made.batch.load)
                self._add(self._ask.about_shared(self._stream, key, self._upto))

    def _read_run(self, run: str, batch: str) -> None:
        mark = mark_of(run, batch)
        if mark not in self._marks and not self._all:
            self._marks.add(mark)
            codes = set(self._ask.marked(mark, self._upto)) - self._known
            self._add(self._ask.begun(self._stream, codes, self._upto), known=codes)

    def _read_load(self, day: str, load: int) -> None:
        if not self._all:
            key = shared_in(day, load)
            self._add(self._ask.about_shared(self._stream, key, self._upto))

    def _read_said(self) -> None:
        if not self._all:
            self._add(self._ask.about_shared(self._stream, SAID_LATER, self._upto))

    def gather(self, code: str) -> None:
        """Read in one query what belongs to a lot, and then its entries."""
        if self._all:
            return
        found = self._ask.family(code, self._upto)
        self.bring({code, *found.forward, *found.beside})
        fresh = found.back - self._known
        if fresh:
            self._add(self._ask.begun(self._stream, fresh, self._upto), known=fresh)

    @property
    def lots(self) -> Mapping[str, Lot]:
        """Every lot that ever was; who walks through them all reads all entries."""
        return _Lots(self)

    @property
    def events(self) -> list[AnyEvent]:
        """Every event, in order; all entries are read for that."""
        self.read_all()
        return super().events

    @property
    def undone(self) -> set[int]:
        """Sequences of entries that were mended; all entries are read for that."""
        self.read_all()
        return super().undone

    def booked_as(self, token: str) -> int:
        """Return the sequence under which a request was booked; 0 if it was not."""
        return super().booked_as(token) or self._ask.answered_by(token, self._upto)

    def event(self, sequence: int) -> AnyEvent:
        """Return the event of a sequence, from 1."""
        self._read_number(sequence)
        return super().event(sequence)

    def _counts(self, sequence: int | None) -> bool:
        if sequence is not None:
            self._read_number(sequence)
        return super()._counts(sequence)

    def _read_number(self, sequence: int) -> None:
        if sequence not in self._events and 0 < sequence <= self._upto:
            numbers = (sequence,)
            self._add(self._ask.numbered(self._stream, numbers, self._upto))

    def has_lot(self, code: str) -> bool:
        """Whether there ever was such a lot."""
        self._read_begun(code)
        return super().has_lot(code)

    def named(self, name: str) -> tuple[str, ...]:
        """Return the lots that are called so, of those that count, the oldest first."""
        there = self._ask.named(name, self._upto)
        codes = (*there, *(c for c in self._named.get(name, ()) if self._is_new(c)))
        return tuple(code for code in codes if not self.is_undone(code))

    def named_on_hand(self, name: str) -> tuple[str, ...]:
        """Return those lots that are called so of which something is left."""
        there = self._ask.named_on_hand(name, self._upto)
        moved = {c for c in self._moved_since() if c in self._named.get(name, ())}
        codes = {*there, *moved}
        self.bring(codes)
        held = [c for c in codes if self._at.get(c) and not self.is_undone(c)]
        return tuple(sorted(held, key=self.begun))

    def names(self) -> dict[str, str]:
        """Return all that lots are called: how it is looked up, and how written."""
        found = self._ask.names(self._upto)
        for name, what in super().names().items():
            found[name] = min(what, found.get(name, what))
        return found

    def supplied(self) -> dict[str, str]:
        """Return of each lot that counts from whom it came, if that was written."""
        found = self._ask.supplied(self._upto)
        self.bring(found)
        kept = {code: name for code, name in found.items() if not self.is_undone(code)}
        return kept | {c: s for c, s in super().supplied().items() if self._is_new(c)}

    def on_hand(self) -> tuple[str, ...]:
        """Return the lots of which something is left."""
        codes = dict.fromkeys(
            (*self._ask.on_hand(self._upto), *sorted(self._moved_since()))
        )
        self.bring(codes)
        return tuple(code for code in codes if self._at.get(code))

    def next_number(self, day: dt.date) -> int:
        """Return the number that the next lot of a day has in its code."""
        series = day_of_code(day)
        new = [c for c in self._lots if c.startswith(series) and self._is_new(c)]
        return self._ask.in_series(series, self._upto) + len(new) + 1

    def known_places(self) -> tuple[str, ...]:
        """Return every place that something was ever at, in order of the alphabet."""
        places = {*self._ask.places(self._upto), *self._places}
        return tuple(sorted(places, key=str.casefold))

    def _in_one_load(self, day: str, load: int) -> tuple[str, ...]:
        key = shared_in(day, load)
        if key not in self._on_loads:
            self._on_loads[key] = self._ask.sharing(key, self._upto)
        there = self._on_loads[key]
        new = [c for c in self._in_load.get((day, load), ()) if c not in there]
        return (*there, *new)

    @property
    def is_whole(self) -> bool:
        """Whether every entry is at hand."""
        return self._all

    def carry_on(self, entries: Iterable[Recorded]) -> None:
        """Take in what was written since, so that it is the stock up to there."""
        for event in [from_entry(entry) for entry in entries]:  # all of them, or none
            self.apply(event)
        self._upto = self._sequence

    def read_all(self) -> None:
        """Read every entry there is."""
        if not self._all:
            self._add(self._ask.every(self._stream, self._upto))
            self._all = True

    def _moved_since(self) -> set[str]:
        """Return the lots that events moved which were added here."""
        new = range(self._upto + 1, self._sequence + 1)
        return {part.lot for n in new for part in movements(self._events[n])}

    def _is_new(self, code: str) -> bool:
        """Whether a lot came to be by an event that was added here."""
        return self._begun.get(code, 0) > self._upto

    def _add(
        self,
        entries: Iterable[Recorded],
        *,
        whole: Collection[str] = (),
        known: Collection[str] = (),
    ) -> None:
        """Fold all that is at hand in order, with these entries among it."""
        fresh = {e.sequence: e for e in entries if e.sequence not in self._events}
        if fresh:
            read = {number: from_entry(entry) for number, entry in fresh.items()}
            self._begin_again({**self._events, **read}, self._sequence)
        self._whole |= set(whole)
        self._known |= {*whole, *known}

    def _begin_again(self, events: dict[int, AnyEvent], sequence: int) -> None:
        super().__init__()
        for number in sorted(events):
            self._take_in(number, events[number])
        self._sequence = sequence
        self._known |= self._lots.keys()


class _Lots(Mapping[str, Lot]):
    """Lots as they are asked for, one by one, or all."""

    def __init__(self, stock: StockOnDemand) -> None:
        self._stock = stock

    def __getitem__(self, code: str) -> Lot:
        self._stock._read_begun(code)
        return self._stock._lots[code]

    def __contains__(self, code: object) -> bool:
        return isinstance(code, str) and self._stock.has_lot(code)

    def __iter__(self) -> Iterator[str]:
        self._stock.read_all()
        return iter(self._stock._lots)

    def __len__(self) -> int:
        self._stock.read_all()
        return len(self._stock._lots)
