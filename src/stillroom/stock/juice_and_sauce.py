"""Fruit juice, puree and sauce that no jar closes over: by their names. Pure."""

from __future__ import annotations

from functools import lru_cache

from stillroom.book.produce import fruits_by_words
from stillroom.book.words import holds, tokens

_SAUCES = frozenset({"sauce", "puree", "pulp", "compote", "nectar"})
_TOMATO = "tomato"
_KEEPS = frozenset(
    {"bottled", "canned", "tinned", "dried", "dry", "dehydrated", "powdered", "powder"}
)
"""Words of what a shop closed, or of what is dry."""


@lru_cache(maxsize=1024)
def is_fruit_juice(what: str) -> bool:
    """
    Whether it is the juice of fruit and nothing else, by its name.

    >>> is_fruit_juice("plum juice"), is_fruit_juice("plum jelly")
    (True, False)
    >>> is_fruit_juice("bottled lemon juice"), is_fruit_juice("tomato juice")
    (False, False)
    """
    words = tokens(what)
    return words[-1:] == ["juice"] and not _KEEPS & set(words) and _has_fruit(words)


@lru_cache(maxsize=1024)
def is_fruit_sauce(what: str) -> bool:
    """
    Whether it is fruit or tomatoes, cooked or crushed to a sauce, a puree or a juice.

    >>> is_fruit_sauce("cooked applesauce"), is_fruit_sauce("peach puree")
    (True, True)
    >>> is_fruit_sauce("tomato juice"), is_fruit_sauce("soy sauce")
    (True, False)
    >>> is_fruit_sauce("canned applesauce"), is_fruit_sauce("apple butter")
    (False, False)
    """
    words = tokens(what)
    if not words or _KEEPS & set(words):
        return False
    if words[-1] == "applesauce":
        return True
    if _TOMATO in words:
        return words[-1] in _SAUCES | {"juice"}
    return words[-1] in _SAUCES and _has_fruit(words)


def is_puree(what: str) -> bool:
    """
    Whether it is a puree, of whatever food: that is cooked or crushed, and wet.

    >>> is_puree("pumpkin puree"), is_puree("dried pumpkin puree"), is_puree("pumpkin")
    (True, False, False)
    """
    words = tokens(what)
    return words[-1:] == ["puree"] and not _KEEPS & set(words)


def _has_fruit(words: list[str]) -> bool:
    return any(holds(words, name) for name in fruits_by_words())
