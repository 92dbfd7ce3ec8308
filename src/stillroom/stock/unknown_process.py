"""
Jars that came in as they stand, and may be low-acid: nobody said how they were put up.

They were filled elsewhere, or here before there was a record. Who knows by which
process says so; until then nobody eats them, however their lids look. Pure.
"""

from __future__ import annotations

from functools import lru_cache

from stillroom.book.acid_foods import (
    acid_printed,
    is_known_low_acid,
    may_be_low_acid,
    may_mean,
)
from stillroom.book.names import product_named
from stillroom.book.never import is_of_meat
from stillroom.book.rendering import rendering_for
from stillroom.book.words import tokens
from stillroom.refusal import Refusal
from stillroom.stock.dish import POURED, parts
from stillroom.stock.due import is_jar
from stillroom.stock.events import SET_ASIDE, Counted, Kind, Lot, Moved, Received
from stillroom.stock.fold import Stock
from stillroom.stock.for_the_cold import is_for_the_cold
from stillroom.stock.how_cold import Cold, cold_of
from stillroom.stock.lotcode import printed
from stillroom.stock.no_process_needed import (
    is_dried_meat,
    may_be_kept_dry,
    needs_no_process,
)
from stillroom.stock.not_food import is_never_eaten

PROCESS_UNKNOWN_SOURCE = (
    "USDA Complete Guide Guide 1 (low-acid and tomato foods that were canned otherwise "
    "than by a published process are a risk of botulism); Univ. of Nebraska-Lincoln "
    "Extension (discard what is in doubt)"
)
UNKNOWN_WORDS = (
    "nobody said by which process it was put up, and it may be low-acid: neither its "
    "lid nor its look says whether it may be eaten"
)
UNKNOWN_FOR_THE_COLD = (
    "by its name it was put up for the refrigerator or the freezer, and it stood on a "
    "shelf: nobody said by which process, and what has none does not keep there"
)
_SPICES = frozenset(
    {"powder", "flake", "granule", "salt", "seasoning", "spice", "seed", "mix"}
    | {"bouillon", "cube", "noodle", "tea", "flour", "starch", "cornstarch", "tartar"}
    | {"rub", "feed"}
)
"""Last words of what is sold and kept dry in jars; bouillon in bottles is poured."""
_IN_CUBES = frozenset({"bouillon", "stock", "broth", "sugar", "seasoning"})
"""What is pressed dry into cubes; meat and vegetables are cut into them."""
_WITH_NOODLES = frozenset({"and", "with", "vegetable", "veggie", "mushroom", "bean"})
"""Words of a dish of noodles."""
_PIECES = frozenset({"vegetable", "veggie", "veg", "meat", "bean", "pea"})
"""Before "mix": what is in it is no powder."""
_SURELY_DRY = frozenset(
    {f"{name} masala" for name in ("garam", "chaat", "chat", "chai")}
    | {f"{name} meal" for name in ("almond", "corn", "bone", "flax", "oat")}
)
"""Whole names of what is ground and dry, though their last word is also a dish."""
_UNCOOKED = frozenset({"rice", "pasta", "noodle", "popcorn", "oat", "spaghetti"})
"""What is dry where it is called uncooked."""
_POURED = POURED | {"bouillon"}
_CLOSED = ("bottle", "jug")
"""Parts beside jars that broth and the like are kept in."""


def unknown_words(what: str) -> str:
    """Say what is not known of jars that stand on a shelf, and why that is grave."""
    return UNKNOWN_FOR_THE_COLD if is_for_the_cold(what) else UNKNOWN_WORDS


def is_process_unknown(stock: Stock, code: str) -> bool:
    """
    Whether nobody said how jars were put up that came in, and may be low-acid.

    Jars that stood nowhere but in the cold are not meant: they need no process there.
    """
    lot = stock.lots[code]
    if not may_be_home_canned(lot) or stock.made(code) is not None:
        return False
    return stock.put_up_said(code) is None and _stood_on_a_shelf(stock, code)


def may_be_home_canned(lot: Lot) -> bool:
    """
    Whether a lot may be jars of low-acid food that were canned at home, by its name.

    So is broth and the like in bottles and jugs. Whom it is from does not say who
    filled it; that it is bought does.
    """
    if lot.kind in (Kind.BOUGHT, Kind.JARS, Kind.LIDS) or lot.kept_dry:
        return False
    part = lot.measure.part
    jars = lot.kind is Kind.FILLED or is_jar(part) or part == "jar"
    return (jars or part in _CLOSED) and may_be_canned(lot.what, jars=jars)


