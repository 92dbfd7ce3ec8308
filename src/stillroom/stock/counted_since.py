"""What a count has already seen gone, and must not be taken off a second time: pure."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD
from stillroom.stock.events import Part
from stillroom.stock.fold import Stock
from stillroom.stock.lotcode import printed
from stillroom.stock.movements import tells_of


def not_if_counted_since(
    stock: Stock, parts: Iterable[Part], at: dt.datetime
) -> Refusal | None:
    """
    Return that a shelf was counted after ``at``; `None` where none of them was.

    For what is typed late: what had left before a count was missing from it, so the
    record is right already, and one entry more would take the same jars off twice.
    What left between the counting and its booking was counted, and is still to leave.
    """
    for part in parts:
        for count in stock.counts(part.lot):
            if count.place != part.place or tells_of(count) <= at:
                continue
            lot = stock.lots[part.lot]
            # both hours by one clock: the record gives its own back in UTC
            counted = tells_of(count).astimezone(at.tzinfo)
            return Refusal(
                f"{lot.what} {printed(part.lot)} was counted at {part.place} on "
                f"{counted:%Y-%m-%d %H:%M}, after this happened "
                f"({at:%Y-%m-%d %H:%M}): what was gone by then is out of the "
                "record already",
                instead="leave it so; to write down who had it, take that count back "
                "(stillroom stock mend), book this, and count again",
                source=OUR_RECORD,
            )
    return None
