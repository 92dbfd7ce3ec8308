"""
What a sentence says was done: "picked 10 lb plums", "sold 3 jars plum jam". Pure.

What came in is read without the verb. What left the shelf, was carried or was counted
is no receipt, and is told where it is booked: read as one, jars that were eaten would
stand on the shelf.
"""

from __future__ import annotations

import re

from stillroom.measures.number_words import in_digits
from stillroom.refusal import Unreadable

_WHO = r"(?:(?:i|we|she|he|they)\s+)?(?:have\s+|has\s+|had\s+)?(?:just\s+)?"
_OUT = (
    r"(?P<way>sold|ate|eaten|drank|gave|given|donated|traded|broke|used|tasted|opened|"
    r"threw|thrown|tossed|discarded|lost|fed)(?:\s+(?:up|out|away))?"
)
_LEFT = re.compile(rf"(?i)^{_WHO}{_OUT}\s+(?P<rest>\S.*)$")
_LEFT_BEHIND = re.compile(
    r"(?i)^(?=.*[0-9]|.*\bdozen\b).*\s(?P<way>sold|eaten|given|broken|thrown|discarded)"
    r"(?:\s+(?:up|out|away))?(?:\s+to\s+\S.*)?$"
)
"""Behind what it is; "6 broken eggs" say it before."""
_CARRIED = re.compile(rf"(?i)^{_WHO}(?:moved|carried|took)\s+(?P<rest>\S.*)$")
_COUNTED = re.compile(rf"(?i)^{_WHO}(?:counted|recounted)\s+(?P<rest>\S.*)$")
_CAME = re.compile(
    rf"(?i)^{_WHO}(?:there\s+(?:is|are)\s+|(?P<verb>put\s+up|canned|jarred|bottled|got|"
    r"bought|received|picked|harvested|gathered|dug|made|put|brought|found|added|froze|"
    r"dried|rendered|collected)?(?:\s+(?:in|up|home))?\s+|(?=[0-9]))(?P<rest>\S.*)$"
)
_IN_JARS = frozenset({"put up", "canned", "jarred", "bottled"})
_AS = {
    **dict.fromkeys(("ate", "eaten", "drank", "fed"), "eaten"),
    **dict.fromkeys(("gave", "given", "donated", "traded"), "given"),
    **dict.fromkeys(("broke", "broken"), "broken"),
    **dict.fromkeys(("sold", "tasted"), ""),
    **dict.fromkeys(("used", "opened"), "drawn"),
}
"""How it is booked; what was thrown away or lost as spoiled."""


def what_came_in(text: str) -> tuple[str, bool]:
    """
    Return a sentence without what was done, and whether that says that it is in jars.

    Raises
    ------
    Unreadable
        If it left the shelf, or was carried or counted; with where that is booked.

    Examples
    --------
    >>> what_came_in("picked 10 lb plums"), what_came_in("I put up 9 quarts pears")
    (('10 lb plums', False), ('9 quarts pears', True))
    >>> what_came_in("made mustard 2 lb"), what_came_in("6 broken eggs")
    (('made mustard 2 lb', False), ('6 broken eggs', False))
    """
    found = _LEFT.match(text)
    found = (
        found if found and _has_a_number(found["rest"]) else _LEFT_BEHIND.match(text)
    )
    if found:
        way = found["way"].lower()
        raise Unreadable(
            f"{text[:60]!r} says what left the shelf, and here is booked what came in: "
            f"stillroom stock out NAME QUANTITY --as {_AS.get(way, 'spoiled') or way}, "
            "or on the page Stock under what it is"
        )
    for done, command, page in (
        (_CARRIED, "move NAME PLACE", "on the page Stock under what it is"),
        (_COUNTED, "count NAME QUANTITY", "on the page Count a shelf"),
    ):
        found = done.match(text)
        if found and _has_a_number(found["rest"]):
            raise Unreadable(
                f"{text[:60]!r} is no receipt, and here is booked what came in: "
                f"stillroom stock {command}, or {page}"
            )
    found = _CAME.match(text)
    if found is None or not _has_a_number(found["rest"]):
        return text, False
    verb = " ".join((found["verb"] or "").lower().split())
    return found["rest"], verb in _IN_JARS


def _has_a_number(text: str) -> bool:
    """Whether how much comes next: "made 6 jars", and no "made mustard"."""
    return re.match(r"[0-9½⅓⅔¼¾]", in_digits(text)) is not None
