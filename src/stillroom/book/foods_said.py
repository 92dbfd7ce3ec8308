"""
Which food somebody names when she says what went wrong, and whether it is in doubt.

The words are in the table ``trouble_words``; what is not reliably acid is the book's
own list of it. A spread of such food is a spread as to its set, and no acid food as to
its process.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from importlib.resources.abc import Traversable

from stillroom.book.heard import NOTHING, Said, all_places, outermost, words_of
from stillroom.book.not_acid import fruit_names_not_acid, names_not_acid
from stillroom.book.reader import read_rows, table

FOODS = (
    *("any", "jelly", "jam", "pickle", "butter", "dense", "low_acid"),
    *("acid", "fat", "dried_meat"),
)
DOUBTFUL = "doubtful"
"""Food that is not reliably acid: low-acid as to its process, not as to its set."""
DENSE = "dense"
_LOW_ACID = "low_acid"
_STRICT = (_LOW_ACID, DOUBTFUL, DENSE)
"""Heard beside whatever food was chosen: the stricter of what was chosen and said."""
_SPREADS = frozenset({"jelly", "jam", "butter"})


def read_words(path: Traversable) -> tuple[tuple[str, str], ...]:
    """Return the phrases of a table, each after what it names."""
    rows = read_rows(path, ["means", "words", "source", "how_known"])
    means = (*FOODS, DOUBTFUL, NOTHING)
    return tuple(
        (row.one_of("means", means), phrase)
        for row in rows
        for phrase in row.words("words")
    )


@cache
def _names() -> tuple[tuple[str, str], ...]:
    fruit = ((DOUBTFUL, name) for name in fruit_names_not_acid())
    return (*read_words(table("trouble_words")), *fruit)


@cache
def _not_acid() -> tuple[tuple[str, str], ...]:
    return tuple((DOUBTFUL, name) for name in names_not_acid())


def is_dense(what: str) -> bool:
    """
    Whether the book has a food by its name among those that heat too slowly.

    Examples
    --------
    >>> is_dense("winter squash, cubed"), is_dense("green beans")
    (True, False)
    """
    return any(means == DENSE for means, _ in named_in(words_of(what)))


def named_in(said: tuple[str, ...]) -> list[tuple[str, Said]]:
    """Return the foods that are named in a sentence, and where; `NOTHING` too."""
    return outermost(all_places(_names(), said))


def foods_in(
    said: tuple[str, ...], named: Iterable[tuple[str, Said]], chosen: str | None
) -> set[str]:
    """
    Return the foods that an answer is for: what was chosen, or else what was named.

    What is low-acid, in doubt or dense counts whatever was chosen beside it: who calls
    her fig jam a jam has not said that it is acid.

    Examples
    --------
    >>> said = words_of("fig jam never processed")
    >>> sorted(foods_in(said, named_in(said), "jam"))
    ['doubtful', 'jam']
    >>> said = words_of("jam of plums and black pepper")
    >>> sorted(foods_in(said, named_in(said), "jam"))
    ['jam']
    """
    means = {of for of, _ in named} - {NOTHING}
    foods = {chosen} | (means & set(_STRICT)) if chosen else means
    if (foods | means) & _SPREADS and _is_in_doubt(said):
        foods.add(DOUBTFUL)
    return foods


def _is_in_doubt(said: tuple[str, ...]) -> bool:
    """Whether a food is named that makes no acid spread, but for what is no food."""
    harmless = [place for of, place in all_places(_names(), said) if of == NOTHING]
    return any(
        not any(place.at <= other.at for other in harmless)
        for _, place in all_places(_not_acid(), said)
    )
