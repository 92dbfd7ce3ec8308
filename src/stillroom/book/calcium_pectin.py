"""
Pectin that sets by calcium: what is published of it, and why no recipe answers here.

Extension print says to follow the recipe and the processing time that come with that
pectin, and no tested recipe of an extension service with all its figures was seen. So
the book holds the rules only; a keeper's leaflet is followed by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from stillroom.book.reader import read_rows, table
from stillroom.book.words import holds, tokens
from stillroom.refusal import Refusal, Source

_WORDS = ("calcium", "low methoxyl", "low methoxy", "calcium set")


@cache
def calcium_rules() -> Mapping[str, tuple[str, Source]]:
    """Return what is published of pectin that sets by calcium, by rule."""
    columns = ["rule", "text", "source", "how_known"]
    return {
        row.text("rule"): (row.text("text"), row.source)
        for row in read_rows(table("calcium_pectin"), columns)
    }


def asks_for_calcium_pectin(name: str) -> bool:
    """
    Tell whether a product was asked for with calcium-set pectin.

    Examples
    --------
    >>> asks_for_calcium_pectin("strawberry jam with calcium pectin")
    True
    """
    said = tokens(name)
    return any(holds(said, words) for words in _WORDS)


def no_tested_recipe(name: str) -> Refusal:
    """Say why no recipe with calcium-set pectin answers, and what to do."""
    text, source = calcium_rules()["own recipe"]
    return Refusal(
        f"the book holds no tested recipe with pectin that sets by calcium, which "
        f"{name!r} is asked for with: {text}, and none with all its figures was seen",
        instead="follow the leaflet in the box by hand, its processing time too; or "
        "freeze or refrigerate the jars; or take a recipe with regular pectin",
        source=str(source),
    )
