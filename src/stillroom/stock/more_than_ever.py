"""Counts that leave more of a lot than there ever was: a slip of the hand, or news."""

from __future__ import annotations

from collections.abc import Iterable

from stillroom.stock.events import AnyEvent, Counted
from stillroom.stock.fold import Stock
from stillroom.stock.lotcode import printed
from stillroom.stock.movements import movements


def most_ever(stock: Stock, code: str) -> int:
    """Return the most that the record ever had of a lot, all places together."""
    total = most = 0
    for _, event in stock.about(code):
        total += sum(part.number for part in movements(event) if part.lot == code)
        most = max(most, total)
    return most


def more_than_ever(stock: Stock, events: Iterable[AnyEvent]) -> tuple[str, ...]:
    """Say of each count that would leave more of its lot than there ever was."""
    said = []
    for event in events:
        if not isinstance(event, Counted):
            continue
        lot, most = stock.lots[event.lot], most_ever(stock, event.lot)
        if stock.balance(event.lot) + event.number - event.book > most:
            said.append(
                f"{lot.measure.of(event.number, lot.what)} {printed(event.lot)} at "
                f"{event.place}: the lot never had more than {lot.measure.words(most)}"
            )
    return tuple(said)
