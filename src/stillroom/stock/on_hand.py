"""What is on hand, in the one order in which it is shown, used and drawn. Pure."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace

from stillroom.stock.cold_days import keeps_for_days
from stillroom.stock.events import SET_ASIDE, Kind, Lot, Made
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.keeps import (
    FROM_MEMORY,
    Keeps,
    add_months,
    keeps,
    of_most_fruit,
)
from stillroom.stock.not_food import is_never_eaten
from stillroom.stock.out_of_freezer import out_of_freezer
from stillroom.stock.words import begun, said_day

_LONG_AFTER = dt.timedelta(days=36_500)
"""Behind whatever is in the record: a hundred years."""


@dataclass(frozen=True, slots=True)
class OnHand:
    """Some of a lot at a place, with what is known of its keeping."""

    lot: Lot
    place: str
    number: int
    keeps: Keeps
    due: Due

    @property
    def words(self) -> str:
        """How much: "14 bags (56 cups)"."""
        return self.lot.measure.words(self.number)

    @property
    def name(self) -> str:
        """What it is, as it is written beside the words: "1", "quart jar"."""
        return self.lot.measure.name(self.number, self.lot.what)

    @property
    def is_never_eaten(self) -> bool:
        """Lye, soap, lotion and the like."""
        return is_never_eaten(self.lot.what)

    @property
    def is_food(self) -> bool:
        """What was bought and has no date is sugar or pectin, but for what is cold."""
        if self.lot.kind in (Kind.JARS, Kind.LIDS) or self.is_never_eaten:
            return False
        dated = self.keeps.until is not None
        cold = cold_of(self.place) is not Cold.SHELF
        return dated or cold or self.lot.kind is not Kind.BOUGHT

    @property
    def is_fresh(self) -> bool:
        """Raw, cold but not frozen, and nothing is printed of how long it keeps."""
        return (
            self.is_food
            and self.lot.kind is Kind.RAW
            and cold_of(self.place) is Cold.REFRIGERATOR
            and self.due.keeps.until is None
        )


@dataclass(frozen=True, slots=True)
class Due:
    """Where something stands in the order, and why there."""

    on: dt.date
    keeps: Keeps
    """Counted from when it was booked, where nobody wrote its day down."""
    by: str


def on_hand(
    stock: Stock, codes: Iterable[str] | None = None, *, zone: dt.tzinfo | None = None
) -> tuple[OnHand, ...]:
    """
    Return what is on hand, what is to be used first in front.

    In front is what is fresh: cold, not frozen, and of no printed life. All other food
    goes by one day: the date that was written down, else a published life
    counted from the day of the lot, else, where nothing is published, that day itself.
    A lot whose day nobody wrote down is counted from when it was booked. Behind it
    comes what does not spoil, then what was set aside. Then by the day of the lot and
    by the code: the same order every time.

    ``zone`` is the kitchen's, the computer's own where it is not given.
    """
    rows = []
    for code in stock.on_hand() if codes is None else codes:
        lot, made = stock.lots[code], stock.made(code)
        food = made.batch.food if made else ""
        for place, number in stock.places(code).items():
            counted = _counted_from(stock, made, lot, place, zone)
            for_days = keeps_for_days(stock, code)
            known = keeps(counted, place, food=food, for_days=for_days)
            due = _due(stock, counted, place, known, food, zone)
            rows.append(OnHand(lot, place, number, known, due))
    return tuple(
        sorted(
            rows,
            key=lambda row: (
                row.place == SET_ASIDE,
                not row.is_food,
                not row.is_fresh,
                row.due.on,
                begun(row.lot.day) if row.lot.day else dt.date.max,
                row.lot.code,
                row.place,
            ),
        )
    )


def _counted_from(
    stock: Stock, made: Made | None, lot: Lot, place: str, zone: dt.tzinfo | None
) -> Lot:
    """The lot by the day from which it counts: in a refrigerator, out of a freezer."""
    if made is None or not lot.day or cold_of(place) is not Cold.REFRIGERATOR:
        return lot
    late = made.occurred_at.astimezone(zone) + _LONG_AFTER
    since = late - out_of_freezer(stock, made, place, late)
    return replace(lot, day=since.date().isoformat())


def _due(
    stock: Stock,
    lot: Lot,
    place: str,
    known: Keeps,
    food: str,
    zone: dt.tzinfo | None,
) -> Due:
    came = stock.event(stock.begun(lot.code)).occurred_at.astimezone(zone).date()
    day = lot.day or came.isoformat()
    since = said_day(day) if lot.day else f"{said_day(day)}, when it was booked"
    if known.until is None:
        for_days = keeps_for_days(stock, lot.code)
        known = keeps(replace(lot, day=day), place, food=food, for_days=for_days)
    if known.until is not None:
        written = lot.best_before is not None
        by = "as written down" if written else f"{known.words} from {since}"
        return Due(known.until, known, by)
    own = f"of {since}" if lot.day else f"booked on {said_day(day)}"
    most = of_most_fruit(lot, place)
    if most is not None and most.low is not None:
        memory = f" ({FROM_MEMORY})" if most.source.how_known == "memory" else ""
        by = f"{own}; most frozen fruit keeps its quality {most.figure}{memory}"
        return Due(add_months(begun(day), int(most.low)), known, by)
    cold = cold_of(place)
    return Due(begun(day), known, f"{own}; no {cold} life of {lot.what} is in the book")
