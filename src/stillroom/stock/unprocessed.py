"""
Jars that had no process, and loads whose process is in doubt: what is published.

A lid that goes down by itself is not a process. Nothing here says that such a jar may
stand on a shelf, be labelled, or go to anybody else.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.book.names import product_named
from stillroom.book.produce import ACID, fruit_named
from stillroom.book.trouble import FOODS, Trouble, troubles_for
from stillroom.refusal import Refusal
from stillroom.stock.events import Doubt, Kind
from stillroom.stock.fold import Stock
from stillroom.stock.jars_out import hours_since, hours_since_filled
from stillroom.stock.keeps import Cold, cold_of
from stillroom.stock.lotcode import printed
from stillroom.stock.making import (
    CHECK_WITHIN_H,
    SETS,
    process_given_min,
)

REDO_WITHIN_H = 2.0
"""A wrong process may be done again within 2 h; a test holds it to the book. [h]"""
_SIGN = {Doubt.WRONG_TIME: "wrong time", Doubt.WATER_LOW: "water below"}
UNPROCESSED_SOURCE = (
    "Univ. of Nebraska-Lincoln Extension; reply of an extension service on full-sugar "
    "jam; USDA Complete Guide Guide 1"
)


@dataclass(frozen=True, slots=True)
class Choices:
    """What is published for jars at this hour, and how long it still holds."""

    hours: float
    """Since it happened. [h]"""
    until: dt.datetime | None
    """When the first of the choices is over; `None` where none has an end."""
    troubles: tuple[Trouble, ...]
    """The strict answer before the milder one."""

    def left(self, at: dt.datetime) -> dt.timedelta | None:
        """Return what is left until then, not below zero; `None` without an end."""
        if self.until is None:
            return None
        return max(dt.timedelta(), self.until - at)


def is_unprocessed(stock: Stock, code: str) -> bool:
    """Whether jars that were to keep by a process had none, as the record has it."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or not made.batch.canned:
        return False
    return not process_given_min(stock, code)


def counts_as_unprocessed(stock: Stock, code: str) -> bool:
    """
    Whether jars had no process, or one typed in late that was shorter than is due.

    A process that was too short is none: what was said of the jars before it was typed
    in, their choices and the hours of those, stays as it was.
    """
    late, made = stock.processed(code), stock.made(code)
    due = made.batch.due_min if made is not None else None
    short = late is not None and due is not None and late.minutes < due
    return short or is_unprocessed(stock, code)


def lack_words(stock: Stock, code: str) -> str:
    """Say what process unprocessed jars had: none, or too short a one."""
    given = process_given_min(stock, code)
    if not given:
        return "had no process"
    return f"had {given} min, too short a process, which counts as none"


def is_in_doubt(stock: Stock, code: str) -> bool:
    """Whether a process was wrong, short or missing: such jars are no pantry stock."""
    made = stock.made(code)
    if made is None or not made.batch.canned:
        return False
    given, due = process_given_min(stock, code), made.batch.due_min
    short = given is not None and due is not None and given < due
    return is_unprocessed(stock, code) or short or bool(stock.held(code))


def known_acid(what: str, food: str) -> bool:
    """
    Whether it is a full-sugar spread of a fruit that is printed as reliably acid.

    >>> known_acid("gooseberry jam", "jam"), known_acid("fig jam", "jam")
    (True, False)
    """
    if food not in SETS:
        return False
    product = product_named(what)
    if isinstance(product, Refusal) or not product.fruit:
        return False
    fruit = fruit_named(product.fruit)
    return not isinstance(fruit, Refusal) and fruit.acid_class == ACID


def not_on_a_shelf(stock: Stock, code: str) -> Refusal:
    """Say that unprocessed jars go to no shelf."""
    lot = stock.lots[code]
    return Refusal(
        f"{lot.what} {printed(code)} {lack_words(stock, code)}: sealed is not "
        "processed",
        instead="into the refrigerator, or the freezer with headspace, for your own "
        "use, or discard it; see its hours with stillroom stock after",
        source=UNPROCESSED_SOURCE,
    )


def may_be_eaten(stock: Stock, code: str, place: str) -> Refusal | None:
    """
    Return why unprocessed jars may not be eaten from a place; `None` where they may.

    Only a full-sugar spread of an acid fruit is ever kept, and only in the cold.
    """
    if not counts_as_unprocessed(stock, code):
        return None
    lot, made = stock.lots[code], stock.made(code)
    food = made.batch.food if made else ""
    if not known_acid(lot.what, food):
        return Refusal(
            f"{lot.what} {printed(code)} {lack_words(stock, code)}, and is not known "
            "to be acid",
            instead="discard it untasted, jars and all: stillroom stock out "
            f"{printed(code)} QUANTITY --as spoiled",
            source=UNPROCESSED_SOURCE,
        )
    return not_on_a_shelf(stock, code) if cold_of(place) is Cold.SHELF else None


def choices_for_unprocessed(
    stock: Stock, code: str, at: dt.datetime
) -> Choices | Refusal:
    """Return the published replies on jars that were never processed, or too short."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None:
        return _not_made_here(lot.what)
    hours = hours_since_filled(made, lot, at)
    acid = known_acid(lot.what, made.batch.food) and hours <= CHECK_WITHIN_H
    found = troubles_for(
        "never processed", hours=hours, food="jam" if acid else "low_acid"
    )
    return _choices(found, hours, at)


def choices_for_doubt(
    stock: Stock, code: str, doubt: Doubt, at: dt.datetime
) -> Choices | Refusal:
    """Return what is published for a load whose process was wrong, by its hours."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None:
        return _not_made_here(lot.what)
    return choices_after(doubt, hours_since(made, lot, at), at, food=made.batch.food)


def choices_after(
    doubt: Doubt, hours: float, at: dt.datetime, *, food: str = ""
) -> Choices | Refusal:
    """Return what is published for a wrong process, so many hours after it."""
    late = hours > REDO_WITHIN_H
    # After its hours low water is what it stands for: a wrong process.
    sign = _SIGN[Doubt.WRONG_TIME] if late else _SIGN[doubt]
    known = food if food in FOODS else None
    return _choices(troubles_for(sign, hours=hours, food=known), hours, at)


def _choices(
    found: tuple[Trouble, ...] | Refusal, hours: float, at: dt.datetime
) -> Choices | Refusal:
    if isinstance(found, Refusal):
        return found
    ends = [t.within_h for t in found if t.within_h is not None]
    until = at + dt.timedelta(hours=min(ends) - hours) if ends else None
    return Choices(hours, until, found)


def _not_made_here(what: str) -> Refusal:
    return Refusal(
        f"{what} was not made here, so its hours are not known",
        instead="discard a jar whose process is not known, untasted",
        source="USDA Complete Guide Guide 1; Univ. of Nebraska-Lincoln Extension",
    )
