"""Which places are meant by a name that was typed: pure."""

from __future__ import annotations

from collections.abc import Iterable

from stillroom.book.words import holds, tokens


def places_meant(typed: str, known: Iterable[str]) -> frozenset[str]:
    """
    Return the places of that name; where there is none, those that hold it as words.

    Examples
    --------
    >>> sorted(places_meant("Bin 3", ["freezer bin 3", "freezer bin 31", "pantry"]))
    ['freezer bin 3']
    >>> sorted(places_meant("freezer", ["freezer bin 3", "freezer", "pantry"]))
    ['freezer']
    """
    places = frozenset(known)
    named = {place for place in places if place.casefold() == typed.casefold()}
    return frozenset(named or {p for p in places if holds(tokens(p), typed)})
