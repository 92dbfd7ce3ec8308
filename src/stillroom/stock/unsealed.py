"""Where jars stand whose seal failed, or may have: set aside, and carried on. Pure."""

from __future__ import annotations

from stillroom.stock.events import SET_ASIDE, Moved
from stillroom.stock.fold import Stock


def unsealed_at(stock: Stock, code: str) -> frozenset[str]:
    """
    Return the places of a lot at which unsealed jars are, or may be among others.

    What was set aside may be carried into the cold and eaten from there. It is no
    sealed jar by that, and the book does not tell it from those beside it.
    """
    found = {SET_ASIDE}
    if not any(check.aside > 0 for check in stock.checks(code)):
        return frozenset(found)
    for number, event in stock.about(code):
        if not isinstance(event, Moved) or number not in stock:
            continue
        if any(part.lot == code and part.place in found for part in event.parts):
            found.add(event.to)
    return frozenset(found)
