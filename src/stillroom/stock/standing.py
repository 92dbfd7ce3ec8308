"""Where things stand: carried to another place, and counted; pure."""

from __future__ import annotations

from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, Wanted, one_of, parts_of, wanted
from stillroom.stock.commands import Count, Move
from stillroom.stock.decision import Decision, set_aside_is_ours
from stillroom.stock.events import SET_ASIDE, Counted, Moved
from stillroom.stock.fold import Stock
from stillroom.stock.keeps import Cold, cold_of
from stillroom.stock.lotcode import printed
from stillroom.stock.making import hold_source


def move(stock: Stock, command: Move) -> Decision:
    """Carry a lot, or some of it, to another place."""
    if command.to.casefold() == SET_ASIDE:
        return set_aside_is_ours()
    if command.quantity:
        parts = parts_of(stock, command.lot, command.quantity, place=command.place)
    else:
        found = wanted(stock, command.lot, place=command.place)
        parts = found if isinstance(found, Refusal) else found.all
    if isinstance(parts, Refusal):
        return parts
    to = one_of(stock.known_places(), command.to)
    if all(part.place == to for part in parts):
        return Refusal(
            f"it is at {to} already",
            instead="name another place",
            source=OUR_RECORD,
        )
    for part in parts:
        if part.place == SET_ASIDE and cold_of(to) is Cold.SHELF:
            return Refusal(
                "jars that were set aside do not go back to a shelf by being moved",
                instead="into the freezer or the refrigerator; or look at them again "
                f"and say so: stillroom stock check {printed(part.lot)}",
                source=hold_source(stock, part.lot),
            )
    moving = tuple(part for part in parts if part.place != to)
    return (Moved(parts=moving, to=to, occurred_at=command.at, token=command.token),)


def count(stock: Stock, command: Count) -> Decision:
    """Hold the shelf against the book."""
    found = wanted(stock, command.lot, place=command.place, empty=True)
    if isinstance(found, Refusal):
        return found
    codes = list(dict.fromkeys(part.lot for part in found.all))
    places = list(dict.fromkeys(part.place for part in found.all))
    if len(codes) > 1:
        return Refusal(
            f"{command.lot} is there as {len(codes)} lots: "
            + ", ".join(f"{printed(part.lot)} at {part.place}" for part in found.all),
            instead="count each by its lot code, so that each jar can still be traced",
            source=OUR_RECORD,
        )
    if len(places) > 1:
        return _which_place(found)
    code, place = codes[0], places[0]
    measure = stock.lots[code].measure
    none = command.quantity.strip().lower() in ("0", "none", "nothing", "no")
    number = 0 if none else measure.read(command.quantity)
    return (
        Counted(
            lot=code,
            place=place,
            number=number,
            book=stock.balance(code, place),
            why=command.why,
            occurred_at=command.at,
            token=command.token,
        ),
    )


def _which_place(found: Wanted) -> Refusal:
    return Refusal(
        "it stands at " + " and ".join(dict.fromkeys(part.place for part in found.all)),
        instead="say which with --at PLACE",
        source=OUR_RECORD,
    )
