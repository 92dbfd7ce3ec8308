"""A clock time as people write it, "9:05", "9.05", "1405" or "2:05 pm". Pure."""

from __future__ import annotations

import datetime as dt
import re

_TWELVE_HOURS = re.compile(
    r"(?i)\s*([0-9]{1,2})(?:[:.]([0-9]{2}))?\s*([ap])\.?\s?m\.?\s*"
)
_OF_THE_DAY = re.compile(r"\s*([0-9]{1,2})[:.]?([0-9]{2})\s*")


def clock_time(text: str) -> dt.time | None:
    """
    Return the clock time that a text is; `None` where it is none.

    Whole minutes. An hour alone is none: "9" may be the morning's or the evening's.

    >>> clock_time("9:05"), clock_time("9.05"), clock_time("1405")
    (datetime.time(9, 5), datetime.time(9, 5), datetime.time(14, 5))
    >>> clock_time("2:30 pm"), clock_time("6 p.m."), clock_time("12 am")
    (datetime.time(14, 30), datetime.time(18, 0), datetime.time(0, 0))
    >>> clock_time("9"), clock_time("25:00"), clock_time("13 pm")
    (None, None, None)
    """
    if twelve := _TWELVE_HOURS.fullmatch(text):
        hour, minute = int(twelve[1]), int(twelve[2] or 0)
        if not (1 <= hour <= 12 and minute < 60):
            return None
        return dt.time(hour % 12 + (12 if twelve[3].lower() == "p" else 0), minute)
    found = _OF_THE_DAY.fullmatch(text)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        return None
    return dt.time(int(found[1]), int(found[2]))


def without_hour(text: str) -> str:
    """
    Say that a day has no hour, where hours are counted from it; else empty.

    >>> without_hour("2026-11-27")[:44]
    "'2026-11-27' does not say at which hour: wri"
    >>> without_hour("2026-11-27 15:10"), without_hour("yesterday")
    ('', '')
    """
    try:
        dt.date.fromisoformat(text.strip())
    except ValueError:
        return ""
    return (
        f"{text.strip()!r} does not say at which hour: write such as "
        f'"{text.strip()} 15:10"; who does not know it writes the last that it can '
        "have been, for a wait is counted from then"
    )
