"""Behind "from" may stand a day, and not whom it is from: "from June". Pure."""

from __future__ import annotations

import datetime as dt
import re

from stillroom.refusal import Unreadable
from stillroom.stock.words import read_day

_FROM = re.compile(r"(?i)^from\s+(?P<day>\S.*)$")
_ALSO_NAMES = frozenset({"april", "may", "june", "august"})
"""Months that somebody may be called by."""


def day_from(part: str, today: dt.date) -> str:
    """
    Return the day that something is from; empty where a part says whom it is from.

    Raises
    ------
    Unreadable
        If it may be a month or somebody of that name, or is no day that can be.

    Examples
    --------
    >>> today = dt.date(2026, 11, 25)
    >>> day_from("from July", today), day_from("from 12 June", today)
    ('2026-07', '2026-06-12')
    >>> day_from("from Orchard Row", today), day_from("supplier June", today)
    ('', '')
    """
    found = _FROM.match(part)
    day = read_day(found["day"], today=today) if found else None
    if found is None or day is None:
        return ""
    if found["day"].lower() in _ALSO_NAMES:
        who = found["day"].capitalize()
        raise Unreadable(
            f"{part[:60]!r} may be the month, or somebody of that name: write "
            f'", {who}" for the month, and ", supplier {who}" for whom it is from'
        )
    return day


def is_of_a_day(part: str, today: dt.date) -> bool:
    """Whether a day stands there, or what may be one: it is no part of a name."""
    try:
        return bool(day_from(part, today))
    except Unreadable:
        return True
