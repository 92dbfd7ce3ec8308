"""What is put up for the cold by its name: freezer jam, refrigerator pickles. Pure."""

from __future__ import annotations

from stillroom.book.words import holds, tokens

_COLD = ("freezer", "refrigerator", "fridge")
_FOR_THE_COLD = frozenset({*_COLD, "refrigerated", "frozen"})
_FOR_IT = tuple(f"for {the}{cold}" for cold in _COLD for the in ("", "the "))
_NO_COOK = ("uncooked", "no cook", "no cooking")
_PUT_UP = frozenset(
    {"spread", "jam", "jelly", "marmalade", "preserve", "conserve"}
    | {"pickle", "relish", "sauce", "applesauce", "salsa"}
)
"""What is else cooked: uncooked rice and no-cook oats are dry."""
_MADE_OF = frozenset({"from", "of", "with"})
"""Before what it was made of: jelly from frozen juice was cooked, and has a process."""


def is_for_the_cold(what: str) -> bool:
    """
    Whether jars of it are no goods of a shelf, by what they are called.

    >>> is_for_the_cold("strawberry freezer jam"), is_for_the_cold("no-cook jam")
    (True, True)
    >>> is_for_the_cold("fridge pickles"), is_for_the_cold("pickled beets")
    (True, False)
    >>> is_for_the_cold("frozen plum jam"), is_for_the_cold("jam for the freezer")
    (True, True)
    >>> is_for_the_cold("uncooked rice"), is_for_the_cold("jam from frozen plums")
    (False, False)
    """
    words = tokens(what)
    of = next((n for n, word in enumerate(words) if word in _MADE_OF), len(words))
    if _FOR_THE_COLD & set(words[: min(of, len(words) - 1)]):
        return True
    if any(holds(words, phrase) for phrase in _FOR_IT):
        return True
    no_cook = any(holds(words, phrase) for phrase in _NO_COOK)
    return no_cook and bool(_PUT_UP & set(words))
