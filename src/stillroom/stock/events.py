"""
What happened to what the farm holds, in the past tense: versioned, never changed.

Every event says which quantities it moved; a balance is the sum of them, nothing else.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from stillroom.stock.amounts import Measure

SET_ASIDE = "set aside"
"""Where jars are that failed the seal check, or may have."""


class Kind(StrEnum):
    """What sort of thing a lot is."""

    RAW = "raw"
    BOUGHT = "bought"
    HALF_MADE = "half-made"
    FILLED = "jars filled"
    JARS = "jars"
    LIDS = "lids"


class Way(StrEnum):
    """How something left the shelf."""

    DRAWN = "drawn"
    EATEN = "eaten"
    SOLD = "sold"
    GIVEN = "given"
    SPOILED = "spoiled"
    BROKEN = "broken"
    TASTED = "tasted"


class Seen(StrEnum):
    """How a spread stood when it was looked at."""

    SET = "set"
    SOFT = "soft"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """An identified quantity of one thing, and where it is from."""

    code: str
    what: str
    kind: Kind
    measure: Measure
    day: str
    """When it was made, picked or bought: "2026-06-12", or "2026-06"; may be empty."""
    supplier: str = ""
    paid: str = ""
    """What the whole lot cost, in the keeper's money, as written."""
    best_before: dt.date | None = None
    """Off its package, or the keeper's own."""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """How a lot was made, as far as it was said."""

    food: str = ""
    """Kind of product in the book: "jelly", "pickle"; decides what is looked at."""
    recipe: str = ""
    source: str = ""
    multiple: int = 1
    who: str = ""
    pot: str = ""
    boil_start: str = ""
    """Clock time, "14:05"."""
    boil_min: int | None = None
    load: int | None = None
    """Canner load of that day."""
    canner: str = ""
    elevation_ft: int | None = None
    lids: str = ""
    process_min: int | None = None
    """Process time that it had; `None` where it had none. [min]"""
    due_min: int | None = None
    """Published process time; `None` where none is known or due. [min]"""
    due_source: str = ""
    out_at: str = ""
    """Clock time at which the jars came out."""
    canned: bool = False
    """Whether it is to keep by its process and seal, on the shelf."""
    tasting: str = ""
    picture: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """So much of a lot, at a place."""

    lot: str
    place: str
    number: int
    """In the unit of the lot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened; ``token`` names the request, so none counts twice."""

    kind: ClassVar[str]
    version: ClassVar[int]
    occurred_at: dt.datetime
    token: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Received(Event):
    """A lot came in."""

    kind: ClassVar[str] = "received"
    version: ClassVar[int] = 1
    lot: Lot
    place: str
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Made(Event):
    """A lot was made out of others, which were drawn for it."""

    kind: ClassVar[str] = "made"
    version: ClassVar[int] = 1
    lot: Lot
    place: str
    number: int
    inputs: tuple[Part, ...]
    batch: Batch


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken(Event):
    """Something left the shelf: drawn, eaten, sold, given, spoiled, broken, tasted."""

    kind: ClassVar[str] = "taken"
    version: ClassVar[int] = 1
    way: Way
    parts: tuple[Part, ...]
    to: str = ""
    """Whom or what it went to."""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved(Event):
    """Something was carried to another place."""

    kind: ClassVar[str] = "moved"
    version: ClassVar[int] = 1
    parts: tuple[Part, ...]
    to: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted(Event):
    """A lot was counted at a place; the difference from the book is its movement."""

    kind: ClassVar[str] = "counted"
    version: ClassVar[int] = 1
    lot: str
    place: str
    number: int
    book: int
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked(Event):
    """The day after: seals and set of a lot were looked at."""

    kind: ClassVar[str] = "checked"
    version: ClassVar[int] = 1
    lot: str
    good: int | None = None
    """`None` where only the set was looked at."""
    failed: int = 0
    doubtful: int = 0
    place: str = ""
    """Where the jars were that are now set aside, or that come back from there."""
    aside: int = 0
    """Jars that went aside; below zero, those that came back."""
    seen: Seen | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Recalled(Event):
    """Lots were called back."""

    kind: ClassVar[str] = "recalled"
    version: ClassVar[int] = 1
    lots: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended(Event):
    """An entry was a mistake: its movements are taken back, with the reason."""

    kind: ClassVar[str] = "mended"
    version: ClassVar[int] = 1
    of: int
    """Sequence of the mistaken entry."""
    changes: tuple[Part, ...]
    """The counter-movements; numbers may be below zero."""
    why: str


AnyEvent = Received | Made | Taken | Moved | Counted | Checked | Recalled | Mended
KINDS: dict[str, type[AnyEvent]] = {
    event.kind: event
    for event in (Received, Made, Taken, Moved, Counted, Checked, Recalled, Mended)
}


def movements(event: AnyEvent) -> Iterator[Part]:
    """Yield what an event adds to each lot and place; below zero: takes away."""
    match event:
        case Received(lot=lot, place=place, number=number):
            yield Part(lot=lot.code, place=place, number=number)
        case Made(lot=lot, place=place, number=number, inputs=inputs):
            yield from (_less(part) for part in inputs)
            yield Part(lot=lot.code, place=place, number=number)
        case Taken(parts=parts):
            yield from (_less(part) for part in parts)
        case Moved(parts=parts, to=to):
            for part in parts:
                yield _less(part)
                yield Part(lot=part.lot, place=to, number=part.number)
        case Counted(lot=code, place=place, number=number, book=book):
            yield Part(lot=code, place=place, number=number - book)
        case Checked(lot=code, place=place, aside=aside):
            if aside:
                yield Part(lot=code, place=place, number=-aside)
                yield Part(lot=code, place=SET_ASIDE, number=aside)
        case Recalled():
            return
        case Mended(changes=changes):
            yield from changes


def _less(part: Part) -> Part:
    return Part(lot=part.lot, place=part.place, number=-part.number)
