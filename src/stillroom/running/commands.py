"""What was asked at the stove: each with its time, and how much of the run was seen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from stillroom.running.events import (
    KeptPlan,
    LeftOut,
    RunBatch,
    RunLoad,
    RunStep,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """
    Something asked, by the server's clock.

    ``seen`` is the last sequence of the run that the hand had before it; `None` where
    nothing was shown. It makes a second tap on the same key harmless, and stops a tap
    on an old screen from starting a clock that someone else has just stopped.
    """

    at: datetime
    seen: int | None = None
    late: bool = False
    """It waited on a phone that was cut off: ``at`` is when it was tapped there."""
    boot: str = ""
    """Name of this start of the computer; empty where it has none, or is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginDay(Asked):
    """Begin the day with these loads."""

    loads: tuple[RunLoad, ...]
    batches: tuple[RunBatch, ...] = ()
    plan: KeptPlan | None = None
    """What the run goes by; without it there is nothing to plan again from."""
    steps: tuple[RunStep, ...] = ()
    """Steps whose minutes may be learned from the day."""
    kitchen: str = ""
    switched_on: datetime | None = None
    """When this computer was switched on, by the clock of ``at``; if that is known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkFullBoil(Asked):
    """The canner is at a full boil now: start the process clock."""

    load: str
    sure: bool = False
    """She was asked what `asked_first` asks, and said yes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkVenting(Asked):
    """Steam streams from the vent now: start the vent clock."""

    load: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkVentingStopped(Asked):
    """The steam stopped, or did not stream: the vent clock was not to run."""

    load: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkBoilLost(Asked):
    """The boil was lost."""

    load: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftLoad(Asked):
    """The jars are being lifted out."""

    load: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeLoadBack(Asked):
    """It was said by mistake that a load is at a full boil, or lifted out."""

    load: str
    was: str
    """``full-boil`` or ``lifted``."""
    said_at: datetime | None = None
    """When that was said, as it was shown; `None` for whatever stands now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginStep(Asked):
    """A step of a batch is begun now."""

    batch: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishStep(Asked):
    """A step of a batch is done."""

    batch: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeStepBack(Asked):
    """It was said by mistake that a step of a batch is begun, or done."""

    batch: str
    step: str
    was: str
    """``begun`` or ``done``."""
    said_at: datetime | None = None
    """When that was said, as it was shown; `None` for whatever stands now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakJar(Asked):
    """A jar of a load broke."""

    load: str
    batch: str = ""
    """May be left out where the load has one batch only."""
    crack: str = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeJarBack(Asked):
    """A jar of a load was booked as broken by mistake."""

    load: str
    batch: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TakePlan(Asked):
    """Go by a new plan for the rest of the day, as it was shown."""

    plan: KeptPlan
    loads: tuple[RunLoad, ...]
    sentence: str
    left_out: tuple[LeftOut, ...] = ()
    over: tuple[tuple[str, str], ...] = ()
    """(batch, step) that is taken to be over, said done or not."""
    taken_in: tuple[RunBatch, ...] = ()
    """Batches that the day was begun without."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteClockSet(Asked):
    """The computer's clock was set; ``at`` is by the new one."""

    by: timedelta
    """How far on; negative where it was set back."""
    switched_on: datetime
    """When this computer was switched on, by the new clock."""

    def by_since(self, known: datetime | None, boot: str) -> timedelta:
        """
        Return how far on it was set beyond the clock by which a run is told.

        ``known`` is when the computer was switched on by that clock, ``boot`` the name
        of that start. Another program may have told a part of it, or begun the day in
        between, while this one was not looked at. What was told before the computer
        was switched on is no part of it.
        """
        if known is None:
            return self.by
        now = self.switched_on
        if self.boot and boot:
            same = self.boot == boot
        else:  # not known: it is the same if it lies on the way
            was = now - self.by
            same = min(was, now) <= known <= max(was, now)
        return now - known if same else self.by


Command = (
    BeginDay
    | MarkFullBoil
    | MarkVenting
    | MarkVentingStopped
    | MarkBoilLost
    | LiftLoad
    | TakeLoadBack
    | BeginStep
    | FinishStep
    | TakeStepBack
    | BreakJar
    | TakeJarBack
    | TakePlan
    | NoteClockSet
)
