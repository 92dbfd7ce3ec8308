"""
How it is said that jars are discarded, and what may be done with them until then. Pure.

The strict answer comes first, with its clock time: nobody is to read on to find it.
"""

from __future__ import annotations

import datetime as dt

from stillroom.book.acid_foods import is_known_acid
from stillroom.stock.fold import Stock
from stillroom.stock.how_it_is_booked import if_it_was_processed, process_said
from stillroom.stock.how_long_ago import moment_words
from stillroom.stock.jars_out import filled_at, hours_since_filled
from stillroom.stock.lacks import Lack, lack_of
from stillroom.stock.lotcode import printed

REDO_WITHIN_H = 2.0
"""A wrong process may be done again within 2 h; a test holds it to the book. [h]"""


def is_put_up_acid(stock: Stock, code: str) -> bool:
    """
    Whether jars that were to keep by a process are printed as acid.

    What was put up for the cold is not: its name may be one of the book's, and its
    vinegar that of any recipe.
    """
    made = stock.made(code)
    canned = made is not None and made.batch.canned
    return canned and is_known_acid(stock.lots[code].what)


def discard_words(stock: Stock, code: str, at: dt.datetime) -> str:
    """
    Say that jars are discarded, and what may be done with them before that.

    Within its hours what had no process may still have it, as the same lot, and what is
    not acid may go into the cold. Acid jars may wait there later too, for who knows it.
    """
    said = printed(code)
    how = (
        f"jars and all: stillroom stock out {said} QUANTITY --as spoiled; its choices "
        "and their hours are in stillroom stock after"
    )
    is_acid = is_put_up_acid(stock, code)
    discarded = f"discard it untasted, {how}"
    if is_acid:
        discarded = (
            "discard it, or hold it in the refrigerator, closed and uneaten, while you "
            f"ask your extension service; discarded, {how}"
        )
    made, lack = stock.made(code), lack_of(stock, code)
    may_be_put_up = {Lack.NONE} if is_acid else {Lack.NONE, Lack.REFUSED}
    if made is None or lack not in may_be_put_up:
        return discarded
    if hours_since_filled(made, stock.lots[code], at) > REDO_WITHIN_H:
        return discarded + if_it_was_processed(stock, code)
    if is_acid:
        return (
            f"within {REDO_WITHIN_H:g} h of its filling put it through a canner, a hot "
            "pack with new lids and for the full published time, and book that on this "
            f"lot: {process_said(code)}. Later than that, {discarded}"
        )
    filled = filled_at(made, stock.lots[code], at.tzinfo)
    by = moment_words(filled + dt.timedelta(hours=REDO_WITHIN_H), at)
    booked = (
        f", and book that on this lot: {process_said(code)}"
        if lack is Lack.NONE
        else f", as a new lot that is made --from {said}=QUANTITY"
    )
    return (
        f"{REDO_WITHIN_H:g} h after its filling, from {by} on, {discarded}. Until "
        "then: heat it through, pack it hot into clean jars under new lids, and give "
        "it the full published time of its own table, under pressure unless boiling "
        f"water is printed for it{booked}. Or carry it into the freezer with headspace "
        f"or into the refrigerator, and book that: stillroom stock move {said} PLACE"
    )
