"""
What spoils out of the cold, loose on a shelf: its caution, and its hours.

Cooked food, meat, milk, juice: no canner saw it, and no lid closes over it. A soup in a
crock in the cellar is no food for later. Pure.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from stillroom.book.acid_foods import may_be_low_acid
from stillroom.book.never import is_of_meat
from stillroom.book.rendering import rendering_for
from stillroom.book.words import holds, tokens
from stillroom.jar_count import counted
from stillroom.refusal import Refusal
from stillroom.stock.amounts import JAR_SIZES
from stillroom.stock.animals import is_alive_at
from stillroom.stock.dish import dish, may_be_cooked, parts
from stillroom.stock.events import Kind
from stillroom.stock.fold import Stock
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.juice_and_sauce import is_fruit_juice, is_fruit_sauce, is_puree
from stillroom.stock.lotcode import printed
from stillroom.stock.no_process_needed import is_dried_meat, needs_no_process
from stillroom.stock.out_of_freezer import out_of_the_cold

COOKED_WARM_H = 2
COOKED_SOURCE = (
    "USDA Food Safety and Inspection Service: cooked food, meat, fish and milk out of "
    "the cold for 2 h at most (from memory)"
)
SAUCE_SOURCE = (
    "Iowa State Univ. Extension, AnswerLine, Canning mistakes; Univ. of "
    "Nebraska-Lincoln Extension: acid food that had no process, 2 h"
)
JUICE_WARM_H = 48
"""Our own: yesterday's juice may be of any hour of that day, and drip overnight. [h]"""
JUICE_SOURCE = "no source in this book prints its hours: our own caution"
_CURED = frozenset(
    {"ham", "bacon", "prosciutto", "salami", "pastrami"}
    | {"cured", "smoked", "salted", "salt", "dried", "dry", "canned", "corned"}
    | {"pickled", "summer"}
)
"""Words of meat that was made to keep; jerky is dried meat by its name."""
_NO_MEAT = frozenset(
    {"fat", "suet", "tallow", "oil", "bouillon", "powder", "mix", "seasoning", "rub"}
    | {"food", "meal", "bone", "sauce", "stock", "egg", "milk", "cheese", "butter"}
    | {"yogurt", "fig", "mushroom", "tomato", "lettuce", "pepper", "berry", "shell"}
    | {"pellet", "broth", "cracker", "rind", "cattle"}
)
"""Last words of food that is named after meat and fish, and is none."""
_ALL_OF_IT = frozenset(
    {"powder", "mix", "seasoning", "rub", "food", "meal", "pellet", "sauce"}
)
"""Of those words, what "and" joins nothing fresh to: a beef and vegetable soup mix."""
_MILK = frozenset({"milk", "buttermilk", "cream", "yogurt", "yoghurt", "kefir"})
"""Last words of what is kept in the cold; cheese that ages is not."""
_NO_FRESH_MILK = frozenset(
    {"dried", "dry", "powdered", "instant", "condensed", "evaporated", "canned", "uht"}
    | {"coconut", "almond", "oat", "soy", "rice", "hemp", "maple", "honey", "stable"}
)
_IN_CUBES = frozenset({"bouillon", "stock", "broth"})
_NOT_OF_MEAT = ("of the wood", "turkey tail", "lamb s quarter", "oyster plant")
"""Mushrooms and herbs that are called after it."""
_BETWEEN = frozenset({"with", "and", "con", "in"})
_CLOSED = frozenset(
    {"jar", *JAR_SIZES, "bottle", "jug", "carton", "tin", "packet", "pouch", "box"}
    | {"pack", "package", "sleeve", "case"}
)
"""Bottles and jars have a hold of their own; the others are a shop's."""
_IF_CLOSED = (
    ". What is closed in jars or tins, or cured and dry, was booked as if it were "
    "loose or fresh: its first entry is taken back, and it is booked as what it is"
)
_OR_DRY = '; if it is dry, and not cooked, write "kept dry" behind a comma'


@dataclass(frozen=True, slots=True)
class _Limit:
    """How long such food may be out of the cold, and who says so."""

    food: str
    hours: int
    source: str = COOKED_SOURCE

    @property
    def words(self) -> str:
        """How long: "2 h", "2 days"."""
        days, rest = divmod(self.hours, 24)
        return f"{self.hours} h" if rest or not days else counted(days, "day")


_COOKED = _Limit("cooked food that is not acid", COOKED_WARM_H)
_MEAT = _Limit("fresh meat and fish", COOKED_WARM_H)
_FRESH_MILK = _Limit("fresh milk and cream", COOKED_WARM_H)
_SAUCE = _Limit("sauce and puree of fruit or tomatoes", COOKED_WARM_H, SAUCE_SOURCE)
_JUICE = _Limit("fruit juice", JUICE_WARM_H, JUICE_SOURCE)


