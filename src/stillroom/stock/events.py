"""
What happened to what the farm holds, in the past tense: versioned, never changed.

Every event says which quantities it moved; a balance is the sum of them, nothing else.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, get_args

from stillroom.stock.lots import Batch as Batch
from stillroom.stock.lots import Kind as Kind
from stillroom.stock.lots import Lot as Lot

SET_ASIDE = "set aside"
"""Where jars are that failed the seal check, or may have."""


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


class Doubt(StrEnum):
    """What was found wrong with a canner load once it was out."""

    WRONG_TIME = "wrong time"
    WATER_LOW = "water below the lids"


class About(StrEnum):
    """What a note on a lot is about."""

    TASTING = "tasting"
    OPENED = "opened"
    OTHER = "other"


class How(StrEnum):
    """How jars were put up that came in as they stand."""

    PROCESS = "by a published process"
    SHOP = "bought filled in a shop"
    DRY = "dry in its jars"


class Hand(StrEnum):
    """How a label came to be."""

    PRINTED = "printed"
    WRITTEN = "written"


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
    late: bool = False
    """It was typed in later than it happened: the time is the writer's own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Received(Event):
    """A lot came in."""

    kind: ClassVar[str] = "received"
    version: ClassVar[int] = 2  # 2: late, and how a batch came from a run; see codec
    lot: Lot
    place: str
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Made(Event):
    """A lot was made out of others, which were drawn for it."""

    kind: ClassVar[str] = "made"
    version: ClassVar[int] = 2  # 2: late, and how a batch came from a run; see codec
    lot: Lot
    place: str
    number: int
    inputs: tuple[Part, ...]
    batch: Batch

    @property
    def of_load(self) -> tuple[str, str, int | None]:
        """Its canner load: the day, the run and the number; two runs have a load 1."""
        return self.lot.day, self.batch.run, self.batch.load


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken(Event):
    """Something left the shelf: drawn, eaten, sold, given, spoiled, broken, tasted."""

    kind: ClassVar[str] = "taken"
    version: ClassVar[int] = 2  # 2: late, and how a batch came from a run; see codec
    way: Way
    parts: tuple[Part, ...]
    to: str = ""
    """Whom or what it went to."""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved(Event):
    """Something was carried to another place."""

    kind: ClassVar[str] = "moved"
    version: ClassVar[int] = 2  # 2: late, and how a batch came from a run; see codec
    parts: tuple[Part, ...]
    to: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted(Event):
    """A lot was counted at a place; the difference from the record is its movement."""

    kind: ClassVar[str] = "counted"
    version: ClassVar[int] = 3  # 3: counted_at; see codec
    lot: str
    place: str
    number: int
    book: int
    why: str = ""
    counted_at: dt.datetime | None = None
    """When the jars were counted; `None` where that is when it was booked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked(Event):
    """The day after: seals and set of a lot were looked at."""

    kind: ClassVar[str] = "checked"
    version: ClassVar[int] = 2  # 2: late, and how a batch came from a run; see codec
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
class Held(Event):
    """A canner load is in doubt: all lots of it, booked or still to come, are held."""

    kind: ClassVar[str] = "held"
    version: ClassVar[int] = 1
    doubt: Doubt
    day: str
    """Day of the load, "2026-09-12"."""
    load: int | None
    """`None` where only ``lots`` are meant."""
    lots: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Processed(Event):
    """A process that took place, typed in when it was over; it is always late."""

    kind: ClassVar[str] = "processed"
    version: ClassVar[int] = 1
    lots: tuple[str, ...]
    began: dt.datetime
    """Full boil, or the pressure reached."""
    ended: dt.datetime
    who: str
    canner: str = ""
    gauge_psi: float | None = None
    """What the gauge read; `None` where nobody said, as in all old entries. [psi]"""
    due_psi: float | None = None
    """Published for that canner; `None` in boiling water and in old entries. [psi]"""

    @property
    def minutes(self) -> int:
        """Whole minutes that it lasted."""
        return int((self.ended - self.began).total_seconds() // 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class Completed(Event):
    """What was not said of a lot when it was booked, and the process then due."""

    kind: ClassVar[str] = "completed"
    version: ClassVar[int] = 1
    lot: str
    elevation_ft: int
    which: str = ""
    """Which of the products that its name may mean; empty where it means one."""
    jar: str = ""
    """Empty where it was said before."""
    canner: str
    pack: str
    """Empty where only one is published."""
    due_min: int
    due_source: str
    due_psi: float | None = None
    """Published gauge pressure; `None` in boiling water and in old entries. [psi]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdSaid(Event):
    """A place that may be cold or not, by its name, was as cold all the while."""

    kind: ClassVar[str] = "cold-said"
    version: ClassVar[int] = 1
    lot: str
    place: str
    cold: str
    """As what: refrigerator or freezer."""
    who: str
    """Who knows it; the record has their word for it, and no reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeSaid(Event):
    """What a pressure gauge read, said after the lot was booked; it is always late."""

    kind: ClassVar[str] = "gauge-said"
    version: ClassVar[int] = 1
    lot: str
    gauge_psi: float
    due_psi: float | None
    """Published for the minutes that were due; `None` where none are known. [psi]"""
    who: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PutUpSaid(Event):
    """How jars were put up that came in as they stand: somebody knows it."""

    kind: ClassVar[str] = "put-up-said"
    version: ClassVar[int] = 1
    lot: str
    how: How
    who: str
    """Who knows it; the record has their word for it."""
    minutes: int | None = None
    """Its process; `None`, and all below empty, where it is not by one. [min]"""
    canner: str = ""
    gauge_psi: float | None = None
    pack: str = ""
    elevation_ft: int | None = None
    which: str = ""
    jar: str = ""
    due_min: int | None = None
    due_source: str = ""
    due_psi: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Labelled(Event):
    """The jars of a lot have their label."""

    kind: ClassVar[str] = "labelled"
    version: ClassVar[int] = 1
    lot: str
    hand: Hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured(Event):
    """A picture of a lot was kept beside the record."""

    kind: ClassVar[str] = "pictured"
    version: ClassVar[int] = 1
    lot: str
    name: str
    """File name, given by us."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted(Event):
    """Something was written down of a lot: how it tasted, how it was when opened."""

    kind: ClassVar[str] = "noted"
    version: ClassVar[int] = 1
    lot: str
    about: About
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Recalled(Event):
    """Lots were called back."""

    kind: ClassVar[str] = "recalled"
    version: ClassVar[int] = 2  # 2: late, and how a batch came from a run; see codec
    lots: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended(Event):
    """An entry was a mistake: its movements are taken back, with the reason."""

    kind: ClassVar[str] = "mended"
    version: ClassVar[int] = 2  # 2: late, and how a batch came from a run; see codec
    of: int
    """Sequence of the mistaken entry."""
    changes: tuple[Part, ...]
    """The counter-movements; numbers may be below zero."""
    why: str


AnyEvent = (
    Received
    | Made
    | Taken
    | Moved
    | Counted
    | Checked
    | Held
    | Processed
    | Completed
    | ColdSaid
    | GaugeSaid
    | PutUpSaid
    | Labelled
    | Pictured
    | Noted
    | Recalled
    | Mended
)
SAID_OF_PROCESS = (Held, Processed, Completed, GaugeSaid)
"""What says something of a process since its lot was booked."""
KINDS: dict[str, type[AnyEvent]] = {event.kind: event for event in get_args(AnyEvent)}
