"""
Lots of the last days at the stove that are in no book yet, and what they wait for.

Jars whose process was never started have no lot, and so no hold: the day after is not
over while there are such, whatever the lots say that were booked.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from functools import cached_property

from stillroom.capital import capital
from stillroom.in_a_list import all_of
from stillroom.jar_count import counted
from stillroom.records.ledger import Ledger
from stillroom.running.fold import RunState
from stillroom.running.handle import PREFIX, lately_written
from stillroom.running.lots_made import LotMade, day_of_lots, lots_made
from stillroom.stock.fold import Stock
from stillroom.stock.words import said_day

MOST_NAMED = 3
LET_GO_DAYS = 3
"""A run older than this is no longer asked whether its canner was run."""


@dataclass(frozen=True)
class NotBooked:
    """What a day at the stove made and nobody booked."""

    plan_day: str
    """The day of its plan, by which its page is found."""
    day: str
    """The day that its lots bear."""
    lots: tuple[LotMade, ...]

    @cached_property
    def asks(self) -> str:
        """The question; of a canner only where there was one."""
        canned = any(lot.load for lot in self.lots)
        return "Was every load processed?" if canned else "Is everything booked?"

    @cached_property
    def ready(self) -> int:
        """How many could be booked now."""
        return sum(lot.ready for lot in self.lots)

    @cached_property
    def waiting(self) -> tuple[str, ...]:
        """What the others wait for, each once: "load 2 (...): its process was ..."."""
        by_words: dict[str, dict[str, list[str]]] = {}
        for lot in self.lots:
            if not lot.ready:
                by_load = by_words.setdefault(lot.waits_for, {})
                by_load.setdefault(lot.load, []).append(lot.batch)
        return tuple(
            f"{all_of(_named(by_load))}: {words}" for words, by_load in by_words.items()
        )

    @cached_property
    def sentence(self) -> str:
        """All of it, as the page and the command line say it."""
        said = []
        if self.ready:
            be = "is" if self.ready == 1 else "are"
            lots = f"{counted(self.ready, 'lot')} of {said_day(self.day)}"
            said.append(f"{lots} {be} not booked yet{self._which}")
        said += self.waiting
        return "".join(f"{capital(one)}. " for one in said).strip()

    @property
    def _which(self) -> str:
        """Which are ready, where they are so few that they are told from the others."""
        ready = [lot for lot in self.lots if lot.ready]
        if len(ready) > MOST_NAMED:
            return ""
        by_load: dict[str, list[str]] = {}
        for lot in ready:
            by_load.setdefault(lot.load, []).append(lot.batch)
        return f": {all_of(_named(by_load))}"


def _named(by_load: dict[str, list[str]]) -> list[str]:
    """Each load once, with its batches; what needs no canner by itself."""
    names: list[str] = []
    for load, batches in by_load.items():
        names += [f"{load} ({all_of(batches)})"] if load else batches
    return names


def not_booked(ledger: Ledger, stock: Stock, at: dt.datetime) -> tuple[NotBooked, ...]:
    """Return what of each of the last runs wants booking, or asking; newest first."""
    runs = lately_written(ledger).items()
    found = (_not_booked(state, run, stock, at) for run, state in runs)
    return tuple(one for one in found if one is not None)


def _not_booked(
    state: RunState, run: str, stock: Stock, at: dt.datetime
) -> NotBooked | None:
    if state.last_at is None or (at - state.last_at).days >= LET_GO_DAYS:
        return None
    lots = tuple(
        lot
        for lot in lots_made(state, run, stock, at.tzinfo)
        if not lot.booked and lot.is_asked_about(state, at)
    )
    if not lots:
        return None
    day = day_of_lots(state, run, stock, at.tzinfo).isoformat()
    return NotBooked(run.removeprefix(PREFIX), day, lots)
