"""
Jars of food that is not acid, in a refrigerator and without a process: days. Pure.

They are no goods of a shelf: no list has them for next month, and nobody else gets one.
"""

from __future__ import annotations

import datetime as dt
from functools import cache

from stillroom.book.acid_foods import is_known_low_acid, may_mean
from stillroom.book.keeping import Fact, storage_of
from stillroom.book.names import product_named
from stillroom.book.rendering import rendering_for
from stillroom.refusal import Refusal, granted
from stillroom.stock.cooked import is_cooked
from stillroom.stock.events import Kind, Lot
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.lotcode import printed
from stillroom.stock.no_process_needed import is_dried_meat, needs_no_process
from stillroom.stock.out_of_freezer import out_of_freezer

_LIFE = "life in the refrigerator"


@cache
def cold_days() -> Fact:
    """Return how long food that is not acid keeps in a refrigerator. [days]"""
    facts = granted(storage_of("cooked food that is not acid"))
    return next(fact for fact in facts if fact.what == _LIFE)


def days_words() -> str:
    """
    Say how long that is, and who says so.

    >>> days_words()[:34], days_words()[-13:]
    ('3 to 4 days in a refrigerator (USD', ' from memory)')
    """
    fact = cold_days()
    known = f"{fact.source}, from {fact.source.how_known}"
    return f"{fact.figure} in a refrigerator ({known})"


def is_not_acid(lot: Lot) -> bool:
    """
    Whether jars hold cooked food that is not acid, by its name, and moist.

    It is a dish, or what the book prints for a pressure canner. Butter, eggs, and heads
    of garlic in a jar have days of their own.
    """
    if lot.kept_dry or needs_no_process(lot.what) or is_dried_meat(lot.what):
        return False
    if not isinstance(rendering_for(lot.what), Refusal):
        return False
    in_the_book = not isinstance(product_named(lot.what), Refusal)
    if in_the_book or may_mean(lot.what):
        return is_known_low_acid(lot.what)
    return is_cooked(lot.what)


def keeps_for_days(stock: Stock, code: str) -> bool:
    """Whether jars were put up for the cold, without a process, and are not acid."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or made.batch.canned:
        return False
    return is_not_acid(lot)


def for_days_words(stock: Stock, code: str) -> str:
    """Say what such jars are where some are in a refrigerator; empty elsewhere."""
    cold = any(
        n > 0 and cold_of(place) is Cold.REFRIGERATOR
        for place, n in stock.places(code).items()
    )
    if not cold or not keeps_for_days(stock, code):
        return ""
    return (
        f"it is not acid and had no process: {days_words()}, for your own use, and no "
        "goods of a shelf, whatever its lid does; freeze what is not eaten by then"
    )


def too_many_days(
    stock: Stock, code: str, place: str, at: dt.datetime
) -> Refusal | None:
    """
    Return why such jars are eaten no more; `None` where they may be.

    Their days are those out of a freezer, wherever they were carried.
    """
    if not keeps_for_days(stock, code):
        return None
    return over_its_days(stock, code, place, at)


def over_its_days(
    stock: Stock, code: str, place: str, at: dt.datetime
) -> Refusal | None:
    """Return why jars made here that are food of a refrigerator are over their days."""
    made, days = stock.made(code), cold_days()
    assert made is not None
    assert days.high is not None
    out = out_of_freezer(stock, made, place, at)
    if out <= dt.timedelta(days=days.high):
        return None
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} had no whole process, and was "
        f"{out.days} days out of a freezer: {days.figure} in a refrigerator are "
        f"printed for it, and {days.text}",
        instead="discard it untasted, jars and all: stillroom stock out "
        f"{printed(code)} QUANTITY --as spoiled. Freeze the next at once",
        source=f"{days.source}, from memory",
    )
