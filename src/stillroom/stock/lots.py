"""Lots, and how they were made: what an entry of the stock is about."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum

from stillroom.measures import minutes_said
from stillroom.stock.amounts import Measure


class Kind(StrEnum):
    """What sort of thing a lot is."""

    RAW = "raw"
    BOUGHT = "bought"
    HALF_MADE = "half-made"
    FILLED = "jars filled"
    JARS = "jars"
    LIDS = "lids"


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
    kept_dry: bool = False
    """Somebody said that it is kept dry in its jars: it is no canning."""


FINISHED = {
    "in the dryer": "dry and closed in jars",
    "in the crock": "done fermenting and packed in jars",
}
"""What ends the standing of what was in no closed jar when its day was over."""


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
    boil_s: int | None = None
    """Instead, where it was no whole number of minutes. [s]"""
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
    filled_at: str = ""
    """Clock time at which the jars were filled and closed."""
    out_on: str = ""
    """Day on which the jars came out, "2026-09-13", where it is not the lot's own."""
    process_began: str = ""
    """Clock time of the full boil, or the pressure, from which the process counts."""
    stood_min: int | None = None
    """From the closing of the jars to that moment, as it was tapped at the stove;
    `None` by hand, and in entries of before. [min]"""
    times_lost: int = 0
    """How often the boil or the pressure was lost, and the time begun anew."""
    broken: int = 0
    """Jars that broke in the canner; they were never booked."""
    run: str = ""
    """The run at the stove that it was booked from, "run/2026-09-12"."""
    run_batch: str = ""
    run_load: str = ""
    number: int = 0
    """Number of the batch on its day, as in the lot code; 0 where it was not kept."""
    utc_offset_min: int | None = None
    """Of the kitchen's clock on that day; `None` where an old entry has none. [min]"""
    filled_offset_min: int | None = None
    """The same when the jars were filled, where it was another. [min]"""
    pack: str = ""
    """"hot" or "raw"; empty where it was not said, as in all old entries."""
    gauge_psi: float | None = None
    """What the gauge read; `None` where nobody said, as in all old entries. [psi]"""
    due_psi: float | None = None
    """Published gauge pressure; `None` in boiling water and in old entries. [psi]"""
    unbooked: str = ""
    """What went in that the stock had none of, in words: its lots are not known."""
    stands: str = ""
    """Where it was put on its day, in no closed jar: "in the dryer"; see `stands`."""

    @property
    def finished(self) -> str:
        """What it is when it ``stands`` there no longer: the words of its key."""
        return FINISHED.get(self.stands, "finished and closed in jars")

    @property
    def filled_called(self) -> str:
        """What the clock time of its filling is the time of."""
        return f"Put {self.stands}" if self.stands else "Filled and closed"

    @property
    def boiled(self) -> str:
        """How long it boiled, in words; empty where nobody said."""
        if self.boil_s is None and self.boil_min is None:
            return ""
        return minutes_said((self.boil_s or 60 * (self.boil_min or 0)) / 60)
