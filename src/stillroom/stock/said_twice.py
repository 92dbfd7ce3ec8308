"""
What one sentence says twice: asked, for one of the two would be lost. Pure.

A bin in a freezer is no second place: "freezer 1, bin 3" is one.
"""

from __future__ import annotations

import re

from stillroom.stock.how_cold import may_be_cold
from stillroom.stock.reading import Reading
from stillroom.stock.where_it_is import PLACES

_WITHIN = frozenset({"shelf", "bin", "rack", "crate", "drawer"})
"""Places that are parts of another, where that is said beside them."""
_INSTEAD = {
    "place": "write one of them; what stands at two places is two entries",
    "supplier": "write one of them; what came from two is two entries, so that each "
    "is found again",
    "day": "write one of them; what is of two days is two entries",
    "paid": "write what all of it cost, once",
    "best before": "write the earlier of them",
    "note": 'write both in one note, joined by "and"',
}
_SAYS = {
    "place": "where it is",
    "supplier": "whom it is from",
    "day": "which day it is of",
    "paid": "what was paid",
    "best before": "until when it keeps",
    "note": "what is to be noted",
}


def said_once(what: str, part: str, reading: Reading) -> None:
    """Note that a part says something, with a fault where another part said it too."""
    before = reading.said.setdefault(what, part)
    if before.casefold() != part.casefold():
        reading.faults.append(
            f"{before[:40]!r} and {part[:40]!r} both say {_SAYS[what]}: "
            f"{_INSTEAD[what]}"
        )


def is_within(place: str) -> bool:
    """
    Whether a place is a part of another, and no place by itself.

    >>> is_within("bin 3"), is_within("top shelf"), is_within("freezer 1")
    (True, True, False)
    >>> is_within("pantry shelf B")
    False
    """
    named = set(re.findall(r"[a-z]+", place.lower())) & set(PLACES)
    return bool(named) and named <= _WITHIN and not may_be_cold(place)


def one_place(place: str, part: str, reading: Reading) -> str:
    """Return the place that is meant, with what was said of it before."""
    before = reading.place
    if before and is_within(place) and not is_within(before):
        return f"{before} {place}"
    if before and is_within(before) and not is_within(place):
        reading.said["place"] = part
        return f"{place} {before}"
    said_once("place", part, reading)
    return place
