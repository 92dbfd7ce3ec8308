"""
Which names on a shelf mean one thing, whatever words stand around them.

"Peaches, frozen" are peaches, and white peaches are not: see docs/decisions/0105.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache

from stillroom.book.limits import ingredient_named
from stillroom.book.words import tokens
from stillroom.refusal import Refusal

_PLAIN_WORDS = frozenset(
    {"white", "fresh", "frozen", "ripe", "new", "canning", "crystal", "package", "box"}
    | {"regular", "mouth", "wide", "unsweetened", "of", "the", "a"}
)
"""Words that do not make another thing of it."""
_SQUEEZED = frozenset({"fresh", "freshly", "squeezed", "pressed"})
_NOT_BOTTLED = _SQUEEZED | {"frozen", "of"}
"""Frozen juice was squeezed by somebody, and so was the juice of lemons."""
_CITRIC = frozenset({"citric", "acid"})
_SOLD_AS = frozenset(
    {"powder", "powdered", "crystal", "crystalline", "granulated", "food", "grade"}
)
"""How citric acid is sold, which is the acid itself; a solution is another thing."""
_PLAIN_OF = {
    "sugar": frozenset({"granulated", "cane", "beet"}),
    "juice": frozenset({"strained", "bottled"}) | _SQUEEZED,
    "honey": frozenset({"strained"}),
}
"""Words that do not make another thing of these: sugar beets are no sugar."""
_LOWER_IN_ACID = {"white": frozenset({"peach", "nectarine"})}
"""A word that does of these: the book has no process for white-fleshed ones."""
_FORMS = frozenset(
    {"juice", "cider", "vinegar", "sugar", "syrup", "sauce", "butter", "oil", "fat"}
    | {"puree", "pulp", "paste", "peel", "zest", "seed", "leaf", "flour"}
)
"""What a thing is turned into: juice oranges are no orange juice."""
_PARTS = re.compile(r"[,(:;]| - ")
"""Between what a thing is and what is said of it behind: "peaches, white"."""
_GROUND = frozenset({"ground", "powdered", "powder"})
_SOLD_GROUND = frozenset(
    {"cinnamon", "clove", "nutmeg", "mace", "turmeric", "cayenne", "cardamom"}
)
"""Spices that a recipe means ground where it does not say whole, sticks or seed."""
SYNONYMS = (
    ("green beans", "snap beans", "string beans"),
    ("sour cherries", "tart cherries", "pie cherries"),
    ("peaches", "yellow peaches", "yellow-fleshed peaches"),
    ("nectarines", "yellow nectarines", "yellow-fleshed nectarines"),
    ("red currants", "redcurrants"),
    ("black currants", "blackcurrants"),
    ("Asian pears", "nashi"),
    ("chickpeas", "chick peas", "garbanzo beans"),
)
"""
Names of the trade for one thing, the first as it is read here. A test holds them to the
book, which has each of them as one food; not the other way: it has wax beans in the
table of green ones, and they are another thing on a shelf.
"""
_SALT_FOR = frozenset({"pickling", "and"})
"""What salt without iodine is sold for: "canning and pickling salt"."""
_WITH_LIDS = frozenset({"and", "with", "band", "ring"})
"""What is counted along with lids, which are lids all the same."""
PECTIN = "pectin"
VINEGAR, _STRENGTH = "vinegar", frozenset({"5", "acidity", "percent"})
_VINEGARS = frozenset({"cider", "apple", "distilled"})
"""Kinds that serve wherever a recipe asks for vinegar of 5 %."""
_BEHIND = (
    _PLAIN_WORDS | _PLAIN_OF["juice"] | {"granulated", "brown", "acidity", "percent"}
)
"""Words that may stand behind what they are said of: "sugar brown"."""


def same_thing(one: str, other: str) -> bool:
    """
    Whether two names mean one thing on the shelf.

    >>> same_thing("regular powdered pectin", "powdered pectin, regular")
    True
    >>> same_thing("plum juice", "sour cherry juice")
    False
    >>> same_thing("lime juice", "lemon or lime juice")
    True
    >>> same_thing("onions", "onions and/or peppers")
    True

    Beans that snap are green ones; wax beans are others.

    >>> [same_thing(said, "green beans") for said in ("snap beans", "wax beans")]
    [True, False]

    A spice is meant ground where a recipe names it alone; whole it is another thing.

    >>> same_thing("ground cinnamon", "cinnamon")
    True
    >>> [same_thing("ground cloves", other) for other in ("cloves", "whole cloves")]
    [True, False]

    Vinegar of 5 % is cider vinegar too; of which no strength is said may be weaker.

    >>> [same_thing(said, "vinegar 5%") for said in ("Cider vinegar, 5 %", VINEGAR)]
    [True, False]

    Lids are lids, whatever is counted along with them.

    >>> same_thing("lids and bands", "lids"), same_thing("bands", "lids")
    (True, False)

    Peaches are yellow-fleshed ones: white ones are lower in acid.

    >>> [same_thing(f"{c} peaches", "peaches") for c in ("yellow", "white", "frozen")]
    [True, False, True]

    Where juice has to be bottled, of an acidity that somebody vouches for, what was
    squeezed at home is none; lemon juice of which nothing is said is either.

    >>> fresh = "fresh lemon juice"
    >>> [same_thing(fresh, said) for said in ("lemon juice", "bottled lemon juice")]
    [True, False]

    Powdered pectin has more names than one; "pectin" alone may be liquid or set by
    calcium, and is none of them.

    >>> [same_thing(said, "powdered pectin") for said in ("pectin powder", PECTIN)]
    [True, False]
    """
    if any(_is_squeezed(a) and _is_bottled(b) for a, b in ((one, other), (other, one))):
        return False
    heads = {_head(one), _head(other)}
    if len(heads) > 1 and heads & _FORMS:
        return False
    return any(a == b for a in _meanings(one) for b in _meanings(other))


def is_kind_of(name: str, plain: str) -> bool:
    """
    Whether a name is a plainer one with more said of it, in whatever order.

    >>> [is_kind_of(said, "apples") for said in ("Bramley apples", "apples, Bramley")]
    [True, True]

    >>> is_kind_of("pickling cucumbers", "cucumbers"), is_kind_of("cucumbers", "salt")
    (True, False)
    >>> is_kind_of("plum juice", "plums")  # its last word says what it is
    False
    """
    return words_of(plain) < words_of(name) and _head(plain) == _head(name)


def _is_bottled(name: str) -> bool:
    return "bottled" in tokens(name)


def _is_squeezed(name: str) -> bool:
    return not _NOT_BOTTLED.isdisjoint(tokens(name))


def asks_for_bottled(name: str) -> bool:
    """
    Whether juice of an acidity that somebody vouches for is asked for.

    >>> asks_for_bottled("bottled lemon juice"), asks_for_bottled("plum juice")
    (True, False)
    """
    return _is_bottled(name)


@lru_cache(maxsize=4096)
def _head(name: str) -> str:
    """
    The word that says what it is, of "apple juice frozen" and "juice - apple" juice.

    >>> [_head(said) for said in ("juice of plums", "vinegar, white", "juice oranges")]
    ['juice', 'vinegar', 'orange']
    """
    said = _in_order(name)
    if VINEGAR in said:
        return VINEGAR
    if "of" in said[1:] and said[said.index("of") - 1] in _FORMS:
        return said[said.index("of") - 1]
    while len(said) > 1 and (said[-1].isdigit() or said[-1] in _BEHIND):
        said = said[:-1]
    return said[-1] if said else ""


@lru_cache(maxsize=4096)  # the same few names of a shelf, for every need of a day
def _in_order(name: str) -> tuple[str, ...]:
    """
    The words of a name as they are said in one breath, by the trade's first name.

    >>> _in_order("peaches, white"), _in_order("juice: plum (frozen)")
    (('white', 'peach'), ('frozen', 'plum', 'juice'))
    """
    parts = [tokens(part) for part in _PARTS.split(name)]
    return _as_read(tuple(word for part in reversed(parts) for word in part))


def _meanings(name: str) -> list[frozenset[str]]:
    """A name that leaves a choice, "lemon or lime juice", means each of them."""
    if PECTIN in tokens(name):
        known = ingredient_named(name)
        return [words_of(name if isinstance(known, Refusal) else known.name)]
    name = name.replace(" and/or ", " or ")
    if " or " not in name:
        words = words_of(name)
        if VINEGAR in words and words & _STRENGTH and words & _VINEGARS:
            return [words - _VINEGARS - {"acidity", "percent"}, words - _STRENGTH]
        return [words - {"acidity", "percent"} if VINEGAR in words else words]
    choices = [part.strip() for part in re.split(r",| or ", name) if part.strip(" ,")]
    if not choices:  # ", or ," names nothing
        return [words_of(name)]
    shared = choices[-1].split()[-1]
    return [words_of(c) for choice in choices for c in (choice, f"{choice} {shared}")]


@cache
def _synonyms() -> dict[tuple[str, ...], tuple[str, ...]]:
    return {
        tuple(tokens(other)): tuple(tokens(first))
        for first, *others in SYNONYMS
        for other in others
    }


def _as_read(said: tuple[str, ...]) -> tuple[str, ...]:
    """Put the one name of a thing in place of its others, where they stand as such."""
    for other, first in _synonyms().items():
        for at in range(len(said) - len(other) + 1):
            if said[at : at + len(other)] == other:
                return _as_read((*said[:at], *first, *said[at + len(other) :]))
    return said


@lru_cache(maxsize=4096)
def words_of(name: str) -> frozenset[str]:
    """Return the words that say which thing it is, without those that change none."""
    words = frozenset(_in_order(name))
    plain = _PLAIN_WORDS | _PLAIN_OF.get(_head(name), frozenset())
    for word, foods in _LOWER_IN_ACID.items():
        plain -= {word} if words & foods else set()
    words = (words - plain) or words
    if "salt" in words:
        words -= _SALT_FOR
    if words >= _CITRIC:
        words -= _SOLD_AS
    if "lid" in words:
        words -= _WITH_LIDS
    spice = words - _GROUND
    return spice if spice and spice <= _SOLD_GROUND else words
