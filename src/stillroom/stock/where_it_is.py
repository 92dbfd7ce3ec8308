"""Which part of a sentence is a place, and what was said beside it. Pure."""

from __future__ import annotations

import datetime as dt
import re

from stillroom.refusal import Unreadable
from stillroom.stock.how_cold import may_be_cold
from stillroom.stock.words import read_day

PLACES = (
    *("freezer", "fridge", "refrigerator", "pantry", "shelf", "cellar", "stand"),
    *(
        "larder",
        "store",
        "bin",
        "attic",
        "porch",
        "barn",
        "shed",
        "cupboard",
        "kitchen",
    ),
    *("bathroom", "laundry", "closet", "counter", "hutch", "workshop", "studio"),
    *("basement", "rack", "crate", "table", "loft", "clamp", "garage", "drawer"),
    *("smokehouse", "springhouse", "greenhouse", "granary", "storeroom", "mudroom"),
    *("hallway", "stable", "coop", "hayloft", "silo"),
)
_IN = re.compile(r"(?i)^(?:in|at|on)\s+(?:the\s+)?(?P<place>.+)$")
_EACH_BEFORE = re.compile(
    r"(?i)^(?P<before>[0-9½⅓⅔¼¾.]\S*\s.*?\b(?:each|apiece))\s+(?P<rest>\S.*)$"
)
_BEHIND = re.compile(
    r"(?i)^(?P<rest>\S.*?)\s+(?P<behind>(?:from|bought|paid|cost|best[ -](?:before|by)|"
    r"use[ -]by|kept|note)\b.*\S.*)$"
)
_ON_BEHIND = re.compile(r"(?i)\s+on$")
_MOST_DAY_WORDS = 3
"""In "3 November 2025"."""


def place_in(part: str, known_places: tuple[str, ...]) -> str:
    """
    Return the place that a part of a sentence names; empty where it names none.

    >>> place_in("in the cellar", ()), place_in("on the fridge", ())
    ('cellar', 'on the fridge')
    >>> place_in("June", ()), place_in("Wren", ("Wren",))
    ('', 'Wren')
    """
    found = _IN.match(part)
    place = found["place"] if found else part
    known = {name.casefold() for name in known_places}
    words = re.findall(r"[a-z]+", place.lower())
    named = set(words) & set(PLACES) or may_be_cold(place)
    if part.lower().startswith("on ") and may_be_cold(place):
        place = part  # on the fridge is not in it
    return place if place.casefold() in known or named else ""


def apart(part: str, known_places: tuple[str, ...], today: dt.date) -> tuple[str, ...]:
    """
    Return a place, and beside it what else was said there without a comma.

    >>> day = dt.date(2026, 11, 25)
    >>> apart("cellar from Orchard Row", (), day)
    ('cellar', 'from Orchard Row')
    >>> apart("5 cups each in freezer 2", (), day)
    ('5 cups each', 'in freezer 2')
    >>> apart("pantry shelf 2 3 November 2025", (), day)
    ('pantry shelf 2', '3 November 2025')
    >>> apart("fridge on Sunday", (), day)
    ('fridge', 'Sunday')
    >>> apart("cellar from Orchard Row", ("Cellar from Orchard Row",), day)
    ('cellar from Orchard Row',)
    """
    if part.casefold() in {name.casefold() for name in known_places}:
        return (part,)
    if found := _EACH_BEFORE.match(part):
        return found["before"], *apart(found["rest"], known_places, today)
    found = _BEHIND.match(part)
    if found and place_in(found["rest"], known_places):
        return *apart(found["rest"], known_places, today), found["behind"]
    words = part.split()
    for count in range(min(_MOST_DAY_WORDS, len(words) - 1), 0, -1):
        rest, behind = " ".join(words[:-count]), " ".join(words[-count:])
        if place_in(rest, known_places) and _is_a_day(behind, today):
            return _ON_BEHIND.sub("", rest), behind
    return (part,)


def _is_a_day(text: str, today: dt.date) -> bool:
    """Whether it is a day or a month, also one that cannot be: that is said of it."""
    if not re.search(r"[A-Za-z]{3}|[0-9]{4}-[0-9]{2}", text):
        return False  # "shelf 3 2" is a place
    try:
        return read_day(text, today=today) is not None
    except Unreadable:
        return True
