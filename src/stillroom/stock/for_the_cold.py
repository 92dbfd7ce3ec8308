"""What is put up for the cold by its name: freezer jam, refrigerator pickles. Pure."""

from __future__ import annotations

from stillroom.book.words import holds, tokens

_FOR_THE_COLD = ("freezer", "refrigerator", "fridge", "refrigerated", "uncooked")
_NO_COOK = ("no cook", "no cooking")


def is_for_the_cold(what: str) -> bool:
    """
    Whether jars of it are no goods of a shelf, by what they are called.

    >>> is_for_the_cold("strawberry freezer jam"), is_for_the_cold("no-cook jam")
    (True, True)
    >>> is_for_the_cold("fridge pickles"), is_for_the_cold("pickled beets")
    (True, False)
    """
    words = tokens(what)
    named = set(_FOR_THE_COLD) & set(words[:-1])
    return bool(named) or any(holds(words, phrase) for phrase in _NO_COOK)
