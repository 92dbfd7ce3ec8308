"""
How far the shelf goes: own use a week, weeks of cover, and the season to come. Pure.

Own use is what was eaten or drawn, not what was made. What had no process, or a wrong
one, is no pantry stock and is not counted here; nor is what stood too long to be
eaten, which is said beside it.
"""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass

from stillroom.book.words import plain
from stillroom.jar_count import counted
from stillroom.planning.which_batches.year import Opinion, year_want
from stillroom.refusal import Refusal
from stillroom.stock.amounts import JAR_SIZES
from stillroom.stock.cold_days import keeps_for_days
from stillroom.stock.eaten_no_more import eaten_no_more
from stillroom.stock.events import SET_ASIDE, Kind, Way
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.lacks import is_in_doubt
from stillroom.stock.making import product_kind
from stillroom.stock.of_held import recall_of
from stillroom.stock.words import begun

OWN_USE = (Way.EATEN, Way.DRAWN)
WINDOW = dt.timedelta(weeks=52)
SHORTEST = dt.timedelta(weeks=4)
"""A shorter time says nothing of a week's use."""
SEASON = dt.timedelta(days=365)
"""New ones come a year after the last were put up, where nothing else is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """One product in one jar size."""

    what: str
    part: str
    """Jar size: "quart"."""
    on_hand: int
    past: int
    """There, and eaten no more: too long in oil, or unsealed and warm."""
    used: int
    """Eaten or drawn in the time looked at."""
    weeks_looked: float
    gone: tuple[tuple[Way, int], ...]
    """All that left the shelf in that time, by way."""
    next_in_weeks: float | None
    """Until new ones come; `None` where no day of the last is known."""
    last_put_up: str
    """Day of the newest lot."""

    @property
    def a_week(self) -> float | None:
        """Own use a week; `None` where the time is too short to say."""
        if self.weeks_looked * 7 < SHORTEST.days:
            return None
        return self.used / self.weeks_looked

    @property
    def weeks(self) -> float | None:
        """How long what is on hand goes; `None` where it is not used at all."""
        rate = self.a_week
        return self.on_hand / rate if rate else None

    @property
    def short_exact(self) -> float | None:
        """Jars short until new ones come; 0 where there is enough."""
        if self.a_week is None or self.next_in_weeks is None:
            return None
        return max(0.0, self.a_week * self.next_in_weeks - self.on_hand)

    @property
    def short(self) -> int | None:
        """The same in whole jars, rounded up."""
        short = self.short_exact
        return None if short is None else math.ceil(short - 1e-9)

    @property
    def a_year(self) -> tuple[int, int] | None:
        """Jars that a year takes: own use, and with what was given and sold."""
        if self.a_week is None:
            return None
        others = sum(n for way, n in self.gone if way in (Way.GIVEN, Way.SOLD))
        weeks = self.weeks_looked
        low, high = self.used / weeks * 52, (self.used + others) / weeks * 52
        return math.ceil(low - 1e-9), math.ceil(high - 1e-9)

    @property
    def words(self) -> str:
        """The answer in a sentence without its full stop."""
        if not self.past:
            return self._how_far
        are = "is" if self.past == 1 else "are"
        return (
            f"{self._how_far}; {self.past} stood too long to be eaten and {are} not "
            "counted"
        )

    @property
    def _how_far(self) -> str:
        said = f"{counted(self.on_hand, self.part)} of {self.what}"
        if not self.on_hand:
            said = f"no {said[2:]} are left"
        if self.a_week is None:
            return f"{said}; in the record for less than 4 weeks: too short to say"
        if not self.used:
            return (
                f"{said}; none used in {self.weeks_looked:.0f} weeks: do not make more"
            )
        if self.on_hand:
            said += f" at {self.a_week:.2g} a week: {self._weeks_words()}"
        else:
            # "0.019 a week" is a jar a year: that is said as it was counted
            was = "was" if self.used == 1 else "were"
            said += f"; {self.used} {was} used in {self.weeks_looked:.0f} weeks"
        if self.next_in_weeks is None or self.short is None:
            return said
        weeks = round(self.next_in_weeks)
        due = f"in {counted(weeks, 'week')}" if weeks else "are due now"
        said += f"; new ones {due}"
        if self.short:
            return f"{said}: {self.short} short ({self.short_exact:.1f})"
        return f"{said}: enough" if self.on_hand else said

    def _weeks_words(self) -> str:
        """How long it goes: "12.9 weeks", and never "0.0 weeks"."""
        weeks = self.weeks or 0.0
        return f"{weeks:.1f} weeks" if weeks >= 0.1 else "less than a day"


def covers(
    stock: Stock,
    at: dt.datetime,
    *,
    what: str = "",
    next_in_weeks: float | None = None,
) -> tuple[Cover, ...]:
    """
    Return how far each product goes, what runs out first at the top.

    Parameters
    ----------
    stock : Stock
        What is there, and what was eaten.
    at : datetime
        Now.
    what : str
        Only this product.
    next_in_weeks : float, optional
        When new ones come; else a year after the last were put up.
    """
    found: dict[tuple[str, str], list[str]] = {}
    codes = stock.named(plain(what)) if what else tuple(stock.lots)
    stock.bring(codes)
    for code in codes:
        lot = stock.lots[code]
        if lot.kind is not Kind.FILLED or stock.is_undone(code):
            continue
        found.setdefault((plain(lot.what), lot.measure.part), []).append(code)
    rows = [_cover(stock, codes, at, next_in_weeks) for codes in found.values()]
    rows = [row for row in rows if row.on_hand or row.used or row.past]
    return tuple(
        sorted(rows, key=lambda r: (r.weeks is None, r.weeks or 0.0, r.what, r.part))
    )


def _cover(
    stock: Stock, codes: list[str], at: dt.datetime, next_in_weeks: float | None
) -> Cover:
    lots = [stock.lots[code] for code in codes]
    days = [begun(lot.day) for lot in lots if lot.day]
    today = at.date()
    since = max(_kept_since(stock, codes, at), today - WINDOW)
    sums: dict[Way, int] = {}
    for code in codes:
        for out in stock.outs(code):
            if out.event.occurred_at.astimezone(at.tzinfo).date() >= since:
                way = out.event.way
                sums[way] = sums.get(way, 0) + out.part.number
    last = max(days, default=None)
    counts = [pantry_count(stock, code, at) for code in codes]
    if next_in_weeks is None and last is not None:
        next_in_weeks = max(0.0, (last + SEASON - today).days / 7)
    return Cover(
        what=lots[-1].what,
        part=lots[-1].measure.part,
        on_hand=sum(there for there, _ in counts),
        past=sum(past for _, past in counts),
        used=sum(sums.get(way, 0) for way in OWN_USE),
        weeks_looked=(today - since).days / 7,
        gone=tuple((way, sums[way]) for way in Way if sums.get(way)),
        next_in_weeks=next_in_weeks,
        last_put_up=last.isoformat() if last else "",
    )


def _kept_since(stock: Stock, codes: list[str], at: dt.datetime) -> dt.date:
    """Return since when use was written down: from the first entry about these lots."""
    moments = [stock.event(stock.begun(code)).occurred_at for code in codes]
    moments += [out.event.occurred_at for code in codes for out in stock.outs(code)]
    return min(moments).astimezone(at.tzinfo).date()


def pantry_count(stock: Stock, code: str, at: dt.datetime) -> tuple[int, int]:
    """
    Return the jars of a lot that count as pantry stock, and those past eating.

    Neither are those set aside, recalled, or without their whole process: they are on
    hold. So are jars in a refrigerator that keep there for days.
    """
    if recall_of(stock, code) is not None or is_in_doubt(stock, code):
        return 0, 0
    there = past = 0
    days = keeps_for_days(stock, code)
    for place, number in stock.places(code).items():
        if place == SET_ASIDE or (days and cold_of(place) is Cold.REFRIGERATOR):
            continue
        if eaten_no_more(stock, code, place, at) is None:
            there += number
        else:
            past += number
    return there, past


def family_guess(row: Cover, persons: int) -> tuple[Opinion, ...] | Refusal:
    """
    Return own use of a year beside what printed plans say for so many persons.

    Printed plans differ two- and threefold, and one contradicts itself on jellies;
    what they say comes with its note.
    """
    if row.part not in JAR_SIZES:
        return Refusal(
            f"printed plans do not count {row.what} in {row.part or 'pieces'}",
            instead="count what is eaten in a month, and take it twelve times",
            source="the book's table of yearly amounts",
        )
    own = round(row.a_week * 52) if row.a_week is not None else None
    kind = product_kind(row.what)
    for food in dict.fromkeys((row.what, kind)):
        want = year_want(food, persons=persons, jar=row.part) if food else None
        if want is not None and not isinstance(want, Refusal):
            want = year_want(food, persons=persons, jar=row.part, eaten=own)
            assert not isinstance(want, Refusal)
            return want.opinions
    want = year_want(row.what, persons=persons, jar=row.part, eaten=own)
    return want if isinstance(want, Refusal) else want.opinions
