"""
Said later of a place that may be cold or not, by its name: it was, all the while. Pure.

It is asked of whoever knows it, for one lot, and kept as their word. Nothing is said so
of a pantry, or of a place whose name leaves nothing open.
"""

from __future__ import annotations

from stillroom.in_a_list import all_of, any_of
from stillroom.refusal import Refusal
from stillroom.stock.choosing import OUR_RECORD, known_lot
from stillroom.stock.commands import SayCold
from stillroom.stock.decision import Decision
from stillroom.stock.events import ColdSaid
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold
from stillroom.stock.lotcode import printed
from stillroom.stock.warm import doubtful_places
from stillroom.stock.words import clean

COLD_AS = (Cold.REFRIGERATOR.value, Cold.FREEZER.value)
AS_COLD = "40 °F (4 °C) or below, all the time that it was there"
"""What is meant by as cold as a refrigerator."""
AS_COLD_SOURCE = (
    "USDA Complete Guide Guide 1: toxin forms between 40 and 120 °F (4 and 49 °C)"
)


def say_cold(stock: Stock, command: SayCold) -> Decision:
    """Take down who says that a place was cold, where its name leaves that open."""
    code = known_lot(stock, command.lot)
    if isinstance(code, Refusal):
        return code
    said = f"{stock.lots[code].what} {printed(code)}"
    open_ = doubtful_places(stock, code)
    if not open_:
        return Refusal(
            f"no place of {said} is one that may be cold or not",
            instead="a place that was entered wrongly is taken back with stillroom "
            "stock mend; what stood on a shelf stays what it is",
            source=OUR_RECORD,
        )
    place = command.place or (open_[0] if len(open_) == 1 else "")
    if place not in open_:
        return Refusal(
            f"of {said} it is not asked whether {place} was cold"
            if place
            else f"{said} was at {all_of(open_)}, and it was not said which is meant",
            instead=f"name {any_of(open_)}",
            source=OUR_RECORD,
        )
    if command.cold not in COLD_AS:
        return Refusal(
            f"{command.cold!r} is not how cold a place is",
            instead=f"say {any_of(COLD_AS)}: {AS_COLD}",
            source=AS_COLD_SOURCE,
        )
    if not command.who.strip():
        return Refusal(
            f"it was not said who knows how cold {place} was",
            instead=f"name who knows that it was at {AS_COLD}",
            source=AS_COLD_SOURCE,
        )
    return (
        ColdSaid(
            lot=code,
            place=place,
            cold=command.cold,
            who=clean(command.who, "who"),
            occurred_at=command.at,
            token=command.token,
            late=command.late,
        ),
    )
