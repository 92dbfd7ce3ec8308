"""
What a word beside a fault makes of it, wherever in the sentence it stands.

A phrase of the table ends where the next thing is told ("power cut, the freezer
thawed"), and means another thing all the same.
"""

from __future__ import annotations

from stillroom.book.heard import NOTHING, Said, words_of

SALT_FOR_TASTE = frozenset({"salt-left-out", "salt-left-out-acid", "pickle-salt"})
"""Rows of salt that was left out where it is there for the taste."""
_KEPT_BY_SALT = {
    "ferment-salt": "ferment crock kraut sauerruben kimchi kvass miso lacto",
    # Sausage may be fresh, and have gone into jars: its row says what holds then.
    "cured-salt": "cure corned smoke ham sausage bacon pancetta prosciutto salami "
    "lox gravlax",
}
"""Where a word of these is said beside salt that was left out, it is no taste alone."""
_BRINE, _VINEGAR, _CABBAGE = (words_of(w)[0] for w in ("brine", "vinegar", "cabbage"))
_OF_A_POT = "soup stew roll"
"""Beside one of these cabbage is cooked, and lies in no crock."""
_POWER = "power"
_NOT_AT_A_STOVE = "freezer fridge refrigerator dryer dehydrator"
_AT_A_CANNER = "canner can process boil pressure lid seal stove burner load"


def kept_by_salt(said: tuple[str, ...]) -> frozenset[str]:
    """
    Return the rows that answer for food which is kept by its salt, if any is said.

    A food that was chosen, or a word between, must not make it a matter of taste: the
    salt of bacon, and of a crock, keeps down what makes the toxin.

    >>> sorted(kept_by_salt(words_of("packed the crock and forgot the salt")))
    ['ferment-salt']
    >>> sorted(kept_by_salt(words_of("green beans without salt")))
    []
    """
    keeps = {row for row, words in _KEPT_BY_SALT.items() if _says_any(words, said)}
    if _BRINE in said and not keeps:
        keeps.add("ferment-salt")
    if _CABBAGE in said and not _says_any(_OF_A_POT, said):
        keeps.add("ferment-salt")
    if _VINEGAR in said:
        keeps.discard("ferment-salt")
    return frozenset(keeps)


def power_elsewhere(
    places: list[tuple[str, Said]], said: tuple[str, ...]
) -> list[tuple[str, Said]]:
    """
    Return where power that went out was that of a freezer: it broke off no boil.

    Of a refrigerator or a dryer neither. Where anything of a canner is said
    beside it, it may have been that one's.
    """
    if not _says_any(_NOT_AT_A_STOVE, said) or _says_any(_AT_A_CANNER, said):
        return []
    return [
        (NOTHING, place)
        for _, place in places
        if _POWER in words_of(place.phrase)
        and not _says_any(_NOT_AT_A_STOVE, words_of(place.phrase))
    ]


def _says_any(words: str, said: tuple[str, ...]) -> bool:
    return not set(words_of(words)).isdisjoint(said)
