"""
Names of food with a slip in them: "grean beans", "tomatoe sauce", "greenbeans". Pure.

No process is ever looked up by such a name, which is refused and asked about. It only
counts where something is in doubt: jars of "brocoli" may be as low-acid as broccoli.
"""

from __future__ import annotations

import re
from difflib import get_close_matches
from functools import lru_cache

from stillroom.book.words import tokens

_ALIKE = 0.8
"""Of 1: letters more alike than this may be one word. Our own judgement."""
_SURELY_ALIKE = 0.82
"""Where a consonant is another: Maine is no mince."""
_FEWEST = 5
"""Of letters: of fewer one slip makes another word."""
_STAPLES = ("bean", "beet", "beef")
"""Short ones that are put up so often that a wrong vowel in them is read too."""
_LAST_OF_TWO = frozenset(
    {"bean", "pea", "corn", "potato", "soup", "stew", "sauce", "broth", "stock"}
    | {"meat", "squash", "pumpkin"}
)
"""Second halves of two words that are written as one."""
_OTHERS = frozenset(
    {"peppercorn", "popcorn", "peppermint", "spearmint", "acorn", "livestock"}
    | {"rootstock", "jellybean", "coffeebean", "stick", "bitter", "paprika", "roasted"}
)
"""Words of their own that are much like another, or like two."""


def as_spelled(what: str, known: frozenset[str]) -> str:
    """
    Return a name with each word that is nearly a known one put in its place.

    >>> known = frozenset({"green", "bean", "broccoli", "soup", "plum"})
    >>> as_spelled("grean beans", known), as_spelled("Greenbeans", known)
    ('green bean', 'green bean')
    >>> as_spelled("brocoli soup", known), as_spelled("plum wine", known)
    ('broccoli soup', 'plum wine')
    >>> as_spelled("lima beens", known), as_spelled("root beer", known)
    ('lima bean', 'root beer')
    """
    return " ".join(_spelled(word, known) for word in tokens(what))


@lru_cache(maxsize=1024)
def _spelled(word: str, known: frozenset[str]) -> str:
    if word in known or word in _OTHERS:
        return word
    if len(word) < _FEWEST:
        alike = (name for name in _STAPLES if len(name) == len(word))
        return next((name for name in alike if _bones(name) == _bones(word)), word)
    for last in _LAST_OF_TWO:
        first = word.removesuffix(last)
        if len(first) > 2 and first != word:
            return f"{first} {last}"
    begins_so = [name for name in known if name[0] == word[0] and len(name) > 3]
    near = get_close_matches(word, sorted(begins_so), n=3, cutoff=_ALIKE)
    # a wrong vowel is the likelier slip: peech is peach, and no perch
    by_its_vowels = [name for name in near if _bones(name) == _bones(word)]
    surely = get_close_matches(word, near, n=1, cutoff=_SURELY_ALIKE)
    return (by_its_vowels + surely + [word])[0]


def _bones(word: str) -> str:
    return re.sub("[aeiouy]", "", word)
