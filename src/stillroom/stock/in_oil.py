"""Garlic, herbs and vegetables in oil: the caution that goes with them. Pure."""

from __future__ import annotations

from stillroom.book.never import never_products
from stillroom.book.words import holds, tokens
from stillroom.stock.how_cold import Cold, cold_of

_ROW = "herbs or garlic in oil"
_IN_OIL = ("in oil", "in olive oil", "pesto")
_INFUSED = frozenset({"garlic", "herb", "basil", "rosemary", "chile", "chili"})


def oil_caution(what: str, place: str) -> str:
    """
    Return what the book says of food in oil; empty elsewhere, and in a freezer.

    It is said, not refused: a few days in the refrigerator are what is printed.

    Examples
    --------
    >>> oil_caution("garlic in oil", "fridge")[:50]
    'garlic and herbs in oil are a botulism risk: no pr'
    >>> oil_caution("garlic", "cellar"), oil_caution("pesto", "freezer 2")
    ('', '')
    """
    words = tokens(what)
    infused = words[-1:] == ["oil"] and bool(_INFUSED & set(words))
    if not infused and not any(holds(words, phrase) for phrase in _IN_OIL):
        return ""
    if cold_of(place) is Cold.FREEZER:
        return ""
    row = next(never for never in never_products() if never.what == _ROW)
    no = row.refusal
    return f"{no.reason}; {no.instead} ({no.source})"
