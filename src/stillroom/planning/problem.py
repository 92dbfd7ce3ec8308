"""
The day as a problem: batches of steps, people, fires, pots, canners, and limits.

There is no fruit in it. Times are whole minutes after ``starts_at``; a figure that is
not whole was rounded up before it came here (a process time never down).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from stillroom.methods.step import Link, Spread, Step
from stillroom.planning.goal_order import Goal


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """A rest that one person takes somewhere in a window."""

    duration_min: int
    earliest_min: int
    latest_start_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Someone who works: from when to when, and what they do alone."""

    id: str
    skills: frozenset[str]
    arrives_min: int
    leaves_min: int
    breaks: tuple[Break, ...] = ()
    away: tuple[tuple[int, int], ...] = ()
    """Fixed absences, start and end: a feed at ten, the school run. [min]"""
    quarters: int = 4
    """Attention there is to give at once, 1 to 4; who minds a baby may have 3."""
    rests_later: bool = False
    """A break is had after leaving: nobody asks her to stay longer without it."""
    goes_then: bool = False
    """She has said so since the day began: nobody asks her to stay longer."""

    @property
    def absences(self) -> tuple[tuple[int, int], ...]:
        """Fixed absences in order, those that touch or overlap as one. [min]"""
        return _apart(self.away)


def _apart(spans: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Spans in order, those that touch or overlap as one."""
    apart: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if apart and start <= apart[-1][1]:
            apart[-1] = (apart[-1][0], max(apart[-1][1], end))
        else:
            apart.append((start, end))
    return tuple(apart)


@dataclass(frozen=True, slots=True, kw_only=True)
class Burner:
    """A fire. Burners alike in everything, covering canners included, are counted."""

    id: str
    power_w: float
    takes: frozenset[str] | None = None
    """Pot sizes that it bears; `None` for all."""
    taken: tuple[tuple[int, int], ...] = ()
    """When it is somebody else's, start and end: the family's supper. [min]"""

    @property
    def taken_apart(self) -> tuple[tuple[int, int], ...]:
        """When it is taken, in order, spans that touch or overlap as one. [min]"""
        return _apart(span for span in self.taken if span[0] < span[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """A pot; pots of one size are alike to the planner."""

    id: str
    size: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ComeUp:
    """From the last jar lowered to a full boil, or to its pressure."""

    minutes: int
    spread: Spread | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Canner:
    """A canner and how long its water takes. It holds all burners that it covers."""

    id: str
    burners: tuple[str, ...]
    places: Mapping[str, int]
    """Jars it takes at once, by jar size."""
    first_heat_min: int
    reheat_min: int
    stays_hot_min: int
    load_min: int
    come_up_min: int
    """From the last jar lowered to a full boil."""
    rest_min: int
    unload_min: int
    come_up_spread: Spread | None = None
    come_up_of: Mapping[str, ComeUp] = field(default_factory=dict)
    """By process, where its jars come up otherwise: raw packs go in cooler."""

    def minutes_up(self, process: str) -> int:
        """Return how long a load of a process comes up. [min]"""
        own = self.come_up_of.get(process)
        return self.come_up_min if own is None else own.minutes

    def spread_up(self, process: str) -> Spread | None:
        """Return the spread of these minutes."""
        own = self.come_up_of.get(process)
        return self.come_up_spread if own is None else own.spread


@dataclass(frozen=True, slots=True, kw_only=True)
class Process:
    """A published process as the planner sees it: one jar size, whole minutes."""

    id: str
    jar: str
    minutes: int
    may_ride_in: tuple[str, ...]
    """Processes of loads that its jars may share; its own among them."""
    pressure_psi: float | None = None
    """Published gauge pressure; `None` in boiling water."""
    raw: bool = False
    """Some of its jars are packed raw: its loads go into cooler water."""
    source: str = ""

    @property
    def jar_size(self) -> str:
        """The size as the day file names it; places are counted by canner as well."""
        return self.jar.partition(", ")[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """When a step may begin by the clock: what drips, thaws or cools is ready then."""

    step: str
    earliest_min: int = 0
    latest_min: int | None = None
    """Latest start."""
    why: str = ""


CLOSED = "(closed)"
Limit = tuple[str, str, str]
"""
A longest wait or a latest hour: batch, step before, step after. Of an hour of the day
the step before is ``""``; of jars that wait closed for the canner it is `CLOSED`, and
the step after is ``""``.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """One pot's worth of work, and the jars it fills."""

    id: str
    product: str
    """What it makes; with the hour of the first want that its jars are for."""
    jars: int
    process: str | None
    """Process id; `None` where nothing goes through a canner."""
    pots: tuple[str, ...]
    """Pot sizes it may be made in; empty where it needs none."""
    ready_after: str
    """Step at whose end its jars are closed."""
    closed_wait_at_most_min: int
    steps: tuple[Step, ...]
    links: tuple[Link, ...]
    windows: tuple[Window, ...] = ()
    contents: str = ""
    """
    What is in its pot, where the name of the product says more (an hour, say): between
    two batches of the same contents a rinse is enough. Empty: the product.
    """
    also_for: tuple[str, ...] = ()
    """Products of later wants that some of its jars are for."""
    jar: str = ""
    """Jar that it fills: which batches fill the same. Empty in runs of before."""

    @property
    def serves(self) -> tuple[str, ...]:
        """Products of all wants that its jars are for, the earliest due first."""
        return (self.product, *self.also_for)


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """All jars of a product out of the canner by a minute; late costs its weight."""

    product: str
    by_min: int
    weight: int = 1
    jars: int = 0
    """How many were promised; 0 in runs of before that was kept."""


def wants_of(wants: Iterable[Want], batches: Iterable[Batch]) -> tuple[Want, ...]:
    """Those of some wants that one of these batches serves."""
    made = {product for batch in batches for product in batch.serves}
    return tuple(want for want in wants if want.product in made)


@dataclass(frozen=True, slots=True, kw_only=True)
class Counter:
    """Where jars cool, and for how long they keep their place."""

    places: int
    cooling_min: int
    taken: tuple[tuple[int, int], ...] = ()
    """Jars of the day before, and the minute until which they keep their places."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """A whole day to be planned."""

    starts_at: str
    """Clock time of minute 0, "07:30"."""
    horizon_min: int
    people: tuple[Person, ...]
    burners: tuple[Burner, ...]
    pots: tuple[Pot, ...]
    mills: int
    canners: tuple[Canner, ...]
    counter: Counter
    processes: tuple[Process, ...]
    batches: tuple[Batch, ...]
    wants: tuple[Want, ...] = ()
    done_by_min: int | None = None
    """The hour by which she would like to be done."""
    first: tuple[Goal, ...] = ()
    """Goals that she puts before the others, in her order."""
