"""
What was made out of jars whose canner load was put on hold after that. Pure.

A soup out of beans is no better than the beans. Jars that were done again within the
hours of a wrong process are not meant: they are a new lot, with a process of its own.
"""

from __future__ import annotations

import datetime as dt

from stillroom.stock.events import Held, Made, Recalled
from stillroom.stock.fold import Stock
from stillroom.stock.jars_out import filled_at, jars_out_at
from stillroom.stock.lotcode import printed

DONE_AGAIN_WITHIN = dt.timedelta(hours=2)
"""Those of a wrong process; a test holds them to the book."""


def held_inputs(stock: Stock, code: str) -> tuple[tuple[str, Held], ...]:
    """Return what went into a lot and was put on hold since, with the hold."""
    born = stock.begun(code)
    found = _held(stock, code)
    return tuple((of, hold) for number, of, hold in found if number > born)


def recall_of(stock: Stock, code: str) -> tuple[str, Recalled] | None:
    """
    Return the recall that a lot is under, and of which lot: its own, or of an input.

    A recall names what was made by then. What stood at the stove meanwhile is booked
    behind it, from the lot that its sheet named: it is called back all the same.
    """
    if (recall := stock.recall(code)) is not None:
        return code, recall
    made = stock.made(code)
    for part in made.inputs if made is not None else ():
        if (found := recall_of(stock, part.lot)) is not None:
            return found
    return None


def recall_words(stock: Stock, code: str, of: str, recall: Recalled) -> str:
    """Say of a lot that it was recalled, or what it was made out of."""
    if of == code:
        return f"it was recalled: {recall.why}"
    made_of = f"{stock.lots[of].what} {printed(of)}"
    return f"it was made out of {made_of}, which was recalled: {recall.why}"


def _held(stock: Stock, code: str) -> list[tuple[int, str, Held]]:
    """Return every hold of what went into a lot, and into that, with its number."""
    made = stock.made(code)
    if made is None:
        return []
    found: dict[tuple[int, str], Held] = {}
    for of in dict.fromkeys(part.lot for part in made.inputs):
        if _is_done_again(stock, made, of):
            continue
        for number, hold in stock.numbered_holds(of):
            found[number, of] = hold
        for number, further, hold in _held(stock, of):
            found[number, further] = hold
    return [(number, of, hold) for (number, of), hold in found.items()]


def _is_done_again(stock: Stock, made: Made, of: str) -> bool:
    """Whether jars of a lot went through a canner anew within their hours."""
    before = stock.made(of)
    if before is None or not (before.batch.canned and made.batch.canned):
        return False
    out = jars_out_at(before, before.lot, made.occurred_at.tzinfo)
    filled = filled_at(made, made.lot, made.occurred_at.tzinfo)
    return filled - out <= DONE_AGAIN_WITHIN
