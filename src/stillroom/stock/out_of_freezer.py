"""How long a lot was out of the cold, wherever it was carried. Pure."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from stillroom.stock.events import Counted, Made, Moved, Received
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.jars_out import filled_at
from stillroom.stock.words import begun


def out_of_freezer(
    stock: Stock, came: Made | Received, place: str, at: dt.datetime
) -> dt.timedelta:
    """
    Return how long what is at a place was out of a freezer, the longest of it.

    Days in a freezer do not count; those before it do.
    """
    whole = at - _since(came, at.tzinfo)
    return _by_place(stock, came, at, _is_no_freezer).get(place, whole)


def out_of_the_cold(
    stock: Stock,
    came: Made | Received,
    place: str,
    at: dt.datetime,
    *,
    but: Callable[[str], bool],
) -> dt.timedelta:
    """
    Return how long what is at a place stood on shelves, the longest of it.

    ``but`` says of which places its hours do not count.
    """

    def counts(there: str) -> bool:
        return cold_of(there) is Cold.SHELF and not but(there)

    whole = at - _since(came, at.tzinfo)
    return _by_place(stock, came, at, counts).get(place, whole)


def _since(came: Made | Received, zone: dt.tzinfo | None) -> dt.datetime:
    """
    Return from when on the hours of a lot count.

    What came in has a day, and no hour: an earlier day is counted whole.
    """
    if isinstance(came, Made):
        return filled_at(came, came.lot, zone)
    booked = came.occurred_at.astimezone(zone)
    if not came.lot.day or begun(came.lot.day) >= booked.date():
        return booked
    return dt.datetime.combine(begun(came.lot.day), dt.time(), tzinfo=booked.tzinfo)


def _is_no_freezer(place: str) -> bool:
    return cold_of(place) is not Cold.FREEZER


def _by_place(
    stock: Stock, came: Made | Received, at: dt.datetime, counts: Callable[[str], bool]
) -> dict[str, dt.timedelta]:
    """Return how long a lot was at places that count, by where it is; the longest."""
    code = came.lot.code
    spent = {came.place: dt.timedelta()}
    since = {came.place: _since(came, at.tzinfo)}

    def until(place: str, moment: dt.datetime) -> dt.timedelta:
        if not counts(place):
            return spent[place]
        return spent[place] + max(dt.timedelta(), moment - since[place])

    for number, event in stock.about(code):
        if number not in stock:
            continue
        match event:
            case Moved(parts=parts, to=to):
                from_ = [p.place for p in parts if p.lot == code and p.place in spent]
            case Counted(lot=of, place=to, number=n) if of == code and n:
                # found where nobody carried it: it came from anywhere it was
                from_ = [] if to in spent else list(spent)
            case _:
                continue
        for there in from_:
            longest = until(there, event.occurred_at)
            if to in spent and counts(to):
                longest = max(longest, until(to, event.occurred_at))
            spent[to] = max(longest, spent.get(to, dt.timedelta()))
            since[to] = event.occurred_at
    return {place: until(place, at) for place in spent}
