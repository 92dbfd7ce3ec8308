"""What is eaten no more, wherever it is carried, though no process was due. Pure."""

from __future__ import annotations

import datetime as dt

from stillroom.refusal import Refusal
from stillroom.stock.cold_days import too_many_days
from stillroom.stock.cooked import cooked_and_warm
from stillroom.stock.fold import Stock
from stillroom.stock.in_oil import too_old_in_oil
from stillroom.stock.lacks import is_due_unknown, is_in_doubt
from stillroom.stock.of_held import recall_of
from stillroom.stock.unsealed import stood_unsealed


def eaten_no_more(
    stock: Stock, code: str, place: str, at: dt.datetime
) -> Refusal | None:
    """Return why what is at a place stood too long to be eaten; `None` where not."""
    return (
        too_old_in_oil(stock, code, place, at)
        or cooked_and_warm(stock, code, place, at)
        or too_many_days(stock, code, place, at)
        or stood_unsealed(stock, code, place, at)
    )


def is_to_be_used(stock: Stock, code: str, place: str, at: dt.datetime) -> bool:
    """
    Whether anybody is told to use it up: not what is in doubt, or was recalled.

    Nor jars whose process nobody can look up: they are on hold for that.
    """
    if is_in_doubt(stock, code) or is_due_unknown(stock, code):
        return False
    if recall_of(stock, code) is not None:
        return False
    return eaten_no_more(stock, code, place, at) is None