def cooked_caution(
    what: str, place: str, part: str, *, kept_dry: bool = False, bought: bool = False
) -> str:
    """
    Return what is to be minded of such food on a shelf; empty for other food.

    What is cooked as well as dry by its name is asked for in a tub, and is dry else.

    >>> cooked_caution("chicken soup", "porch", "")[:34]
    'cooked food that is not acid may s'
    >>> cooked_caution("ground beef", "pantry", "")[:27]
    'fresh meat and fish may sta'
    >>> cooked_caution("soup", "fridge", ""), cooked_caution("bacon", "loft", "")
    ('', '')
    >>> [bool(cooked_caution("macaroni", "loft", part)) for part in ("tub", "bag")]
    [True, False]
    >>> [bool(cooked_caution("plum juice", at, "bag")) for at in ("pantry", "freezer")]
    [True, False]
    """
    if part in _CLOSED or kept_dry or cold_of(place) is not Cold.SHELF:
        return ""
    limit = _limit(what, part, bought=bought)
    doubtful = limit is None and part == "tub" and may_be_cooked(what)
    if doubtful:
        limit = _COOKED
    if limit is None or is_alive_at(what, place, part):
        return ""
    if limit is _JUICE:
        return (
            f"{limit.food} is kept in the cold: carry it into the refrigerator or the "
            f"freezer, and book that; what stood out of it for longer than "
            f"{limit.words} is discarded untasted ({limit.source})"
        )
    return (
        f"{limit.food} may stand out of the cold for {limit.words} at most: carry it "
        "into the refrigerator or the freezer by then, and book that; what stood for "
        f"longer is discarded untasted ({limit.source}){_OR_DRY if doubtful else ''}"
    )


def cooked_and_warm(
    stock: Stock, code: str, place: str, at: dt.datetime
) -> Refusal | None:
    """
    Return why such food is eaten no more; `None` where it may be.

    Its hours on shelves are summed over wherever it was carried, from its own day on,
    whether it was made here or came in: the cold that came later mends nothing.
    """
    lot, came = stock.lots[code], stock.came(code)
    part = lot.measure.part
    if came is None or lot.kind is Kind.FILLED or lot.kept_dry or part in _CLOSED:
        return None
    limit = _limit(lot.what, part, bought=lot.kind is Kind.BOUGHT)
    if limit is None:
        return None
    stood = out_of_the_cold(
        stock, came, place, at, but=lambda there: is_alive_at(lot.what, there, part)
    )
    if stood <= dt.timedelta(hours=limit.hours):
        return None
    return Refusal(
        f"{lot.what} {printed(code)} stood out of the cold for longer than "
        f"{limit.words}, by the record",
        instead="discard it untasted: stillroom stock out "
        f"{printed(code)} QUANTITY --as spoiled. Only if it was in the cold by then, "
        "and it was booked late, whoever put it there books when: a late entry is "
        "taken back with stillroom stock mend, then it is moved with its own day and "
        f"hour (stillroom stock move {printed(code)} PLACE --on DAY --clock TIME)"
        f"{_IF_CLOSED}",
        source=limit.source,
    )


def _limit(what: str, part: str, *, bought: bool) -> _Limit | None:
    """Return how long something loose may be out of the cold; `None` of what keeps."""
    if is_cooked(what):
        return _COOKED
    if _is_fresh_meat(what):
        return _MEAT
    if _is_fresh_milk(what):
        return _FRESH_MILK
    if bought and not part:
        return None  # as a shop closed it: nobody said in what
    if is_fruit_sauce(what):
        return _SAUCE
    return _JUICE if is_fruit_juice(what) else None


def is_cooked(what: str) -> bool:
    """Whether it is a cooked dish that may be low-acid, by its name."""
    return bool(dish(what) or is_puree(what)) and may_be_low_acid(what)


def _is_fresh_meat(what: str) -> bool:
    """Whether it is meat or fish that nobody cured, smoked or dried, by its name."""
    words = tokens(what)
    if "live" in words or is_dried_meat(what) or needs_no_process(what):
        return False
    if words[-1:] and words[-1] in _ALL_OF_IT:
        return False
    if not isinstance(rendering_for(what), Refusal):
        return False
    if any(holds(words, phrase) for phrase in _NOT_OF_MEAT):
        return False
    return any(map(_is_fresh, parts(what, _BETWEEN)))


def _is_fresh_milk(what: str) -> bool:
    """Whether it is milk or cream that nobody dried or canned, by its name."""
    words = tokens(what)
    if needs_no_process(what) or _NO_FRESH_MILK & set(words):
        return False
    return bool(words) and words[-1] in _MILK


def _is_fresh(words: list[str]) -> bool:
    """Whether one thing is fresh meat: its last word says what it is, if not how."""
    if not is_of_meat(" ".join(words)) or _CURED & set(words):
        return False
    if words[-1] == "cube":
        return not _IN_CUBES & set(words)
    return words[-1] not in _NO_MEAT or "stuffed" in words
