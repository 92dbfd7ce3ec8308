"""Lots and loads that still want something, and what each is asked. Pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.jar_count import counted
from stillroom.refusal import Refusal
from stillroom.stock.choices import Choices
from stillroom.stock.events import Doubt, Labelled, Lot, Made
from stillroom.stock.gauge import has_gauge
from stillroom.stock.lacks import (
    Lack,
)
from stillroom.stock.lotcode import printed

SAID_AS_NONE = {
    Lack.NONE: "Never processed",
    Lack.SHORT: "Processed too short: counts as never",
    Lack.LOW: "Processed under too low a pressure: counts as never",
    Lack.LATE: "Processed too late: counts as never",
    Lack.REFUSED: "No such process is published: counts as never",
}
_OF_ALL = {*SAID_AS_NONE.values(), *(doubt.value.capitalize() for doubt in Doubt)}

NONE_HERE = "none of it is here any more."


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """One lot, and what is still open about it."""

    lot: Lot
    made: Made
    was_in_canner: bool
    """It had a process, be it one that counts as none."""
    number: int
    """Jars at hand, those that were set aside not counted."""
    aside: int
    """Jars set aside: their seal failed, or may have."""
    places: tuple[str, ...]
    held: tuple[str, ...]
    recalled: bool
    """It was called back: its recall sheet says where it is, and whom to tell."""
    went: int
    """How many of it were sold or given."""
    in_doubt: bool
    """Its process was wrong, short, missing or doubted: others are to be told."""
    seals: str
    """What is to be done about its seals, by the clock; empty where they are in."""
    missed: bool
    """The seals were not looked at within their hours."""
    set_: str
    """The same for its set."""
    may_set: bool
    """It is jelly or the like, or nobody knows what it is: a set may be said of it."""
    set_may_be_seen: bool
    """The hour has come at which it may be said that it has set."""
    stands: str
    """Where it stands still, in no closed jar: "in the dryer"; empty where closed."""
    label: Labelled | None
    may_be_labelled: bool
    process: str
    """What its process was, in words; it says so where it was typed in late."""
    choices: Choices | Refusal | None
    """For jars that failed, or had no process or a wrong one."""
    choices_of: str
    """Which jars those are, in words."""
    how_booked: str
    """How a process that it has after all, or anew, is booked; empty: there is none."""
    source: str

    @property
    def code(self) -> str:
        """Its lot code as on the jar."""
        return printed(self.lot.code)

    @property
    def under_pressure(self) -> bool:
        """Whether it was booked in a canner that has a gauge, or a pressure is due."""
        batch = self.made.batch
        return batch.due_psi is not None or has_gauge(batch.canner)

    @property
    def all_may_be_sealed(self) -> bool:
        """Whether "all of them are sealed" may be said of it at this hour."""
        is_early = self.seals.startswith("too early")
        asks = self.seals and self.number and not self.aside and not is_early
        return bool(asks and not self.are_all_in_doubt)

    @property
    def are_all_in_doubt(self) -> bool:
        """Whether its choices are those of every jar: no lid says anything of them."""
        return self.choices_of in _OF_ALL

    @property
    def went_words(self) -> str:
        """Say how many went to others before all were in doubt; empty where none."""
        if not self.went or self.recalled or not self.in_doubt:
            return ""
        return f"{self.lot.measure.words(self.went)} of it went to others already"

    @property
    def is_all_gone(self) -> bool:
        """Whether none of it is here: it is named for the sake of who has it."""
        return not (self.number or self.aside)

    @property
    def all_to_discard(self) -> bool:
        """Whether to discard all its jars is the one thing that is published."""
        if self.choices is None or isinstance(self.choices, Refusal):
            return False
        none_else = all(one.do == "discard" for one in self.choices.troubles)
        return self.are_all_in_doubt and none_else

    @property
    def aside_to_discard(self) -> bool:
        """Whether to discard is the one thing published for those set aside."""
        if self.choices is None or isinstance(self.choices, Refusal):
            return False
        none_else = all(one.do == "discard" for one in self.choices.troubles)
        return bool(self.aside) and none_else and not self.all_to_discard

    @property
    def is_done(self) -> bool:
        """Whether nothing is open any longer."""
        labelled = self.label is not None or not self.may_be_labelled
        return not (self.held or self.aside or self.seals or self.set_) and labelled

    @property
    def wants_looking(self) -> bool:
        """Whether it is to be looked at; a recall alone has nothing to be looked at."""
        only_recalled = self.recalled and len(self.held) == 1
        asks = self.seals or self.set_ or self.aside or self.choices is not None
        asks = bool(asks or not only_recalled)
        return asks and not self.is_done and not self.is_all_gone


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadAfter:
    """The lots of one canner load, or of one day without a load."""

    day: str
    load: int | None
    plan: str
    """By which plan it went, in words, where that is of another day; else empty."""
    out_at: dt.datetime | None
    """When the first of its jars came out; `None` where no hour was said."""
    lots: tuple[Open, ...]

    @property
    def name(self) -> str:
        """As it is said: "load 3"."""
        return f"load {self.load}" if self.load is not None else "without a load"

    @property
    def answered_as_one(self) -> tuple[Open, ...]:
        """Lots of which one answer may be given, where that spares another."""
        found = tuple(lot for lot in self.lots if lot.all_may_be_sealed)
        return found if len(found) > 1 else ()

    @property
    def wants_looking(self) -> bool:
        """Whether any of its lots is to be looked at."""
        return any(lot.wants_looking for lot in self.lots)

    @property
    def is_with_others(self) -> bool:
        """Whether others have jars in doubt of it, and none of those is here."""
        return any(lot.is_all_gone for lot in self.lots)

    @property
    def has_seals(self) -> bool:
        """Whether any of it was to go through a canner, by whatever was said of it."""
        return any(lot.made.batch.canned for lot in self.lots)


def in_doubt_with_others(loads: int) -> str:
    """
    Say of how many loads others have jars in doubt, of which none is here.

    >>> in_doubt_with_others(1)
    '1 load that is in doubt is with others: call them'
    """
    be = "is" if loads == 1 else "are"
    return f"{counted(loads, 'load')} that {be} in doubt {be} with others: call them"
