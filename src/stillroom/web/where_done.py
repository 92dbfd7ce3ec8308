"""Where a page does what a refusal names as a command of the terminal."""

from __future__ import annotations

import re
from collections.abc import Callable

from markupsafe import Markup, escape

_COMMAND = re.compile(
    r"stillroom stock\b"
    r"(?: (?P<name>add|after|check|cold|complete|count|gauge|history|hold|made|mend"
    r"|move|out|process|put-up|trace)\b)?"
    r"(?: (?P<lot>L\d\d[A-N]\d\d-[0-9A-Z]+|LOT)\b)?(?: (?:QUANTITY|READING))?"
    r"(?: PLACE --on DAY --clock TIME)?"
    r"(?: --as (?P<way>[a-z]+(?:-[a-z]+)?)\b)?(?: --(?:bought|dry)\b)?"
    r"(?: --[a-z]+ [A-Z]+\b)*"
)
_ON_PAGES: dict[str, tuple[str, str, str]] = {
    "": ("the stock page", "/stock", "/stock"),
    "add": ("the stock page", "/stock", "/stock"),
    "after": ("the page of the day after", "/stock/after", "/stock/after"),
    "check": ("the page of the day after", "/stock/after", "/stock/after#{lot}"),
    "cold": (
        "How cold was it on the page of the lot",
        "/stock/after",
        "/stock/lot/{lot}#cold",
    ),
    "complete": (
        "Add what was not said on the page of the lot",
        "/stock/after",
        "/stock/lot/{lot}#complete",
    ),
    "count": ("Counted on the page of the lot", "/stock", "/stock/lot/{lot}#count"),
    "gauge": (
        "What its gauge read on the page of the lot",
        "/stock",
        "/stock/lot/{lot}#gauge",
    ),
    "history": (
        "the list on the page of the lot",
        "/stock",
        "/stock/lot/{lot}#entries",
    ),
    "hold": (
        "Something was wrong with its process on the page of the day after",
        "/stock/after",
        "/stock/after#{lot}",
    ),
    "made": ("the page Jars of your own", "/stock/own", "/stock/own"),
    "mend": (
        "the key Take it back on the page of the lot",
        "/stock",
        "/stock/lot/{lot}",
    ),
    "move": (
        "Moved earlier on the page of the lot",
        "/stock",
        "/stock/lot/{lot}#moved",
    ),
    "out": ("the stock page", "/stock", "/stock"),
    "process": (
        "It was processed, and nobody tapped it on the page of the day after",
        "/stock/after",
        "/stock/after#{lot}",
    ),
    "put-up": (
        "How it was put up on the page of the lot",
        "/stock",
        "/stock/lot/{lot}#put-up",
    ),
    "trace": ("the page of the lot", "/stock", "/stock/lot/{lot}"),
}
"""What is said for it, where it is done, and where it is where the lot is named."""
_KEYS = {"drawn": "Use", "wrong-time": "Wrong time or pressure"}
"""What a key says where it says it otherwise than the command."""


def linked(text: str) -> Markup:
    """
    Return what a refusal says, its commands as links to the pages that do the same.

    >>> linked("look there with stillroom stock trace L26M25-23X & count")
    Markup('look there with <a href="/stock/lot/L26M25-23X">the page of the lot</a> \
&amp; count')
    >>> linked("book it with stillroom stock made")
    Markup('book it with <a href="/stock/own">the page Jars of your own</a>')
    """
    parts, at = [], 0
    for found in _COMMAND.finditer(text):
        parts += [
            escape(text[at : found.start()]),
            _said(
                found, lambda words, to: Markup('<a href="{}">{}</a>').format(to, words)
            ),
        ]
        at = found.end()
    return Markup("").join([*parts, escape(text[at:])])


def in_words(text: str) -> str:
    """
    Return the same as plain text, for what a phone shows without a page.

    >>> in_words("book the count first (stillroom stock count L26M25-23X QUANTITY)")
    'book the count first (Counted on the page of the lot)'
    >>> in_words("book it: stillroom stock out L26M25-23X QUANTITY --as eaten.")
    'book it: Eaten on the stock page.'
    """
    return _COMMAND.sub(lambda found: str(_said(found, lambda words, _: words)), text)


def _said(found: re.Match[str], show: Callable[[str, str], str]) -> str:
    name, lot = found["name"] or "", found["lot"] or ""
    words, somewhere, there = _ON_PAGES[name]
    if found["way"]:
        words = f"{_KEYS.get(found['way'], found['way'].capitalize())} on {words}"
    named = lot not in ("", "LOT")
    return show(words, there.format(lot=lot) if named else somewhere)
