"""How long what was made here was out of the cold, wherever it was carried. Pure."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from stillroom.stock.events import Made, Moved
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.jars_out import filled_at


def out_of_freezer(
    stock: Stock, made: Made, place: str, at: dt.datetime
) -> dt.timedelta:
    """
    Return how long what is at a place was out of a freezer, the longest of it.

    Days in a freezer do not count; those before it do.
    """
    whole = at - filled_at(made, made.lot, at.tzinfo)
    return _by_place(stock, made, at, _is_no_freezer).get(place, whole)


def out_of_the_cold(
    stock: Stock, made: Made, place: str, at: dt.datetime
) -> dt.timedelta:
    """Return how long what is at a place stood on shelves, the longest of it."""
    whole = at - filled_at(made, made.lot, at.tzinfo)
    return _by_place(stock, made, at, _is_a_shelf).get(place, whole)


def _is_a_shelf(place: str) -> bool:
    return cold_of(place) is Cold.SHELF


def _is_no_freezer(place: str) -> bool:
    return cold_of(place) is not Cold.FREEZER


def _by_place(
    stock: Stock, made: Made, at: dt.datetime, counts: Callable[[str], bool]
) -> dict[str, dt.timedelta]:
    """Return how long a lot was at places that count, by where it is; the longest."""
    code = made.lot.code
    spent = {made.place: dt.timedelta()}
    since = {made.place: filled_at(made, made.lot, at.tzinfo)}

    def until(place: str, moment: dt.datetime) -> dt.timedelta:
        if not counts(place):
            return spent[place]
        return spent[place] + max(dt.timedelta(), moment - since[place])

    for number, event in stock.about(code):
        if number not in stock or not isinstance(event, Moved):
            continue
        came = [p.place for p in event.parts if p.lot == code and p.place in spent]
        for there in came:
            longest = until(there, event.occurred_at)
            if event.to in spent and counts(event.to):
                longest = max(longest, until(event.to, event.occurred_at))
            spent[event.to] = max(longest, spent.get(event.to, dt.timedelta()))
            since[event.to] = event.occurred_at
    return {place: until(place, at) for place in spent}
