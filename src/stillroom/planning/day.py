"""What the keeper gives: her kitchen, her people, the shelf, and what she wants."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum

from stillroom.methods.kitchen import Kitchen
from stillroom.methods.step import Skill
from stillroom.planning.goal_order import Goal


class Purpose(StrEnum):
    """Whom the jars are for."""

    PANTRY = "pantry"
    STAND = "stand"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """A break: so long, begun somewhere between two clock times."""

    minutes: int
    earliest: dt.time
    latest: dt.time
    """Latest start."""

    def comes_after(self, comes: dt.time, goes: dt.time) -> bool:
        """
        Whether it has no room in somebody's hours, and may be begun after them.

        >>> noon = Rest(minutes=40, earliest=dt.time(11, 30), latest=dt.time(13, 30))
        >>> noon.comes_after(dt.time(7), dt.time(12))
        True
        >>> noon.comes_after(dt.time(7), dt.time(12, 10))  # it ends as she goes
        False
        """
        first = max(self.earliest, comes)
        over = first.hour * 60 + first.minute + self.minutes
        return over > goes.hour * 60 + goes.minute and self.latest >= goes


@dataclass(frozen=True, slots=True, kw_only=True)
class Helper:
    """Someone who works in the kitchen that day."""

    name: str
    comes: dt.time
    goes: dt.time
    can: frozenset[Skill]
    breaks: tuple[Rest, ...] = ()
    away: tuple[tuple[dt.time, dt.time], ...] = ()
    quarters: int = 4
    """Attention to give at once, in quarters."""

    def rests_after(self, ends: dt.time) -> tuple[Rest, ...]:
        """
        Return the breaks of who goes before the day ends that are had after that.

        Who stays to the end rests within the day: were it longer, so would she.
        """
        if self.goes >= ends:
            return ()
        return tuple(r for r in self.breaks if r.comes_after(self.comes, self.goes))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """
    Something on the shelf. Exactly one of volume, mass and count is known.

    Frozen juice comes in bags of one measured volume: ``bags`` of ``bag_m3`` each, and
    ``volume_m3`` is their sum.
    """

    name: str
    what: str
    """Its plain name: "plum juice", "pears", "sugar", "half-pint jars", "lids"."""
    volume_m3: float | None = None
    mass_kg: float | None = None
    count: int | None = None
    bags: int = 0
    bag_m3: float | None = None
    frozen: bool = False
    use_by: dt.date | None = None
    ready: dt.time | None = None
    """It drips, thaws or soaks until then, and is not taken before."""
    paid: float | None = None
    """What the whole lot cost, in the keeper's money."""
    typed: str = ""
    """The quantity as the keeper wrote it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """So many jars of a product, by a time, for the pantry or the stand."""

    product: str
    jars: int
    jar: str
    purpose: Purpose = Purpose.PANTRY
    by: dt.time | None = None
    """Out of the canner by this time of the day."""
    weight: int = 1
    """How much a minute late matters."""
    matters: int = 3
    """1 to 5: what matters most is left out last on a day too small for all."""
    multiple: int | None = None
    """The keeper's own multiple of the tested batch; `None` for one at a time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A whole day as the keeper describes it."""

    name: str
    date: dt.date
    starts: dt.time
    ends: dt.time
    """No step goes past it."""
    kitchen: Kitchen
    people: tuple[Helper, ...]
    shelf: tuple[Lot, ...]
    wants: tuple[Want, ...]
    done_by: dt.time | None = None
    """The hour by which she would like to be done."""
    first: tuple[Goal, ...] = ()
    """What counts before everything else, in her order."""
    without: tuple[str, ...] = ()
    """Batches that are not made, by their names in the plan: their fruit is kept."""
    invented: bool = False
    """Demo and example days say so."""
    as_published: bool = False
    """Plan with the book's figures alone, also where past days taught others."""
