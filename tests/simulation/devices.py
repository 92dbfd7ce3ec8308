"""Phones and the desk: what each has on its screen, and what it still wants to send."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import Any

from tests.simulation.forms import Form
from tests.simulation.made_model import DaysLots
from tests.simulation.shelf_words import Deed, ShelfCount
from tests.simulation.stove_model import Tap


@dataclass
class Post:
    """A form that was pressed; sent again it is the very same."""

    action: str
    data: dict[str, Any]
    asked: Deed | Tap | DaysLots | ShelfCount

    @property
    def said(self) -> str:
        """In a few words, for the trace."""
        asked = self.asked
        if isinstance(asked, DaysLots | ShelfCount):
            return asked.said
        if isinstance(asked, Tap):
            return f"{asked.asks} {asked.load or asked.step} seen {asked.seen}"
        return " ".join(
            str(part)
            for part in (asked.kind, asked.lot, asked.place, asked.number, asked.to)
            if part
        ) + (f" {asked.said}" if asked.said else "")


@dataclass
class Device:
    """One screen. What it shows may be old; what it sent may not have arrived."""

    name: str
    window: int
    ahead_s: float
    """So far is its own clock ahead of the house's; below zero, behind."""
    rows: list[Form] = field(default_factory=list)
    """Forms of the stock page as it was read last."""
    keys: list[Form] = field(default_factory=list)
    """Forms of the stove page as it was read last."""
    pocket: list[Post] = field(default_factory=list)
    """Drawn and not yet pressed."""
    unsure: list[Post] = field(default_factory=list)
    """Sent, and no answer came."""
    asked: list[tuple[str, Deed]] = field(default_factory=list)
    """Counts that are asked about first, and where that is answered."""

    def own_time(self, now: dt.datetime) -> dt.datetime:
        """Return what its own clock says, to the millisecond as a browser knows it."""
        own = now + dt.timedelta(seconds=self.ahead_s)
        return own.replace(microsecond=own.microsecond // 1000 * 1000)


def code_of(printed: str) -> str:
    """Return a lot code as the record has it, from how a page prints it."""
    return printed.removeprefix("L").replace("-", "")


def printed(code: str) -> str:
    """Return it as it is typed at the command line."""
    return f"L{code[:5]}-{code[5:]}"