@lru_cache(maxsize=1024)
def may_be_canned(what: str, *, jars: bool = True) -> bool:
    """
    Whether jars of it, or bottles, may hold low-acid food that was canned at home.

    >>> may_be_canned("beef stew"), may_be_canned("chili powder")
    (True, False)
    """
    words = tokens(what)
    if " ".join(words) in _SURELY_DRY or is_never_eaten(what):
        return False
    if not jars and not is_poured(what):
        return False
    if is_for_the_cold(what):
        return True
    if needs_no_process(what) or is_dried_meat(what) or not words:
        return False
    is_dry = _is_a_spice(words) and (jars or words[-1] != "bouillon")
    if is_dry or not isinstance(rendering_for(what), Refusal):
        return False
    return may_be_low_acid(what)


def is_poured(what: str) -> bool:
    """
    Whether it is low-acid food of the book, or a broth or soup of another name.

    Of what stands in bottles only such is meant: wine and vinegar with peppers in it
    stand in them too.

    >>> is_poured("bone broth with herbs"), is_poured("chili vinegar")
    (True, False)
    """
    if _POURED & {words[-1] for words in parts(what)}:
        return True
    return not isinstance(product_named(what), Refusal) and is_known_low_acid(what)


def _is_a_spice(words: list[str]) -> bool:
    """
    Whether a name is of a spice or the like; beef in cubes and beef tea are none.

    >>> _is_a_spice(["beef", "bouillon", "cube"]), _is_a_spice(["beef", "cube"])
    (True, False)
    >>> _is_a_spice(["egg", "noodle"]), _is_a_spice(["chicken", "and", "noodle"])
    (True, False)
    """
    last, before = words[-1], words[-2:-1]
    if words[0] == "uncooked" and last in _UNCOOKED:
        return not is_of_meat(" ".join(words))
    if last == "cube":
        return bool(_IN_CUBES & set(words))
    if last == "noodle":
        return not (_WITH_NOODLES & set(words) or is_of_meat(" ".join(words)))
    if last in ("flake", "tea", "mix"):
        return not (_PIECES & set(before) or is_of_meat(" ".join(before)))
    return last in _SPICES


def _stood_on_a_shelf(stock: Stock, code: str) -> bool:
    for number, event in stock.about(code):
        if number not in stock:
            continue
        match event:
            case Received(place=place):
                pass
            case Moved(parts=parts, to=place) if any(p.lot == code for p in parts):
                pass
            case Counted(lot=of, place=place, number=n) if of == code and n:
                pass
            case _:
                continue
        if place != SET_ASIDE and cold_of(place) is Cold.SHELF:
            return True
    return False


def how_it_is_known(stock: Stock, code: str) -> str:
    """Say how it is said of a lot how it was put up, and what is done if nobody can."""
    lot, said = stock.lots[code], printed(code)
    sizes = "" if is_jar(lot.measure.part) else " --jar SIZE"
    which = " --which NAME" if may_mean(lot.what) else ""
    dry = (
        f"; if it stands dry in them, in no liquid: stillroom stock put-up {said} "
        "--dry --who NAME"
        if may_be_kept_dry(lot.what)
        else ""
    )
    acid = acid_printed(lot.what)
    went_in = (
        ", and that its acid went in before they were closed, as is printed "
        f'("{acid}"),'
        if acid
        else ""
    )
    return (
        f"leave its jars closed. Who knows its process{went_in} says it: stillroom "
        f"stock put-up {said} --process MINUTES --canner CANNER --gauge READING "
        f"--pack PACK --elevation HEIGHT{sizes}{which} --who NAME; if they were "
        f"bought filled in a shop: stillroom stock put-up {said} --bought --who "
        f"NAME{dry}. Where nobody knows, discard it untasted, jars and all: stillroom "
        f"stock out {said} QUANTITY --as spoiled"
    )


def process_unknown(stock: Stock, code: str) -> Refusal:
    """Say that nobody knows how jars were put up, and what to do."""
    return Refusal(
        f"{stock.lots[code].what} {printed(code)} was not put up in this record: "
        f"{unknown_words(stock.lots[code].what)}",
        instead=how_it_is_known(stock, code),
        source=PROCESS_UNKNOWN_SOURCE,
    )
