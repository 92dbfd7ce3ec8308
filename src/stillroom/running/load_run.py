"""
One load of a run, and how it stands at a moment.

A clock is no counter: it is a deadline that follows from when the boil was reached.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from stillroom.methods.canner_water import VENT_MIN
from stillroom.running.events import RunLoad


class Phase(StrEnum):
    """How a load stands at a moment."""

    WAITING = "not yet on the clock"
    VENTING = "vent clock runs"
    VENTED = "vented: close the vent"
    BOILING = "process clock runs"
    LOST = "lost: the whole time again"
    RESTING = "done, resting"
    READY = "ready to lift out"
    LIFTED = "lifted out"


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadRun:
    """One load of the run: since when it boils (or has pressure), whether it is out."""

    load: RunLoad
    venting_since: datetime | None = None
    """Since when steam streams from the vent, by the last time that it was said."""
    vented: str = ""
    """How it is known that the canner was vented: ``clock``, ``said``, or empty."""
    boiling_since: datetime | None = None
    boot: str = ""
    """Name of the start of the computer in which its last clock was started; empty
    where that is not known."""
    lifted_at: datetime | None = None
    times_lost: int = 0
    broken: tuple[tuple[str, str], ...] = ()
    """(batch, crack) of each jar that broke."""
    changed: int = 0
    """Sequence of the last event that touched it."""
    late: bool = False
    """Whether something of it was sent after its own time, from a phone cut off."""

    @property
    def has_begun(self) -> bool:
        """Whether it was ever at a full boil."""
        return self.boiling_since is not None or self.times_lost > 0

    @property
    def is_in(self) -> bool:
        """Whether its jars went into the canner: steam streams from it, or it began."""
        return self.venting_since is not None or self.has_begun

    @property
    def vented_at(self) -> datetime | None:
        """When steam will have streamed for its 10 min; `None` without a vent clock."""
        return _whole_min_after(self.venting_since, VENT_MIN)

    @property
    def deadline(self) -> datetime | None:
        """When the whole process time will have been at a full boil."""
        return _whole_min_after(self.boiling_since, self.load.process_min)

    @property
    def may_lift_at(self) -> datetime | None:
        """The deadline and the rest after it."""
        if self.deadline is None:
            return None
        return self.deadline + timedelta(minutes=self.load.rest_min)

    @property
    def whole(self) -> int:
        """How many of its jars did not break: those are lowered, and lifted out."""
        return max(0, self.load.count - len(self.broken))

    @property
    def all_broke(self) -> bool:
        """Whether no jar of it is left, so that there is nothing to process."""
        return self.load.count > 0 and not self.whole

    def phase(self, at: datetime) -> Phase:
        """Return how it stands at a moment."""
        if self.lifted_at is not None:
            return Phase.LIFTED
        if self.deadline is None or self.may_lift_at is None:
            if self.vented_at is not None:
                return Phase.VENTING if at < self.vented_at else Phase.VENTED
            return Phase.LOST if self.times_lost else Phase.WAITING
        if at < self.deadline:
            return Phase.BOILING
        return Phase.RESTING if at < self.may_lift_at else Phase.READY


def _whole_min_after(since: datetime | None, minutes: int) -> datetime | None:
    """So long after a moment, up to the whole second: no clock ever shows it early."""
    if since is None:
        return None
    end = since + timedelta(minutes=minutes)
    return end + timedelta(microseconds=-end.microsecond % 1_000_000)
