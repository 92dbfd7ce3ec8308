"""What is called back, and what is taken back: recalls and mendings; pure."""

from __future__ import annotations

from stillroom.in_a_list import all_of
from stillroom.refusal import Refusal
from stillroom.stock.about import lots_of
from stillroom.stock.choosing import OUR_RECORD, known_lot, short_of
from stillroom.stock.commands import Mend, Recall
from stillroom.stock.decision import NOTHING, Decision
from stillroom.stock.events import AnyEvent, Mended, Part, Recalled
from stillroom.stock.fold import Stock
from stillroom.stock.lotcode import printed
from stillroom.stock.making import holds
from stillroom.stock.movements import movements
from stillroom.stock.tracing import made_of_it


def recall(stock: Stock, command: Recall) -> Decision:
    """Call a lot back with all that was made of it."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    codes = (code, *made_of_it(stock, code))
    fresh = tuple(c for c in codes if stock.recall(c) is None)
    if not fresh:
        return NOTHING
    return (
        Recalled(
            lots=fresh,
            why=command.why,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def mend(stock: Stock, command: Mend) -> Decision:
    """Take an entry back by its counter-movements."""
    if not 1 <= command.of <= stock.sequence:
        return Refusal(
            f"there is no entry {command.of}; the last one is {stock.sequence}",
            instead="look it up with stillroom stock history",
            source=OUR_RECORD,
        )
    event = stock.event(command.of)
    if isinstance(event, Mended) or command.of not in stock:
        return Refusal(
            f"entry {command.of} is a mending itself"
            if isinstance(event, Mended)
            else f"entry {command.of} was mended already",
            instead="book what is right as an entry of its own",
            source=OUR_RECORD,
        )
    changes = tuple(
        Part(lot=m.lot, place=m.place, number=-m.number)
        for m in movements(event)
        if m.number
    )
    sums: dict[tuple[str, str], int] = {}
    for change in changes:
        key = (change.lot, change.place)
        sums[key] = sums.get(key, 0) + change.number
    for (code, place), change_of in sums.items():
        there = stock.balance(code, place)
        if there + change_of < 0:
            short = short_of(stock, code, place, -change_of)
            return Refusal(
                f"entry {command.of} cannot be taken back as it is: {short.reason}",
                instead="take back what was booked after it first, the last one first "
                f"(stillroom stock history {printed(code)})",
                source=OUR_RECORD,
            )
    return (
        Mended(
            of=command.of,
            changes=changes,
            why=command.why,
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )


def may_be_asked_back(stock: Stock, number: int) -> bool:
    """Whether an entry counts and is no mending itself; `mend` may still say no."""
    return number in stock and not isinstance(stock.event(number), Mended)


def afterwards(stock: Stock, event: AnyEvent) -> tuple[str, ...]:
    """
    Say what is there of each lot that an entry is about, once it was taken back.

    ``stock`` has the mending in it already.
    """
    return tuple(_left(stock, code) for code in lots_of(event))


def _left(stock: Stock, code: str) -> str:
    lot = stock.lots[code]
    name = f"{lot.what} {printed(code)}"
    if stock.is_undone(code):
        return f"no lot {name}: its coming in is what is taken back"
    places = stock.places(code).items()
    there = all_of(f"{lot.measure.words(n)} at {place}" for place, n in places)
    held = holds(stock, code)
    said = f"{name}: {there or 'nothing on hand'}"
    return f"{said}; on hold: {'; '.join(held)}" if held else said
