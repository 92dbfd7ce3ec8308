"""
What is not reliably acid, by its names: the one list, whichever door is asked.

Fruit that its table does not print as acid, and what makes a spread of any fruit
doubtful: vegetables, onions, peppers, tomatoes, meat and fish.
"""

from __future__ import annotations

from functools import cache

from stillroom.book.never import Never, never_in_a_spread
from stillroom.book.produce import NEEDS_ACID, Fruit, fruits
from stillroom.book.words import holds, many, tokens
from stillroom.in_a_list import all_of

_LOW_ACID_FOODS = frozenset(
    {"a low-acid vegetable", "meat or fish", "onion or garlic", "peppers", "tomato"}
)
"""Foods of the book's list of what has no place in a spread that are not acid."""
_COLOURED = frozenset({"white", "asian"})
"""Their word may stand anywhere: "peaches, white"."""


def fruit_not_acid(words: list[str]) -> Fruit | None:
    """
    Find a fruit that is not reliably acid, in whatever order it is written.

    >>> from stillroom.book.words import tokens
    >>> fruit_not_acid(tokens("peaches, white")).name, fruit_not_acid(["peach"])
    ('white peach', None)
    """
    found: list[tuple[int, Fruit]] = []
    for fruit in _fruits_not_acid():
        for phrase in (fruit.name, *fruit.aliases):
            parts = set(tokens(phrase))
            apart = bool(_COLOURED & parts) and parts <= set(words)
            if apart or holds(words, phrase):
                found.append((len(phrase), fruit))
    return max(found, key=lambda pair: pair[0])[1] if found else None


@cache
def foods_not_acid() -> tuple[Never, ...]:
    """Return the foods other than fruit that make no acid jar, with their reasons."""
    return tuple(n for n in never_in_a_spread() if n.what in _LOW_ACID_FOODS)


@cache
def names_not_acid() -> tuple[str, ...]:
    """
    Return every name of what is not reliably acid, fruit first.

    >>> {"fig", "white fleshed peach", "tomato", "jalapeno"} <= set(names_not_acid())
    True
    """
    others = (phrase for food in foods_not_acid() for phrase in food.phrases)
    return tuple(dict.fromkeys((*fruit_names_not_acid(), *others)))


@cache
def fruit_names_not_acid() -> tuple[str, ...]:
    """Return every name of fruit that is not reliably acid."""
    return tuple(name for f in _fruits_not_acid() for name in (f.name, *f.aliases))


@cache
def fruit_not_acid_words() -> str:
    """
    Name every fruit that is not reliably acid, as it is bought.

    >>> fruit_not_acid_words().startswith("elderberries, figs, Asian pears, white")
    True
    """
    return all_of(many(fruit.name) for fruit in _fruits_not_acid())


@cache
def _fruits_not_acid() -> tuple[Fruit, ...]:
    return tuple(f for f in fruits().values() if f.acid_class == NEEDS_ACID)
