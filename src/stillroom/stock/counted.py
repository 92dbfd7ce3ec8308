"""
What is counted by the piece, so that a number before its name is enough. Pure.

"24 eggs" are eggs, and "24 galons cider" lack their unit: a number alone is let in
before what is counted, and before no word that may be a unit with a slip in it.
"""

from __future__ import annotations

import re
from difflib import get_close_matches

from stillroom.book.words import plain, tokens
from stillroom.jar_count import counted
from stillroom.measures.words import TRAPS, UNITS
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import Unit
from stillroom.stock.animals import ANIMALS
from stillroom.stock.household import are_things
from stillroom.stock.left_in_a_name import left_in_a_name
from stillroom.stock.sorts import produce_names, without_size

_BY_THE_PIECE = frozenset(
    {"egg", "onion", "shallot", "leek", "cabbage", "cauliflower", "turnip", "rutabaga"}
    | {"pumpkin", "squash", "squashe", "gourd", "melon", "watermelon", "cantaloupe"}
    | {"zucchini", "cucumber", "eggplant", "potato", "tomato", "pepper", "carrot"}
    | {"beet", "radish", "artichoke", "kohlrabi", "banana", "coconut", "avocado"}
    | {"loaf", "loave", "pie", "cake", "muffin", "cookie", "biscuit", "bun", "cupcake"}
    | {"tortilla", "pizza", "quiche", "casserole", "lasagna", "burrito", "meatloaf"}
    | {"ham", "sausage", "chop", "steak", "roast", "breast", "thigh", "drumstick"}
    | {"fillet", "trout", "fish", "salmon", "meatball", "patty", "burger", "hock"}
    | {"cheese", "wheel", "candle", "jar", "lid", "band"}
)
"""Last words of what is counted, as `tokens` has them; fruit the book has by name."""
_OF_WORDS = frozenset({"head", "case", "dozen", "bushel", "peck", "loaf", "flat"})
_UNITS = sorted(
    {word for word in {*UNITS, *TRAPS, *_OF_WORDS} if len(word) > 3 and " " not in word}
)
_BAGS = ("bag", "box", "packet", "pack", "package", "pouch", "sack", "carton", "tin")
_ALIKE = 0.82
"""Of 1: letters more alike than this may be a unit misspelt. Our own judgement."""


def is_counted(what: str) -> bool:
    """
    Whether a number alone before a name counts it.

    >>> is_counted("eggs"), is_counted("brown eggs"), is_counted("pressure canner")
    (True, True, True)
    >>> is_counted("stock pots"), is_counted("eggs and bacon")
    (True, False)
    >>> is_counted("galons cider"), is_counted("bxs eggs"), is_counted("lamp oil")
    (False, False, False)
    """
    words = tokens(what)
    if not words or may_be_a_unit(what):
        return False
    if are_things(what) or plain(what) in produce_names():
        return True
    return words[-1] in _BY_THE_PIECE | ANIMALS


def may_be_a_unit(what: str) -> bool:
    """
    Whether the first of several words may be a unit that nobody can read.

    >>> may_be_a_unit("galons cider"), may_be_a_unit("ct eggs"), may_be_a_unit("eggs")
    (True, True, False)
    """
    first, *others = what.lower().split() or [""]
    word = first.rstrip(".").removesuffix("s")
    if not others or not word.isalpha():
        return False
    short = len(word) < 3 or not re.search("[aeiouy]", word)
    return short or bool(get_close_matches(word, _UNITS, n=1, cutoff=_ALIKE))


def of_what_words(said: str, part: str) -> str:
    """
    Ask what bags or boxes hold of which only the number is said.

    >>> of_what_words("3 bags", "bag")[-48:]
    '"3 bags of plums", or of empty ones "empty bags"'
    """
    empty = (
        f', or of empty ones "empty {counted(2, part)[2:]}"' if part in _BAGS else ""
    )
    return (
        f"{said[:60]!r} says how many, and not of what: write such as "
        f'"{said[:40]} of {"plums" if empty else "cabbage"}"{empty}'
    )


def counted_by_itself(size: str, rest: str, text: str) -> None:
    """A bare number is let in where the thing is counted; else its unit is missing."""
    unit = re.sub(r"^[0-9]+/[0-9]+\s+", "", without_size(rest))
    first = unit.split(" ")[0] if rest else ""
    if is_counted(unit):
        return
    if not rest:
        raise Unreadable(
            f"{text[:60]!r} says how many, and not of what: write such as "
            f'"{size} lids" or "{size} lb pears"'
        )
    if fault := left_in_a_name(text, rest, Unit.PIECES):
        raise Unreadable(fault)
    if fault := trap_words(text, first):
        raise Unreadable(fault)
    if may_be_a_unit(unit):
        raise Unreadable(
            f"{text[:60]!r}: no unit is called {first[:30]!r}. Write the unit out, "
            f'such as "{size} dozen eggs" or "{size} lb pears"'
        )
    pieces = "piece" if size == "1" else "pieces"
    raise Unreadable(
        f"{text[:60]!r}: no unit is called {first[:30]!r}. For things that are counted "
        f'write "{size} {pieces} {rest[:40]}"'
    )


def trap_words(text: str, word: str) -> str:
    """Say why a word is no unit that can be read; empty where it is none of those."""
    name = word.lower().rstrip(".")
    trap = TRAPS.get(name) or TRAPS.get(name.removesuffix("s"))
    return f"{text[:60]!r}: {word[:30]!r} is not read: {trap}" if trap else ""
