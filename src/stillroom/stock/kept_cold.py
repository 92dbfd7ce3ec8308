"""What of jars without a process is kept cold, and whether it came there in time."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection

from stillroom.book.acid_foods import is_known_acid
from stillroom.book.names import product_named
from stillroom.book.produce import ACID, fruit_named
from stillroom.book.rendering import rendering_for
from stillroom.refusal import Refusal
from stillroom.stock.cold_days import cold_days, over_its_days
from stillroom.stock.discarding import REDO_WITHIN_H
from stillroom.stock.events import Counted, Moved
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.jars_out import filled_at
from stillroom.stock.lacks import process_given_min
from stillroom.stock.lotcode import printed
from stillroom.stock.making import CHECK_WITHIN_H, SETS
from stillroom.stock.no_process_needed import is_dried_meat, was_in_canner

LOW_ACID = "low_acid"
COLD_SOURCE = (
    "Michigan State Univ. Extension leaflet 01600938; Iowa State Univ. Extension, "
    "AnswerLine, Canning mistakes; Clemson Univ. Extension, Discard spoiled canned "
    "foods safely (cold within 2 h, of food canned without pressure); USDA, from "
    "memory (the days)"
)


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


def kept_cold(stock: Stock, code: str, hours: float | None = None) -> str:
    """
    Return as what jars without a process are kept in the cold, or `LOW_ACID`.

    That is a full-sugar spread of an acid fruit, within its hours where they are given;
    and what no process is due for: rendered fat, and meat that was dried and saw no
    canner: there it was in water.
    """
    what = stock.lots[code].what
    is_in_time = hours is None or hours <= CHECK_WITHIN_H
    if known_acid(what, food_of(stock, code)) and is_in_time:
        return "jam"
    if not isinstance(rendering_for(what), Refusal):
        return "fat"
    made, given = stock.made(code), process_given_min(stock, code)
    is_dry = is_dried_meat(what) and not (
        made is not None and (made.batch.run or was_in_canner(made.batch.load, given))
    )
    return "dried_meat" if is_dry else LOW_ACID


def is_cold_food(
    stock: Stock, code: str, places: Collection[str], at: dt.datetime
) -> bool:
    """
    Whether jars at some places are low-acid food that was in the cold within 2 h.

    It is food of a refrigerator by that, or of a freezer, whatever it was to become. Of
    what is acid no source says so. Nobody can tell where its hour was not said.
    """
    made, what = stock.made(code), stock.lots[code].what
    if made is None or is_known_acid(what) or not (made.batch.filled_at and places):
        return False
    if any(cold_of(place) is Cold.SHELF for place in places):
        return False
    filled = filled_at(made, stock.lots[code], at.tzinfo)
    deadline = filled + dt.timedelta(hours=REDO_WITHIN_H)
    return not came_cold_late(stock, code, deadline) & set(places)


def may_be_eaten_cold(
    stock: Stock, code: str, places: Collection[str], at: dt.datetime
) -> bool:
    """Whether such food is at all of these places, and its days are not over."""
    return is_cold_food(stock, code, places, at) and not any(
        over_its_days(stock, code, place, at) for place in places
    )


def cold_food(stock: Stock, code: str) -> Refusal:
    """Say of jars that had no process and were in the cold at once what they are."""
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} had no whole process, and was in the "
        f"cold within {REDO_WITHIN_H:g} h of its filling: it is no goods of a shelf",
        instead=f"leave it in the cold, for your own use: out of a refrigerator it is "
        f"eaten within {cold_days().figure}, or it is frozen with headspace",
        source=COLD_SOURCE,
    )


def food_of(stock: Stock, code: str) -> str:
    """Return the kind of product that a lot was booked as; empty where none was."""
    made = stock.made(code)
    return made.batch.food if made is not None else ""


def came_cold_late(stock: Stock, code: str, deadline: dt.datetime) -> frozenset[str]:
    """
    Return the places at which jars of a lot are that were not in the cold by then.

    The record does not tell jars at one place apart: those that came in time are late
    too where others came to them that were.
    """
    made = stock.made(code)
    assert made is not None
    in_time = set() if cold_of(made.place) is Cold.SHELF else {made.place}
    late: set[str] = set()
    stood_warm = not in_time
    for number, event in stock.about(code):
        if number not in stock:
            continue
        came: tuple[str, ...] = ()
        match event:
            case Moved(parts=parts, to=to):
                came = tuple(part.place for part in parts if part.lot == code)
            case Counted(lot=of, place=to, number=n) if of == code and n:
                came = () if to in in_time or not stood_warm else (to,)
            case _:
                continue
        stood_warm = stood_warm or cold_of(to) is Cold.SHELF
        if not stood_warm:
            in_time.add(to)
        for place in came:
            if event.occurred_at > deadline and place not in in_time:
                late.add(to)
            elif cold_of(to) is not Cold.SHELF:
                in_time.add(to)
        in_time -= late
    return frozenset(late)
