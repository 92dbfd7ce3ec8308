"""
Garlic, herbs and vegetables in oil: the caution that goes with them, and their days.

Oil keeps the air out and the acid is too little: the toxin forms in the refrigerator
too, and can neither be seen nor smelled. Pure.
"""

from __future__ import annotations

import datetime as dt

from stillroom.book.never import never_products
from stillroom.book.words import holds, tokens
from stillroom.refusal import Refusal
from stillroom.stock.events import Kind, Made
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.lotcode import printed
from stillroom.stock.out_of_freezer import out_of_freezer

OIL_DAYS = 3
"""The strictest that is printed; others have 7 and 10."""
OIL_SOURCE = (
    "Univ. of Missouri Extension, Storing herbs and garlic in oil (2 to 3 days); "
    "Health Canada, Garlic-in-oil, has a week and Penn State Extension, Preserving "
    "foods in oil, 10 days: the strictest is taken"
)
_ROW = "herbs or garlic in oil"
_IN_OIL = ("in oil", "in olive oil", "pesto", "garlic confit", "confit garlic")
_INFUSED = frozenset(
    {"garlic", "herb", "herbed", "infused", "basil", "rosemary", "thyme", "oregano"}
    | {"chile", "chili", "pepper", "mushroom", "onion", "shallot"}
)
_LESS_DOUBTFUL = frozenset({"tomato", "dried"})
"""Acid, or too dry for it (Oregon State Univ. Extension): cautioned, not counted."""


def oil_caution(what: str, place: str) -> str:
    """
    Return what the book says of food in oil; empty elsewhere, and in a freezer.

    Examples
    --------
    >>> oil_caution("garlic in oil", "fridge")[:50]
    'garlic and herbs are low-acid, and in oil a botuli'
    >>> oil_caution("garlic", "cellar"), oil_caution("pesto", "freezer 2")
    ('', '')
    """
    if not _is_in_oil(what) or cold_of(place) is Cold.FREEZER:
        return ""
    row = next(never for never in never_products() if never.what == _ROW)
    no = row.refusal
    return f"{no.reason}; {no.instead} ({no.source})"


def too_old_in_oil(
    stock: Stock, code: str, place: str, at: dt.datetime
) -> Refusal | None:
    """
    Return why food in oil of our own is eaten no more; `None` where it may be.

    Its days are those out of a freezer, summed over wherever it was carried. What is
    bought has an acid that nobody here knows of, and jars that came in a hold of their
    own.
    """
    lot, came = stock.lots[code], stock.came(code)
    if came is None or not _spoils_in_oil(lot.what):
        return None
    if isinstance(came, Made):
        if came.batch.canned:
            return None
    elif lot.supplier or lot.kind in (Kind.BOUGHT, Kind.FILLED):
        return None
    on_shelf = cold_of(place) is Cold.SHELF
    out = out_of_freezer(stock, came, place, at)
    if not on_shelf and out.days < OIL_DAYS:
        return None
    stood = (
        f"stands at {place}" if on_shelf else f"was {out.days} days out of a freezer"
    )
    return Refusal(
        f"{lot.what} {printed(code)} {stood}: its toxin is neither seen nor smelled, "
        f"and {OIL_DAYS} days in a refrigerator are the most that is taken here",
        instead="discard it untasted, where no animal reaches it: stillroom stock out "
        f"{printed(code)} QUANTITY --as spoiled. Freeze the next at once",
        source=OIL_SOURCE,
    )


def _is_in_oil(what: str) -> bool:
    words = tokens(what)
    infused = words[-1:] == ["oil"] and bool(_INFUSED & set(words))
    return infused or any(holds(words, phrase) for phrase in _IN_OIL)


def _spoils_in_oil(what: str) -> bool:
    words = set(tokens(what))
    return _is_in_oil(what) and (bool(words & _INFUSED) or not words & _LESS_DOUBTFUL)
