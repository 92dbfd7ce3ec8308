"""What was asked of the stock: each with its time and the name of the request."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.stock.amounts import Measure
from stillroom.stock.events import Batch, Kind, Seen, Way


@dataclass(frozen=True, slots=True, kw_only=True)
class Incoming:
    """Something as it was read from a sentence, a form or a row."""

    what: str
    kind: Kind
    measure: Measure
    number: int
    place: str
    day: str = ""
    supplier: str = ""
    paid: str = ""
    best_before: dt.date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Something asked, by the server's clock, in the kitchen's time zone."""

    at: dt.datetime
    token: str = ""
    """Named once for each request: the same one again books nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Receive(Asked):
    """Take these things in, all of them or none."""

    things: tuple[Incoming, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Take(Asked):
    """Take something off the shelf."""

    lot: str
    """Lot code, or the name of a thing: then what keeps least goes first."""
    quantity: str
    way: Way = Way.DRAWN
    place: str = ""
    to: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Move(Asked):
    """Carry something to another place."""

    lot: str
    quantity: str
    """Empty: all that is there."""
    to: str
    place: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Count(Asked):
    """Hold the shelf against the book."""

    lot: str
    quantity: str
    """What was counted; "0" is allowed here."""
    place: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Make(Asked):
    """Book a lot that was made, with what went into it."""

    thing: Incoming
    inputs: tuple[tuple[str, str], ...]
    """(lot, quantity) pairs."""
    batch: Batch
    on: dt.date


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Asked):
    """Book what was seen the day after."""

    lot: str
    good: int | None = None
    failed: int = 0
    doubtful: int = 0
    seen: Seen | None = None
    place: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recall(Asked):
    """Call a lot back, and everything that was made of it."""

    lot: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mend(Asked):
    """Take a mistaken entry back."""

    of: int
    why: str


Command = Receive | Take | Move | Count | Make | Check | Recall | Mend
