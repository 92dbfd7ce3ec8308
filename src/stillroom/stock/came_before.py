"""Rows of a file that are in the record already: it may be the same again. Pure."""

from __future__ import annotations

from dataclasses import replace

from stillroom.book.words import plain
from stillroom.jar_count import counted
from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.coming import lot_of
from stillroom.stock.commands import Incoming
from stillroom.stock.events import Received
from stillroom.stock.fold import Stock
from stillroom.stock.lotcode import printed

_MOST_NAMED = 8


def not_if_it_came_before(stock: Stock, things: tuple[Incoming, ...]) -> Refusal | None:
    """
    Return that things of a file came in before; `None` where none of them did.

    What is the same in all that was said of it, its day too, cannot be told from the
    file that was booked once: all of it would be there twice.
    """
    found = [
        f"{thing.measure.of(thing.number, thing.what)}, {thing.place} ({printed(code)})"
        for thing in things
        if (code := _came_as(stock, thing))
    ]
    if not found:
        return None
    more = len(found) - _MOST_NAMED
    named = "; ".join(found[:_MOST_NAMED]) + (f"; and {more} more" if more > 0 else "")
    are = "is" if len(found) == 1 else "are"
    return Refusal(
        f"{counted(len(found), 'row')} of the file {are} in the record already: "
        f"{named}",
        instead="leave them out of the file; where as much of the same came in once "
        "more, write its own day or a note into its row. Nothing was booked",
        source=OUR_RECORD,
    )


def _came_as(stock: Stock, thing: Incoming) -> str:
    """Return the code of a lot that came in just so; empty where none did."""
    for code in stock.named(plain(thing.what)):
        came = stock.came(code)
        if (
            isinstance(came, Received)
            and replace(came.lot, code="") == lot_of(thing, "")
            and came.number == thing.number
            and came.place.casefold() == thing.place.casefold()
        ):
            return code
    return ""
