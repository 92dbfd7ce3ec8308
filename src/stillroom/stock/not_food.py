"""What is in stock and is never eaten: lye, soap, jar lifters; by its name. Pure."""

from __future__ import annotations

import re

from stillroom.book.words import plain
from stillroom.refusal import Refusal, Source
from stillroom.stock.household import is_of_the_house
from stillroom.stock.lotcode import printed
from stillroom.stock.lots import Lot

_CAUSTIC = ("sodium hydroxide", "potassium hydroxide", "caustic soda", "caustic potash")
_LYE = "lye"
_FORMS_OF_LYE = (
    *("bead", "crystal", "flake", "granule", "microbead", "pearl", "pellet", "powder"),
    *("solution", "water", "drain", "soap", "masterbatch"),
)
"""What follows the word where it is lye itself; "lye hominy" is food."""
_STRENGTH = re.compile(r"[0-9]+|percent|pure")
"""Behind it, how strong it is: "lye 50% solution"."""
_FOR_THE_SKIN = (
    *("soap", "lotion", "salve", "shampoo", "lip balm", "body butter", "bath salt"),
    *("hand cream", "face cream", "body cream", "foot cream", "skin cream"),
)
_FOR_THE_HOUSE = ("candle", "detergent", "bleach", "fragrance oil", "essential oil")

LYE_CAUTION = (
    "lye burns skin and eyes: locked away and labelled, out of children's reach, "
    "goggles and gloves whenever it is open; on skin, take the clothing off, brush or "
    "blot dry lye away, then much water for 30 minutes; in the eyes, water for 30 "
    "minutes with the lids open, and a doctor; never vinegar"
)
LYE_SOURCE = Source(
    "New Jersey Dept. of Health, Hazardous Substance Fact Sheet: sodium hydroxide",
    "looked_up",
)


def is_caustic(what: str) -> bool:
    """
    Whether it is lye, dry or in water, by its name.

    >>> is_caustic("lye solution"), is_caustic("lard soap"), is_caustic("lye hominy")
    (True, False, False)
    """
    words = [word for word in plain(what).split() if not _STRENGTH.fullmatch(word)]
    if any(f" {name} " in f" {' '.join(words)} " for name in _CAUSTIC):
        return True
    behind = [*words[1:], ""]
    return any(
        word == _LYE and (not after or after in _FORMS_OF_LYE)
        for word, after in zip(words, behind, strict=True)
    )


def is_never_eaten(what: str) -> bool:
    """
    Whether it is no food, by its name.

    >>> is_never_eaten("lard soap"), is_never_eaten("apple butter")
    (True, False)
    >>> is_never_eaten("freezer tape")
    True
    """
    said = f" {plain(what)} "
    others = (*_FOR_THE_SKIN, *_FOR_THE_HOUSE)
    if is_caustic(what) or any(f" {name} " in said for name in others):
        return True
    return is_of_the_house(what)


def not_eaten(lot: Lot) -> Refusal:
    """Return that a lot is no food, and what may be booked instead."""
    caution = f"; {LYE_CAUTION}" if is_caustic(lot.what) else ""
    return Refusal(
        f"{lot.what} {printed(lot.code)} is no food, and is not booked as eaten or "
        f"tasted{caution}",
        instead="book what was used: stillroom stock out LOT QUANTITY --as drawn, or "
        "what was thrown away: stillroom stock out LOT QUANTITY --as spoiled; "
        "if it is food, receive it under the name of that food",
        source=LYE_SOURCE.text if caution else "what it is called",
    )
