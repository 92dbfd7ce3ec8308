"""What to eat first: what keeps its quality least, and what looks doubtful. Pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace

from stillroom.stock.events import SET_ASIDE, Kind
from stillroom.stock.fold import Stock
from stillroom.stock.keeps import (
    FROM_MEMORY,
    Cold,
    OnHand,
    add_months,
    cold_of,
    keeps,
    of_most_fruit,
    on_hand,
)
from stillroom.stock.lotcode import printed
from stillroom.stock.making import check_missed, seals_unseen
from stillroom.stock.unprocessed import is_in_doubt
from stillroom.stock.words import begun, said_day

QUALITY = (
    "Best until is a date of quality, no other: whether a jar is sound, the jar shows."
)
ORDER = (
    "Each line says what its place goes by; where nothing is printed of how long it "
    "keeps, that is the day of the lot itself."
)
_NO_DATE = "no date is known"
_SIGNS = (
    "siphon",
    "liquid lost",
    "low liquid",
    "faded",
    "brown",
    "dark",
    "freezer burn",
)
"""Words in a note that put a jar in front; household practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class First:
    """One line of the list."""

    what: str
    code: str
    quantity: str
    place: str
    best: str
    """"best until 3 March 2027", "past its best since ...", "no date is known"."""
    by: str
    """What its place on the list goes by."""
    past: bool
    """That day is over."""
    remarks: tuple[str, ...]
    """What to look at, and what a note says."""


def use_first(
    stock: Stock, at: dt.datetime, *, most: int | None = None, place: str = ""
) -> tuple[First, ...]:
    """
    Return food in the order in which it should be eaten.

    Jars without a whole process, recalled or set aside are not on it. In front are
    those that a note calls faded or siphoned. Then all goes by one day: the date that
    was written down, else a published life counted from the day of the lot, else, where
    nothing is published, that day itself. A lot whose day nobody wrote down is counted
    from when it was booked.
    """
    rows = [
        row
        for row in on_hand(stock)
        if row.lot.kind not in (Kind.JARS, Kind.LIDS)
        and row.place != SET_ASIDE
        and row.number > 0
        and stock.recall(row.lot.code) is None
        and not is_in_doubt(stock, row.lot.code)
        and (not place or row.place.casefold() == place.casefold())
        and _is_food(row)
    ]
    dated = sorted(
        ((row, _due(stock, row, at)) for row in rows), key=lambda pair: pair[1].on
    )
    ordered = sorted(dated, key=lambda pair: not _signs(stock, pair[0]))
    return tuple(_line(stock, row, due, at) for row, due in ordered[:most])


@dataclass(frozen=True, slots=True)
class _Due:
    """Where a row stands on the list, and why there."""

    on: dt.date
    best: str
    by: str
    past: bool = False


def _due(stock: Stock, row: OnHand, at: dt.datetime) -> _Due:
    lot, code = row.lot, row.lot.code
    came = stock.event(stock.begun(code)).occurred_at.astimezone(at.tzinfo).date()
    day = lot.day or came.isoformat()
    since = said_day(day) if lot.day else f"{said_day(day)}, when it was booked"
    made = stock.made(code)
    known = (
        row.keeps
        if row.keeps.until is not None
        else keeps(
            replace(lot, day=day), row.place, food=made.batch.food if made else ""
        )
    )
    if known.until is not None:
        past = known.until < at.date()
        best = "past its best since" if past else "best until"
        best += f" {said_day(known.until.isoformat())}"
        if lot.best_before is not None:
            return _Due(known.until, best, "as written down", past)
        latest = "" if lot.day or past else " at the latest"
        by = f"{known.words} from {since}"
        return _Due(known.until, f"{best}{latest}{known.mark}", by, past)
    own = f"of {since}" if lot.day else f"booked on {said_day(day)}"
    most = of_most_fruit(lot, row.place)
    if most is not None and most.low is not None:
        memory = f" ({FROM_MEMORY})" if most.source.how_known == "memory" else ""
        by = f"{own}; most frozen fruit keeps its quality {most.figure}{memory}"
        return _Due(add_months(begun(day), int(most.low)), _NO_DATE, by)
    cold = cold_of(row.place)
    by = f"{own}; no {cold} life of {lot.what} is in the book"
    return _Due(begun(day), _NO_DATE, by)


def _is_food(row: OnHand) -> bool:
    """What was bought and has no date is sugar or pectin, but for what is kept cold."""
    dated = row.keeps.until is not None
    cold = cold_of(row.place) is not Cold.SHELF
    return dated or cold or row.lot.kind is not Kind.BOUGHT


def _signs(stock: Stock, row: OnHand) -> list[str]:
    code = row.lot.code
    notes = [
        row.lot.note,
        *(check.note for check in stock.checks(code)),
        *(noted.words for noted in stock.notes(code)),
    ]
    return [
        note for note in notes if note and any(sign in note.lower() for sign in _SIGNS)
    ]


def _line(stock: Stock, row: OnHand, due: _Due, at: dt.datetime) -> First:
    remarks = _signs(stock, row)
    if check_missed(stock, row.lot.code, at):
        remarks.insert(0, "check missed: look at each lid before eating")
    elif seals_unseen(stock, row.lot.code):
        remarks.insert(0, "its seals have not been looked at yet")
    return First(
        what=row.lot.what,
        code=printed(row.lot.code),
        quantity=row.words,
        place=row.place,
        best=due.best,
        by=due.by,
        past=due.past,
        remarks=tuple(remarks),
    )
