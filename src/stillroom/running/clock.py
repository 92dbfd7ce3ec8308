"""The only place of the run that asks the time."""

from __future__ import annotations

from datetime import datetime
from typing import Protocol


class Clock(Protocol):
    """Tells the time; a test brings its own."""

    def now(self) -> datetime:
        """Return the moment, with a time zone."""
        ...


class WallClock:
    """The computer's clock, in the computer's time zone."""

    def now(self) -> datetime:
        """Return the moment, in local time."""
        return datetime.now().astimezone()
