"""What is to be minded of a thing: lye, dried meat, oil, cooked food. Pure."""

from __future__ import annotations

from stillroom.stock.commands import Incoming
from stillroom.stock.cooked import cooked_caution
from stillroom.stock.events import Kind
from stillroom.stock.in_oil import oil_caution
from stillroom.stock.no_process_needed import is_dried_meat
from stillroom.stock.not_food import LYE_CAUTION, LYE_SOURCE, is_caustic


def to_mind(thing: Incoming) -> tuple[str, ...]:
    """Return what the keeper is to mind of a thing, before it is booked."""
    what, place = thing.what, thing.place
    said = (
        f"{LYE_CAUTION} ({LYE_SOURCE})" if is_caustic(what) else "",
        "no shelf life of dried meat or fish is in the book: keep it in the "
        "refrigerator or the freezer"
        if is_dried_meat(what)
        else "",
        oil_caution(what, place),
        cooked_caution(
            what,
            place,
            thing.measure.part,
            kept_dry=thing.kept_dry,
            bought=thing.kind is Kind.BOUGHT,
        ),
    )
    return tuple(words for words in said if words)
