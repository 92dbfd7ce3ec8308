"""
Packs of food that was frozen: a process is printed for fresh food, packed as printed.

Thawed food is soft, so that more of it goes into a jar, and it lies closer there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stillroom.book.packs import pack_of
from stillroom.book.words import tokens
from stillroom.planning.dayplan import Draw
from stillroom.planning.which_batches.choices import Fitted
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Caution

SOURCE = (
    "Kansas State Univ. Extension, You Asked It!, June 2024, Canning previously frozen "
    "food (by the Univ. of Georgia)"
)
IN_PIECES = ("hot_pack", "raw_pack", "pressure_pack", "tomato")


def when_thawed(
    fitted: Fitted, draws: Iterable[Draw], shelf: Shelf
) -> Iterator[Caution]:
    """Yield what is to be known of a pack that draws on something frozen."""
    frozen = {held.lot.name for held in shelf.held if held.lot.frozen}
    pack = pack_of(fitted.recipe.procedure)
    if pack is None or pack.milled or fitted.method.NAME not in IN_PIECES:
        return
    sour = ", and have too little of its acid" if pack.acid else ""
    lots = dict.fromkeys(draw.lot for draw in draws if draw.lot in frozen)
    for lot in lots:
        if "crushed" in tokens(pack.product.name):
            yield Caution(
                f"{lot}: thaw it all the way, and let all of its juice go in; crushed, "
                "packed hot, is what frozen tomatoes are best for, if they were in the "
                "freezer for a few weeks at most, with nothing added",
                SOURCE,
            )
        else:
            yield Caution(
                f"{lot}: frozen and thawed it is softer than the fresh food that the "
                "process is printed for, and more of it goes into a jar; a jar that "
                f"is too full may be underprocessed{sour}. Put up fresh food this way, "
                "and make something well cooked of this",
                SOURCE,
            )
