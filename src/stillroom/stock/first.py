"""What to eat first: what keeps its quality least, and what looks doubtful. Pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.stock.events import SET_ASIDE, Kind
from stillroom.stock.fold import Stock
from stillroom.stock.keeps import Cold, OnHand, cold_of, on_hand
from stillroom.stock.lotcode import printed
from stillroom.stock.making import check_missed, seals_unseen
from stillroom.stock.unprocessed import is_in_doubt
from stillroom.stock.words import said_day

QUALITY = (
    "Best until is a date of quality, no other: whether a jar is sound, the jar shows."
)
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
    """"best until 3 March 2027", or why that is not known."""
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
    those that a note calls faded or siphoned; then what keeps its quality least.
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
    marked = [row for row in rows if _signs(stock, row)]
    ordered = [*marked, *(row for row in rows if row not in marked)]
    return tuple(_line(stock, row, at) for row in ordered[:most])


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


def _line(stock: Stock, row: OnHand, at: dt.datetime) -> First:
    until = row.keeps.until
    best = (
        f"best until {said_day(until.isoformat())}{row.keeps.mark}"
        if until is not None
        else "no date is known"
    )
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
        best=best,
        past=until is not None and until < at.date(),
        remarks=tuple(remarks),
    )
