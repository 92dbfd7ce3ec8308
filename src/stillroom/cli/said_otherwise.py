"""
Words that name no command, and which command is meant by them.

Who has sold six jars types "sell". Spelling alone is no guide to that: the nearest name
is "recall".
"""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

from stillroom.stock.events import Way

_GONE = {
    Way.SOLD: ("sell", "sale", "sales"),
    Way.DRAWN: ("use", "used", "draw", "drew"),
    Way.EATEN: ("eat", "ate"),
    Way.GIVEN: ("give", "gave", "gift"),
    Way.SPOILED: ("spoil", "bad", "discard", "discarded", "toss", "tossed", "trash"),
    Way.BROKEN: ("break", "broke"),
    Way.TASTED: ("taste", "tasting"),
}
MEANT = {
    **dict.fromkeys(("buy", "bought", "got", "receive", "new"), "stock add"),
    **dict.fromkeys(("make", "canned"), "stock made"),
    **dict.fromkeys(("seal", "seals", "lids"), "stock check"),
    **dict.fromkeys(("find", "list", "show", "have"), "stock"),
    **dict.fromkeys(("undo", "correct", "delete", "remove"), "stock mend"),
    **dict.fromkeys(("expires", "expiry", "spoils"), "stock soon"),
    **dict.fromkeys(("can", "canning", "times"), "process"),
    **dict.fromkeys(("altitude", "elevation"), "jelly-point"),
    **dict.fromkeys(("soft", "runny"), "remake"),
    **dict.fromkeys(("print", "pdf"), "sheet"),
    **dict.fromkeys(("web", "pages", "run"), "serve"),
}
"""Word to the command."""


def way_meant(word: str) -> Way | None:
    """
    Return how something left the shelf, by a word for it; `None` where none is known.

    >>> way_meant("gave"), way_meant("lent")
    (<Way.GIVEN: 'given'>, None)
    """
    said = word.strip().casefold()
    return next((w for w, words in _GONE.items() if said in (w, *words)), None)


def meant_by(word: str) -> str:
    """
    Say which command is meant by a word that names none; empty where none is known.

    >>> meant_by("sold")
    'stillroom stock out LOT QUANTITY --as sold'
    >>> meant_by("sel")
    ''
    """
    word = word.casefold()
    for way, words in _GONE.items():
        if way is not Way.DRAWN and word in (way, *words):
            return f"stillroom stock out LOT QUANTITY --as {way}"
    return f"stillroom {MEANT[word]}" if word in MEANT else ""


def nearest(word: str, commands: Sequence[str]) -> str:
    """
    Return the command that is spelt most like a word; empty where none is near.

    >>> nearest("plann", ["plan", "replan", "explain"])
    'plan'
    >>> nearest("zzz", ["plan"])
    ''
    """
    return next(iter(get_close_matches(word.casefold()[:40], commands, n=1)), "")
