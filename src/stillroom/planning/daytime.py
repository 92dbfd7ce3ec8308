"""Minutes of the day as a clock shows them, and durations as people say them."""

from __future__ import annotations

import datetime as dt


def since_midnight_min(clock: str) -> int:
    """
    Minutes from midnight to a clock time. [min]

    Examples
    --------
    >>> since_midnight_min("07:30")
    450
    """
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


def clock_time(starts_at: str, minute: int) -> str:
    """
    Clock time of a minute of the day, as every sheet and sentence writes it.

    Examples
    --------
    >>> clock_time("07:30", 95)
    '9:05'
    >>> clock_time("22:00", 150), clock_time("00:10", -20)
    ('0:30 (next day)', '23:50 (day before)')
    """
    days, rest = divmod(since_midnight_min(starts_at) + minute, 24 * 60)
    shown = f"{rest // 60}:{rest % 60:02d}"
    if days == 0:
        return shown
    which = {1: "next day", -1: "day before"}.get(days, f"day {days + 1}")
    return f"{shown} ({which})"


def from_to(starts_at: str, since: int, until: int) -> str:
    """
    Two clock times of the day, from one to the other; a night is named once.

    Examples
    --------
    >>> from_to("07:30", 95, 100), from_to("22:00", 110, 130)
    ('9:05–9:10', '23:50–0:10 (next day)')
    >>> from_to("22:00", 130, 150)
    '0:10–0:30 (next day)'
    """
    first, last = clock_time(starts_at, since), clock_time(starts_at, until)
    _, _, night = last.partition(" ")
    return f"{first.removesuffix(f' {night}') if night else first}–{last}"


def said_minutes(minutes: int) -> str:
    """
    A duration in words.

    Examples
    --------
    >>> said_minutes(40), said_minutes(60), said_minutes(95)
    ('40 min', '1 h', '1 h 35 min')
    """
    hours, rest = divmod(minutes, 60)
    if hours == 0:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def minutes_between(since: str, until: str) -> int:
    """
    Minutes from one clock time to another; negative where that comes before it.

    Examples
    --------
    >>> minutes_between("07:30", "09:05"), minutes_between("08:00", "07:45")
    (95, -15)
    """
    return since_midnight_min(until) - since_midnight_min(since)


def day_said(when: dt.date, of: dt.date) -> str:
    """
    A date as it is said on the sheet of a day: with its year where that is another.

    Examples
    --------
    >>> day_said(dt.date(2026, 9, 9), dt.date(2026, 9, 8))
    'Wednesday 9 September'
    >>> day_said(dt.date(2027, 9, 8), dt.date(2026, 9, 8))
    'Wednesday 8 September 2027'
    """
    year = "" if when.year == of.year else f" {when.year}"
    return f"{when:%A} {when.day} {when:%B}{year}"
