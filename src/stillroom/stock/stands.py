"""
Lots that stand past their day: in a dryer, in a crock, and in no closed jar yet. Pure.

What went in has left the shelf, so they are booked with the day. Until somebody says
that they are finished, and how many jars that gave, they have no label and are neither
sold nor given; it is booked as a look at seals is.
"""

from __future__ import annotations

from functools import lru_cache

from stillroom.book.brines import brines
from stillroom.book.names import product_named
from stillroom.book.procedures import procedures
from stillroom.refusal import Refusal
from stillroom.stock.events import Batch, Kind, Lot
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


def if_in_its_crock(lot: Lot, batch: Batch) -> str:
    """
    Say how what ferments is booked, where it was booked by hand as jars in no canner.

    It may stand in its crock for weeks yet: then it is no jar of which a process is
    due within hours. Empty of what does not ferment, and where a canner was named.
    """
    seen = batch.load is not None or batch.run or batch.process_min
    if seen or not _ferments(lot.what):
        return ""
    return (
        "; if it stands in its crock still, it is no jars yet: take its entry back "
        f"with stillroom stock mend, and book it as 1 crock {lot.what}, and its jars "
        "when they are packed and processed"
    )


@lru_cache(maxsize=256)
def _ferments(what: str) -> bool:
    """
    Whether the book has it as what stands in salt until it has soured.

    >>> _ferments("kraut"), _ferments("dill pickles"), _ferments("plum jelly")
    (True, False, False)
    """
    product = product_named(what)
    those = {brine.procedure for brine in brines()}
    names = {p.name for p in procedures() if p.id in those}
    return not isinstance(product, Refusal) and product.name in names
