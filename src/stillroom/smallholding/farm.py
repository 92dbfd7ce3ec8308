"""A record with a clock of its own, a seed, and short ways to ask the real commands."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import replace

from stillroom.planning.day import Day
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.records.days import Days
from stillroom.records.ledger import Ledger
from stillroom.stock.commands import Command, Receive
from stillroom.stock.events import AnyEvent
from stillroom.stock.fold import Stock
from stillroom.stock.handle import KeptStock
from stillroom.stock.making import holds
from stillroom.stock.sentence import propose

ZONE = dt.timezone(dt.timedelta(hours=-6))
NOTE = "invented"
PANTRY, STAND, FRIDGE = "pantry", "stand", "refrigerator"


class SetClock:
    """A clock that stands until it is set."""

    def __init__(self, at: dt.datetime) -> None:
        self.at = at

    def now(self) -> dt.datetime:
        """Return the moment that it was set to."""
        return self.at


class Farm:
    """The demo smallholding: what is asked of its record, one thing after the other."""

    def __init__(self, ledger: Ledger, clock: SetClock, seed: int) -> None:
        self.ledger = ledger
        self.clock = clock
        self.days = Days(ledger, now=clock.now)
        self.random = random.Random(seed)
        self.kept = KeptStock(ledger)
        self.demo: Day = read_day(demo_day_text())

    def at(self, day: dt.date, hour: int, minute: int = 0) -> dt.datetime:
        """Set the clock; it never goes back."""
        moment = dt.datetime.combine(day, dt.time(hour, minute), tzinfo=ZONE)
        self.clock.at = max(self.clock.at, moment)
        return self.clock.at

    def ask(self, command: Command) -> tuple[Stock, tuple[AnyEvent, ...]]:
        """
        Ask the stock, with the time of the clock and a name of its own.

        Raises
        ------
        Refused
            If a rule says no: then the invented year does what it may not.
        """
        self.clock.at += dt.timedelta(minutes=1)
        token = f"{self.random.getrandbits(128):032x}"
        asked = replace(command, at=self.clock.at, token=token)
        return self.kept.handle(asked)

    @property
    def now(self) -> dt.datetime:
        """The clock's moment; `ask` sets it on."""
        return self.clock.at

    def receive(self, sentence: str) -> None:
        """Take something in, as a keeper says it."""
        with self.kept.reading() as stock:
            known = stock.known_places()
        day = self.now.date()
        thing = propose(sentence, today=day, known_places=known).thing
        if thing is None:
            raise ValueError(f"the calendar says {sentence!r}, and nobody can read it")
        dated = replace(thing, day=thing.day or day.isoformat(), note=NOTE)
        self.ask(Receive(things=(dated,), at=self.now))

    def sound_lots(self, place: str) -> list[tuple[str, int]]:
        """Lots of jars at a place that nothing holds, the oldest first."""
        with self.kept.reading() as stock:
            return [
                (code, number)
                for code, lot in stock.lots.items()
                if lot.kind.value == "jars filled"
                and (number := stock.places(code).get(place, 0)) > 0
                and not holds(stock, code)
            ]
