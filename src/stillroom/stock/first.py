"""What to eat first: what keeps its quality least, and what looks doubtful. Pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.book.acid_foods import is_known_low_acid
from stillroom.jar_count import counted
from stillroom.stock.cold_days import cold_days, days_words
from stillroom.stock.cooked import cooked_caution
from stillroom.stock.eaten_no_more import is_to_be_used
from stillroom.stock.events import SET_ASIDE, Kind
from stillroom.stock.fold import Stock
from stillroom.stock.gauge import gauge_not_said
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.lacks import gauge_read_psi
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    CHECK_MISSED,
    LOOK_FIRST,
    check_missed,
    seals_unseen,
    taken_in_as_they_stood,
)
from stillroom.stock.on_hand import OnHand, on_hand
from stillroom.stock.out_of_freezer import out_of_freezer
from stillroom.stock.places import places_meant
from stillroom.stock.unsealed import unsealed_at
from stillroom.stock.words import said_day

QUALITY = (
    "Best until is a date of quality, no other: whether a jar is sound, the jar shows."
)
ORDER = (
    "Each line says what its place goes by; where nothing is printed of how long it "
    "keeps, that is the day of the lot itself."
)
_NO_DATE = "no date is known"
UNSEALED_WEEK = (
    "some of it did not seal: eaten within a week of the canner, or frozen (NCHFP)"
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

    Jars without a whole process, or of which none is known, recalled or set aside are
    not on it, nor is what was too long in oil, unsealed, or out of the cold. In front
    are those that a note calls faded or siphoned. Then all goes as it is used and
    drawn.
    """
    rows = [
        row
        for row in _food_at(stock, at, place)
        if is_to_be_used(stock, row.lot.code, row.place, at)
    ]
    ordered = sorted(rows, key=lambda row: not _signs(stock, row))
    return tuple(_line(stock, row, at) for row in ordered[:most])


def left_out(stock: Stock, at: dt.datetime, *, place: str = "") -> str:
    """Say how much of the food on hand is not on the list; empty where all of it is."""
    lots = {
        row.lot.code
        for row in _food_at(stock, at, place)
        if not is_to_be_used(stock, row.lot.code, row.place, at)
    }
    if not lots:
        return ""
    are = "is" if len(lots) == 1 else "are"
    return (
        f"{counted(len(lots), 'lot')} of food on hand {are} not on this list: on hold, "
        "recalled, or stood too long. Stock says which, and why."
    )


def _food_at(stock: Stock, at: dt.datetime, place: str) -> tuple[OnHand, ...]:
    """Return the food that is on hand, at a place or anywhere."""
    all_ = on_hand(stock, zone=at.tzinfo)
    places = places_meant(place, (row.place for row in all_))
    return tuple(
        row
        for row in all_
        if row.is_food
        and row.place != SET_ASIDE
        and row.number > 0
        and (not place or row.place in places)
    )


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
    remarks = _signs(stock, row)
    if check_missed(stock, row.lot.code, at):
        remarks.insert(0, CHECK_MISSED)
    elif seals_unseen(stock, row.lot.code):
        remarks.insert(0, "its seals have not been looked at yet")
    elif _of_unknown_process(stock, row):
        remarks.insert(0, _look_first(stock, row.lot.code))
    lot = row.lot
    if warm := cooked_caution(
        lot.what,
        row.place,
        lot.measure.part,
        kept_dry=lot.kept_dry,
        bought=lot.kind is Kind.BOUGHT,
    ):
        remarks.insert(0, warm)
    if unread := _gauge_unread(stock, row.lot.code):
        remarks.insert(0, unread)
    if row.place in unsealed_at(stock, row.lot.code) and _is_in_refrigerator(row):
        remarks.insert(0, UNSEALED_WEEK)
    if long := _long_in_refrigerator(stock, row, at):
        remarks.insert(0, long)
    return First(
        what=row.name,
        code=printed(row.lot.code),
        quantity=row.words,
        place=row.place,
        best=_best(row, at),
        by=row.due.by,
        past=_is_past(row, at),
        remarks=tuple(remarks),
    )


def _long_in_refrigerator(stock: Stock, row: OnHand, at: dt.datetime) -> str:
    """
    Say that low-acid food that was made here stood cold for long; else nothing.

    What is loose in a bowl is meant: jars of it are on no list by then.
    """
    made = stock.made(row.lot.code)
    if made is None or made.batch.canned or not _is_in_refrigerator(row):
        return ""
    days, printed_ = out_of_freezer(stock, made, row.place, at).days, cold_days()
    assert printed_.high is not None
    if days <= printed_.high or not is_known_low_acid(row.lot.what):
        return ""
    return (
        f"{days} days out of a freezer: {days_words()} are printed for cooked food "
        f"that is not acid; {printed_.text}"
    )


def _gauge_unread(stock: Stock, code: str) -> str:
    """Say that nobody wrote down at which pressure it was; empty where it is known."""
    made = stock.made(code)
    if made is None or stock.processed(code) is not None:
        return ""
    if not gauge_not_said(made.batch) or gauge_read_psi(stock, code) is not None:
        return ""
    return (
        f"what its gauge read is not in the record, and {made.batch.due_psi:g} psi is "
        "published: ask who was there before it is opened"
    )


def _is_in_refrigerator(row: OnHand) -> bool:
    return cold_of(row.place) is Cold.REFRIGERATOR


def _of_unknown_process(stock: Stock, row: OnHand) -> bool:
    """Whether jars stand on a shelf of which nobody booked how they were put up."""
    on_a_shelf = cold_of(row.place) is Cold.SHELF
    return on_a_shelf and taken_in_as_they_stood(stock, row.lot.code)


def _look_first(stock: Stock, code: str) -> str:
    said = stock.put_up_said(code)
    known = "is not in the record" if said is None else f"is known by {said.who}"
    return f"its process {known}: {LOOK_FIRST}"


def _best(row: OnHand, at: dt.datetime) -> str:
    lot, known = row.lot, row.due.keeps
    if known.until is None:
        return _NO_DATE
    past = _is_past(row, at)
    word = "past its best since" if past else "best until"
    dated = lot.day or lot.best_before is not None
    latest = "" if dated or past else " at the latest"
    return f"{word} {said_day(known.until.isoformat())}{latest}{known.mark}"


def _is_past(row: OnHand, at: dt.datetime) -> bool:
    until = row.due.keeps.until
    return until is not None and until < at.date()
