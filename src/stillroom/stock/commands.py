"""What was asked of the stock: each with its time and the name of the request."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.stock.amounts import Measure, Unit
from stillroom.stock.events import About, Batch, Doubt, Hand, How, Kind, Seen, Way


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
    kept_dry: bool = False
    """Dry in its jars, in no liquid: no canning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Something asked, by the server's clock, in the kitchen's time zone."""

    at: dt.datetime
    token: str = ""
    """Named once for each request: the same one again books nothing."""
    late: bool = False
    """Typed in later than it happened; ``at`` is then the writer's own time."""


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
    """Hold the shelf against the record."""

    lot: str
    quantity: str
    """What was counted; "0" is allowed here."""
    place: str = ""
    why: str = ""
    counted_at: dt.datetime | None = None
    """When it was counted, where that was before ``at``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Make(Asked):
    """Book a lot that was made, with what went into it."""

    thing: Incoming
    inputs: tuple[tuple[str, str], ...]
    """(lot, quantity) pairs."""
    batch: Batch
    on: dt.date


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """So much of a thing that went into a batch, by its recipe."""

    name: str
    unit: Unit
    number: int
    lot: str = ""
    """Code of the lot that the plan named for it; it is drawn from first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """One batch of one canner load, as a run at the stove has it."""

    thing: Incoming
    batch: Batch
    needs: tuple[Need, ...]
    """Drawn from the stock when it is booked: what the plan named, then first expired
    first out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MakeFromRun(Asked):
    """Book the lots of a run: those that were booked before are left out."""

    on: dt.date
    makings: tuple[Making, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CountShelf(Asked):
    """Hold several lots of one shelf against the record, all of them or none."""

    place: str
    counts: tuple[tuple[str, str], ...]
    """(lot, quantity) pairs."""
    counted_at: dt.datetime | None = None
    """When they were counted, where that was before ``at``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold(Asked):
    """Put the canner load of a lot on hold: something was wrong with it."""

    doubt: Doubt
    lot: str = ""
    day: dt.date | None = None
    load: int | None = None
    """Day and load instead of a lot, where none of the load is booked yet."""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Process(Asked):
    """Say that a process took place, with its start, its end and who was there."""

    lot: str
    began: dt.datetime
    ended: dt.datetime
    who: str
    canner: str = ""
    gauge: str = ""
    """What its gauge read, as it was typed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Complete(Asked):
    """Say of a lot what was not said when it was booked; empty: nothing of it."""

    lot: str
    elevation_ft: int | None = None
    which: str = ""
    """Which of the products that its name may mean."""
    jar: str = ""
    canner: str = ""
    pack: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SayCold(Asked):
    """Say of a place of a lot, whose name leaves it open, that it was cold."""

    lot: str
    place: str
    """Empty where only one is asked about."""
    cold: str
    """Refrigerator or freezer."""
    who: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SayGauge(Asked):
    """Say what the gauge of a canner load read, which was not said before."""

    lot: str
    gauge: str
    """As it was typed."""
    who: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SayPutUp(Asked):
    """Say how jars were put up that came in as they stand; who knows it."""

    lot: str
    how: How
    who: str
    minutes: int | None = None
    """Its process and what belongs to it; empty where it had none here. [min]"""
    canner: str = ""
    gauge: str = ""
    """What its gauge read, as it was typed."""
    pack: str = ""
    elevation_ft: int | None = None
    which: str = ""
    """Which of the products that its name may mean."""
    jar: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label(Asked):
    """Say that the jars of a lot have their label."""

    lot: str
    hand: Hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture(Asked):
    """Say that a picture of a lot was kept."""

    lot: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Asked):
    """Write something down of a lot."""

    lot: str
    about: About
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Asked):
    """Book what was seen the day after."""

    lot: str
    good: int | None = None
    """`None` where nothing was said of the seals; with ``all_good`` it is reckoned."""
    failed: int = 0
    doubtful: int = 0
    all_good: bool = False
    """All that are at hand are sealed, as many as the record has."""
    seen: Seen | None = None
    place: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLoad(Asked):
    """Book that every lid of a canner load is sealed: all of its lots, or none."""

    jars: tuple[tuple[str, int], ...]
    """Each lot, and how many jars of it were looked at."""


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


Command = (
    Receive
    | Take
    | Move
    | Count
    | CountShelf
    | Make
    | MakeFromRun
    | Check
    | CheckLoad
    | Hold
    | Process
    | Complete
    | SayCold
    | SayGauge
    | SayPutUp
    | Label
    | Picture
    | Note
    | Recall
    | Mend
)
