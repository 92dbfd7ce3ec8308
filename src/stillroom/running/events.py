"""What happened on the day, in the past tense: versioned, and never changed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import ClassVar

from stillroom.jar_count import jars_said
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

BOILING_WATER = "boiling-water"
NOTICED = timedelta(seconds=1)
"""A clock that moves by more than this, beside the time that went by, was set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunLoad:
    """A load as the run took it over from the plan; a later plan does not change it."""

    id: str
    """As the plan has it."""
    name: str
    """As it is said in the kitchen: "load 2", counted through the day."""
    canner: str
    process_min: int
    """Published process time, with the keeper's own margin if she has one. [min]"""
    source: str
    """Who publishes the process."""
    how_known: str = ""
    """How the source is known: ``looked_up`` or ``memory``."""
    band: str = ""
    """Elevations that the process is published for, "1,001 to 6,000 ft"."""
    jar: str
    jars: tuple[tuple[str, int], ...]
    """(batch, count) pairs."""
    planned_boil: str = ""
    """Clock time at which the plan has its process begin, "9:34"."""
    method: str = BOILING_WATER
    """``boiling-water``, ``dial-gauge`` or ``weighted-gauge``."""
    pressure_psi: float | None = None
    """Published gauge pressure; `None` in boiling water. [psi]"""
    raw: bool = False
    """Some of its jars are packed raw: they go into cooler water."""
    rest_min: int = 5
    """From the end of the process to the first jar lifted. [min]"""

    @property
    def count(self) -> int:
        """Jars aboard."""
        return sum(count for _, count in self.jars)

    @property
    def contents(self) -> str:
        """What is aboard: "8 pint jars: 4 of pear butter 1, 4 of pear butter 2"."""
        size = self.jar.removesuffix(" jar")
        jars = jars_said(self.count, size)
        if len(self.jars) == 1:
            return f"{jars} of {self.jars[0][0]}"
        return f"{jars}: " + ", ".join(
            f"{count} of {batch}" for batch, count in self.jars
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class RunNeed:
    """So much of a thing that a batch takes, by its recipe."""

    name: str
    unit: str
    """``mg``, ``ul`` or ``pieces``."""
    number: int
    lot: str = ""
    """Code of the lot of the stock that the plan names for it; empty where it names
    none, and in days that were begun before version 3."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunBatch:
    """A batch as the run took it over from the plan: what its lots will say."""

    id: str
    product: str
    food: str
    """Kind of product in the book: "jelly"."""
    recipe: str
    source: str
    multiple: int
    jar: str
    jars: int
    place: str
    """Where it keeps: "pantry", "refrigerator", "freezer"."""
    needs: tuple[RunNeed, ...]
    canned: bool
    elevation_ft: int | None = None
    who: str = ""
    """By the plan."""
    pot: str = ""
    """By the plan."""
    boil_step: str = ""
    """Step of the boil that print times; empty where it has none."""
    boil_min: int | None = None
    boil_s: int | None = None
    """Instead, where the boil that is printed is no whole number of minutes. [s]"""
    closes: str = ""
    """Step at whose end its jars are closed, or it stands where it ``stands``."""
    purpose: str = ""
    stands: str = ""
    """Where it stands past the day, in no closed jar: "in the dryer"; else empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPlan:
    """The plan that a run goes by, whole: it outlives a restart and a new day file."""

    of: str
    """Mark of the day file that it was made of; see `kept_plan.mark_of`."""
    problem: Problem
    timetable: Timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A batch that was given up while the day was planned again."""

    batch: str
    keeps: tuple[str, ...]
    """What stays of it, in words: "4 cups of crabapple juice"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunStep:
    """A step as the run took it over: what it is held against when days are learned."""

    batch: str
    step: str
    product: str
    book_min: int
    """The book's duration, also where the plan used a learned one. [min]"""
    follows: str = ""
    """Step of the batch that it follows without a pause; empty where none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened, and when; the ledger adds when it was recorded."""

    kind: ClassVar[str]
    version: ClassVar[int]
    occurred_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Tapped(Event):
    """Something that was tapped at the stove."""

    late: bool = False
    """It waited on a phone that was cut off; ``occurred_at`` is its own time there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayBegun(Event):
    """The day was begun with these loads."""

    kind: ClassVar[str] = "day-begun"
    version: ClassVar[int] = 4  # 2: batches, steps, kitchen; 3: lots; 4: switched_on
    loads: tuple[RunLoad, ...]
    batches: tuple[RunBatch, ...] = ()
    """None in days that were begun before version 2."""
    plan: KeptPlan | None = None
    """`None` in days that were begun before plans were kept."""
    steps: tuple[RunStep, ...] = ()
    """Steps whose minutes may be learned; none in days of before."""
    kitchen: str = ""
    """Where it is; empty in days of before."""
    switched_on: datetime | None = None
    """When this computer was switched on, by its clock then; none in days of before."""
    boot: str = ""
    """Name of that start of the computer; empty where it has none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FullBoilReached(Tapped):
    """A full boil with the lid on, or the published pressure: the clock started."""

    kind: ClassVar[str] = "full-boil-reached"
    version: ClassVar[int] = 4  # 2: late; 3: boot; 4: vented; see codec
    load: str
    boot: str = ""
    """Name of the start of the computer in which it was tapped; empty where it has
    none, where it came late, and in days of before."""
    vented: str = ""
    """How it is known that steam had streamed before: ``clock``, the vent clock had run
    out; ``said``, she was asked and said so; empty in boiling water and in days of
    before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VentingBegun(Tapped):
    """Steam streams from the vent of a pressure canner: its vent clock started."""

    kind: ClassVar[str] = "venting-begun"
    version: ClassVar[int] = 1
    load: str
    boot: str = ""
    """Name of the start of the computer in which it was tapped; empty where none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VentingStopped(Tapped):
    """The steam stopped, or had not streamed: the vent clock so far counts for none."""

    kind: ClassVar[str] = "venting-stopped"
    version: ClassVar[int] = 1
    load: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilLost(Tapped):
    """The boil stopped, or the pressure fell: the time so far no longer counts."""

    kind: ClassVar[str] = "boil-lost"
    version: ClassVar[int] = 2  # 2: late; see codec
    load: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadLifted(Tapped):
    """The jars were lifted out after the whole process and the rest."""

    kind: ClassVar[str] = "load-lifted"
    version: ClassVar[int] = 2  # 2: late; see codec
    load: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadTakenBack(Tapped):
    """A full boil, or a load lifted out, was said by mistake: it was never so."""

    kind: ClassVar[str] = "load-taken-back"
    version: ClassVar[int] = 1
    load: str
    was: str
    """``full-boil`` or ``lifted``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepBegun(Tapped):
    """A step of a batch was begun."""

    kind: ClassVar[str] = "step-begun"
    version: ClassVar[int] = 2  # 2: late; see codec
    batch: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDone(Tapped):
    """A step of a batch was finished."""

    kind: ClassVar[str] = "step-done"
    version: ClassVar[int] = 2  # 2: late; see codec
    batch: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepTakenBack(Tapped):
    """A step was said begun, or done, by mistake: it is as if that was never said."""

    kind: ClassVar[str] = "step-taken-back"
    version: ClassVar[int] = 1
    batch: str
    step: str
    was: str
    """``begun`` or ``done``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JarBroke(Event):
    """A jar of a load broke, in the canner or on its way."""

    kind: ClassVar[str] = "jar-broke"
    version: ClassVar[int] = 1
    load: str
    batch: str
    crack: str
    """What the crack looks like: "ring", "forked", "star", or "unknown"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JarIsWhole(Event):
    """A jar was booked as broken by mistake: it is as if that was never said."""

    kind: ClassVar[str] = "jar-is-whole"
    version: ClassVar[int] = 1
    load: str
    batch: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTaken(Event):
    """The rest of the day was planned again, and that plan was taken over."""

    kind: ClassVar[str] = "plan-taken"
    version: ClassVar[int] = 3  # 2: taken_in; 3: lots; see codec
    plan: KeptPlan
    loads: tuple[RunLoad, ...]
    """All loads of the day as they are now meant, those that have begun included."""
    sentence: str
    """What it brings, as it was said to whoever took it."""
    left_out: tuple[LeftOut, ...] = ()
    over: tuple[tuple[str, str], ...] = ()
    """(batch, step), or (load, "lower"), taken to be over then, said done or not."""
    taken_in: tuple[RunBatch, ...] = ()
    """Batches that the day was begun without; none before version 2."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockSet(Event):
    """
    The computer's clock was set while the day went on: ``occurred_at`` is by the new.

    What was tapped since the computer was switched on is told by the new clock from
    here on, so that every process clock goes by the time that really went by.
    """

    kind: ClassVar[str] = "clock-set"
    version: ClassVar[int] = 2
    by_ms: int
    """How far on; negative where it was set back. [ms]"""
    switched_on: datetime
    """When this computer was switched on, by the new clock."""
    boot: str = ""
    """Name of that start of the computer; empty where it has none, and in version 1."""

    @property
    def by(self) -> timedelta:
        """How far on it was set."""
        return timedelta(milliseconds=self.by_ms)

    def anew(self, at: datetime) -> datetime:
        """
        Return a moment as this clock shows it.

        Not one from before the computer was switched on: it went by a clock of before.
        Nor one that would lie ahead then: another machine wrote it.
        """
        # in UTC: an hour on the dial may come twice, or never
        moved = at.astimezone(UTC) + self.by
        stays = moved < self.switched_on or moved > self.occurred_at
        return at if stays else moved.astimezone(at.tzinfo)

    def has_moved(self, at: datetime) -> timedelta:
        """Return how far on it moved a moment, that is told by it now."""
        told = self.switched_on <= at <= self.occurred_at
        return self.by if told else timedelta()


AnyEvent = (
    DayBegun
    | VentingBegun
    | VentingStopped
    | FullBoilReached
    | BoilLost
    | LoadLifted
    | LoadTakenBack
    | StepBegun
    | StepDone
    | StepTakenBack
    | JarBroke
    | JarIsWhole
    | PlanTaken
    | ClockSet
)
KINDS: dict[str, type[AnyEvent]] = {
    event.kind: event
    for event in (
        DayBegun,
        VentingBegun,
        VentingStopped,
        FullBoilReached,
        BoilLost,
        LoadLifted,
        LoadTakenBack,
        StepBegun,
        StepDone,
        StepTakenBack,
        JarBroke,
        JarIsWhole,
        PlanTaken,
        ClockSet,
    )
}
