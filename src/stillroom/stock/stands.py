"""
Lots that stand past their day: in a dryer, in a crock, and in no closed jar yet. Pure.

What went in has left the shelf, so they are booked with the day. Until somebody says
that they are finished, and how many jars that gave, they have no label and are neither
sold nor given; it is booked as a look at seals is.
"""

from __future__ import annotations

from stillroom.stock.events import Kind
from stillroom.stock.fold import Stock


def stands_in(stock: Stock, code: str) -> str:
    """Return what a lot still stands in, "in the dryer"; empty where it is closed."""
    made, lot = stock.made(code), stock.lots[code]
    if made is None or lot.kind is not Kind.FILLED or not made.batch.stands:
        return ""
    said = any(check.good is not None for check in stock.checks(code))
    return "" if said else made.batch.stands


def still_stands(stock: Stock, code: str) -> str:
    """Say why a lot that stands there is on hold; empty where it is closed."""
    made, stands = stock.made(code), stands_in(stock, code)
    if made is None or not stands:
        return ""
    return f"it stands {stands}: it was not said that it is {made.batch.finished}"
