"""
Which dish a name is of, and whether it is wet: soup, and no soup mix. Pure.

Bouillon is none: it is sold dry, in cubes and powders. Only in bottles and jugs is it
poured, as broth is.
"""

from __future__ import annotations

from stillroom.book.never import is_of_meat
from stillroom.book.words import tokens
from stillroom.stock.no_process_needed import needs_no_process

POURED = frozenset({"broth", "stock", "consomme", "soup", "stew", "gravy", "bisque"})
"""Dishes that are poured into bottles as they are into jars."""
_DISHES = POURED | {
    *("chowder", "curry", "casserole", "goulash", "ragout", "ragu", "gumbo"),
    *("jambalaya", "borscht", "minestrone", "bolognese", "meatball", "meatloaf"),
    *("tamale", "enchilada", "quiche", "succotash", "burrito", "taco"),
    *("lasagna", "lasagne", "ravioli", "paella", "stroganoff", "alfredo"),
    *("ratatouille", "hummus", "guacamole", "custard", "stuffing", "dumpling"),
    *("salad", "slaw", "coleslaw", "pie", "gratin", "mac"),
    *("risotto", "pilaf", "frittata", "omelet", "omelette", "pierogi"),
}
"""Last words of what is cooked or mixed, whatever was done to it."""
_COOKED = frozenset(
    {"baked", "cooked", "refried", "steamed", "leftover", "boiled", "fried", "roasted"}
    | {"scalloped", "scrambled", "stewed", "creamed", "deviled", "stuffed"}
)
"""Before a food that is else raw or dry: cooked rice, baked beans."""
_MASHED = frozenset(
    {"potato", "turnip", "rutabaga", "cauliflower", "carrot", "parsnip", "pea", "bean"}
    | {"pumpkin", "squash", "yam"}
)
"""Cooked before it is mashed; fruit for a jam is mashed raw."""
_COOKED_DRY = frozenset(
    {"bread", "cake", "muffin", "brownie", "chip", "cracker", "good", "seed", "olive"}
)
"""What keeps dry, or in its brine, though it was baked, roasted or stuffed."""
_PASTA = frozenset({"macaroni", "mac", "spaghetti", "pasta", "noodle"})
"""Dry by itself, and a dish with what is in it."""
_OF_CHILI = frozenset(
    {"con", "carne", "bean", "lentil", "vegetarian", "vegan", "homemade", "leftover"}
)
"""Words of the dish, beside those of meat, whatever else is said of it."""
_PEPPERS = frozenset(
    {"green", "red", "yellow", "orange", "fresh", "ripe", "whole"}
    | {"serrano", "jalapeno", "habanero", "poblano", "ancho", "cayenne", "guajillo"}
    | {"anaheim", "hatch", "thai", "bird", "finger"}
)
"""Words of the pepper: any other chili is the dish, as the book reads it too."""
_BEHIND = frozenset({"with", "and", "con"})
"""Before what is in the dish, or beside it."""
_DRY = frozenset({"dry", "dried", "dehydrated", "powder", "powdered", "mix", "instant"})
_MAY_SOAK = frozenset({"dry", "dried", "dehydrated"})
_DRIED_FIRST = frozenset(
    {"bean", "pea", "lentil", "chickpea", "mushroom", "tomato", "beef", "fish"}
    | {"cod", "shrimp", "corn", "chile", "fruit", "apple", "apricot", "plum"}
    | {"cured", "aged", "rubbed", "salted", "sherry", "wine"}
)
"""Behind those, what is cooked into a wet dish: soup of dried beans, or cured ham."""


def parts(what: str, between: frozenset[str] = _BEHIND) -> list[list[str]]:
    """
    Return the words of each thing that a name joins by "with" or "and".

    >>> parts("beef stew with dumplings")
    [['beef', 'stew'], ['dumpling']]
    """
    found: list[list[str]] = [[]]
    for word in tokens(what):
        if word in between:
            found.append([])
        else:
            found[-1].append(word)
    return [words for words in found if words]


def dish(what: str) -> str:
    """
    Return the word for the wet dish that a name is of; empty where it is of none.

    >>> dish("beef stew with dumplings"), dish("chili con carne"), dish("pot roast")
    ('stew', 'chili', 'roast')
    >>> dish("homemade chili"), dish("green chili"), dish("green chili with beef")
    ('chili', '', 'chili')
    >>> dish("dried vegetable soup"), dish("dark roast coffee")
    ('', '')
    >>> dish("mashed potatoes"), dish("baked bread"), dish("potato salad")
    ('potato', '', 'salad')
    >>> dish("macaroni and cheese"), dish("macaroni"), dish("lasagna noodles")
    ('macaroni', '', '')
    >>> dish("dried bean soup"), dish("beef bouillon")
    ('soup', '')
    """
    if needs_no_process(what):
        return ""
    joined = parts(what)
    # "chicken and noodle soup" is soup, and so is "soup with chicken"
    for words in (*joined[:1], *joined[-1:]):
        if _is_dish(words[-1], what) and not _is_dry(words):
            return words[-1]
    return _pasta_with(tokens(what))


def may_be_cooked(what: str) -> bool:
    """
    Whether it is dry by that name as well as cooked: what stands in a tub may be.

    >>> may_be_cooked("macaroni"), may_be_cooked("dry macaroni"), may_be_cooked("rice")
    (True, False, False)
    """
    words = tokens(what)
    return bool(words) and words[-1] in _PASTA and not _is_dry(words)


def _pasta_with(words: list[str]) -> str:
    """Return the pasta of a dish that is called by what is in it: "mac and cheese"."""
    if _is_dry(words):
        return ""
    found = next((word for word in words[:-1] if word in _PASTA), "")
    behind = words[words.index(found) + 1 :] if found else []
    return found if _BEHIND & set(behind) or behind[-1:] == ["cheese"] else ""


def _is_dish(word: str, what: str) -> bool:
    if word == "chili":
        said = set(tokens(what))
        return is_of_meat(what) or bool(_OF_CHILI & said) or not _PEPPERS & said
    if word == "roast":
        return is_of_meat(what) or "pot" in tokens(what)
    before = set(tokens(what)[:-1])
    if _COOKED & before and "canned" not in before:
        return word not in _COOKED_DRY
    if "mashed" in before:
        return word in _MASHED
    return word in _DISHES


def _is_dry(words: list[str]) -> bool:
    at = next((n for n, word in enumerate(words) if word in _DRY), None)
    if at is None:
        return False
    if "freeze" in words[:at] or words[at] not in _MAY_SOAK:
        return True
    return not _DRIED_FIRST & set(words[at + 1 : at + 2])
