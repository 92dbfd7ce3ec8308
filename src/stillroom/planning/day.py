"""What the keeper gives: her kitchen, her people, the shelf, and what she wants."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations, permutations

from stillroom.methods.kitchen import Kitchen
from stillroom.methods.step import Skill
from stillroom.planning.goal_order import Goal

Span = tuple[dt.time, dt.time]


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


MOST_ORDERED = 5
"""So many breaks of one person are tried in every order; of more each by itself."""


def have_room(rests: Sequence[Rest], away: Sequence[Span], hours: Span) -> bool:
    """
    Whether all breaks can be taken within hours, beside each other and what is away.

    >>> noon = Rest(minutes=40, earliest=dt.time(11, 30), latest=dt.time(13, 30))
    >>> have_room((noon,), (), (dt.time(7), dt.time(12)))
    False
    >>> have_room((noon,), (), (dt.time(7), dt.time(12, 10)))  # it ends as she goes
    True
    """
    if len(rests) > MOST_ORDERED:
        return all(_fit((rest,), away, hours) for rest in rests)
    return any(_fit(order, away, hours) for order in permutations(rests))


def _fit(order: Sequence[Rest], away: Sequence[Span], hours: Span) -> bool:
    """Whether breaks can be taken in an order: each as early as it can be."""
    free = minute_of(hours[0])
    for rest in order:
        start = max(free, minute_of(rest.earliest))
        for gone, back in sorted(away):
            if start < minute_of(back) and start + rest.minutes > minute_of(gone):
                start = minute_of(back)
        if start > minute_of(rest.latest):
            return False
        free = start + rest.minutes
    return free <= minute_of(hours[1])


def had_after(
    rests: Sequence[Rest], away: Sequence[Span], hours: Span, ends: dt.time
) -> tuple[int, ...]:
    """
    Return the numbers of the breaks of who goes before the day ends that are had then.

    As few as may be, those first that may be begun last, and only such as may be begun
    after she goes. Who stays to the end rests within the day: were it longer, so would
    she.
    """
    goes = hours[1]
    if goes >= ends:
        return ()
    may = [n for n, rest in enumerate(rests) if rest.latest >= goes]
    may.sort(key=lambda n: rests[n].latest, reverse=True)
    for number in range(len(may) + 1):
        for after in combinations(may, number):
            here = [rest for n, rest in enumerate(rests) if n not in after]
            if have_room(here, away, hours):
                return tuple(sorted(after))
    return tuple(sorted(may))


def minute_of(clock: dt.time) -> int:
    """Minute of the day of a clock time."""
    return clock.hour * 60 + clock.minute


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
        """Return the breaks that are had after she has gone, before the day ends."""
        return tuple(self.breaks[n] for n in self._had_after(ends))

    def rests_here(self, ends: dt.time) -> tuple[Rest, ...]:
        """Return the breaks that are had within her hours."""
        after = self._had_after(ends)
        return tuple(rest for n, rest in enumerate(self.breaks) if n not in after)

    def _had_after(self, ends: dt.time) -> tuple[int, ...]:
        return had_after(self.breaks, self.away, (self.comes, self.goes), ends)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """
    Something on the shelf. Exactly one of volume, mass and count is known.

    What is frozen comes in bags alike: ``bags`` of ``bag_m3`` each, and ``volume_m3``
    is their sum; or of ``bag_kg`` each, and ``mass_kg`` is.
    """

    name: str
    what: str
    """Its plain name: "plum juice", "pears", "sugar", "half-pint jars", "lids"."""
    volume_m3: float | None = None
    mass_kg: float | None = None
    count: int | None = None
    bags: int = 0
    bag_m3: float | None = None
    bag_kg: float | None = None
    frozen: bool = False
    use_by: dt.date | None = None
    ready: dt.time | None = None
    """It drips, thaws or soaks until then, and is not taken before."""
    paid: float | None = None
    """What the whole lot cost, in the keeper's money."""
    typed: str = ""
    """The quantity as the keeper wrote it."""

    def past_use(self, on: dt.date) -> str:
        """Say that its day of use is past on a day, by how much, and what to do."""
        if self.use_by is None or self.use_by >= on:
            return ""
        return (
            f"{self.name}: to be used by {self.use_by:%-d %B %Y}, and that day is past "
            f"by {_so_long((on - self.use_by).days)}; look and smell, discard what is "
            "doubtful, and take off the shelf of the day what you would not eat"
        )


def _so_long(days: int) -> str:
    """
    Days in words, of many the months or years that are over.

    >>> _so_long(1), _so_long(59), _so_long(100), _so_long(2425)
    ('1 day', '59 days', 'more than 3 months', 'more than 6 years')
    """
    if days < 60:
        return f"{days} day{'' if days == 1 else 's'}"
    if days < 2 * 366:
        return f"more than {int(days / 30.5)} months"
    return f"more than {int(days / 365.25)} years"


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
    evening_from: dt.datetime | None = None
    """When a day planned before this one is over; no evening before begins sooner."""
