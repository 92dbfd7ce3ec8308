"""What is never done: each a row with the reason, what to do instead, and who says."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources.abc import Traversable

from stillroom.book.reader import Row, read_rows, table
from stillroom.book.words import holds, tokens
from stillroom.refusal import Refusal


@dataclass(frozen=True, slots=True)
class Never:
    """A way, a food or a jar that is refused whatever else is said."""

    what: str
    phrases: tuple[str, ...]
    """Words that call for it."""
    refusal: Refusal
    how_known: str


def read_never(path: Traversable, what: str) -> tuple[Never, ...]:
    """Return the refusals of a table; its first column is called ``what``."""

    def never(row: Row) -> Never:
        refusal = Refusal(row.text("reason"), row.text("instead"), row.text("source"))
        return Never(row.text(what), row.words("words"), refusal, row.text("how_known"))

    columns = [what, *["words", "reason", "instead", "source", "how_known"]]
    return tuple(never(row) for row in read_rows(path, columns))


@cache
def never_products() -> tuple[Never, ...]:
    """Return the foods that have no process in any jar."""
    return read_never(table("refused_products"), "what")


@cache
def never_in_a_spread() -> tuple[Never, ...]:
    """Return what has no place in a keeper's own spread, and why."""
    return read_never(table("low_acid"), "what")


def is_of_meat(text: str) -> bool:
    """
    Whether a name has a word for meat or fish in it.

    >>> is_of_meat("goose"), is_of_meat("goose berries")
    (True, False)
    """
    return _holds_a_word_for("meat or fish", text)


def spoils_uncooled(text: str) -> bool:
    """
    Whether a name has a word for meat, fish, milk or eggs in it.

    >>> spoils_uncooled("ground beef"), spoils_uncooled("milk"), spoils_uncooled("kale")
    (True, True, False)
    """
    return is_of_meat(text) or _holds_a_word_for("dairy or eggs", text)


def _holds_a_word_for(what: str, text: str) -> bool:
    of = next(never for never in never_in_a_spread() if never.what == what)
    words = tokens(text)
    return any(holds(words, phrase) for phrase in of.phrases)


@cache
def never_ways() -> tuple[Never, ...]:
    """Return the ways of sealing jars that are no process."""
    return read_never(table("unsafe_methods"), "way")


_NOT_IN_THIS_BOOK = frozenset({"steam canner", "electric multi-cooker"})
"""Refused as no table here is of them; nothing is printed here against their heat."""


@lru_cache(maxsize=256)  # asked of every lot: canners have few names
def never_a_process(way: str) -> Refusal | None:
    """
    Return why a way of sealing jars is no process, whatever is in them and how long.

    `None` for a canner, and where only no table of this book is of it.

    >>> never_a_process("oven").source[:12]
    'USDA AIB 410'
    >>> never_a_process("water bath") is None, never_a_process("steam") is None
    (True, True)
    """
    words = tokens(way)
    return next(
        (
            never.refusal
            for never in never_ways()
            if never.what not in _NOT_IN_THIS_BOOK
            and any(holds(words, phrase) for phrase in never.phrases)
        ),
        None,
    )


@cache
def never_jars() -> tuple[Never, ...]:
    """Return the jars and lids that are not used."""
    return read_never(table("unsafe_jars"), "jar")
