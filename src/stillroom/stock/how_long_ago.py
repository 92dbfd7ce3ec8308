"""
Moments and spans in words, as the stove and the day sheet say them. Pure.

What is left is rounded down, so that nobody takes a minute that is not there.
"""

from __future__ import annotations

import datetime as dt

HOURS_TOLD = 48
"""What lies further back is told in whole days; hours say nothing then."""


def clock_words(clock: str) -> str:
    """
    Say a clock time that is kept with two digits as the stove and the day sheet do.

    >>> clock_words("09:11"), clock_words("00:20"), clock_words("")
    ('9:11', '0:20', '')
    """
    return clock.removeprefix("0")


def moment_words(moment: dt.datetime, at: dt.datetime) -> str:
    """
    Say a clock time, with its day where that is not today.

    >>> noon = dt.datetime(2026, 11, 25, 12, 0)
    >>> moment_words(noon, noon), moment_words(noon + dt.timedelta(days=1), noon)
    ('12:00', '12:00 on Thu 26 November')
    >>> moment_words(noon - dt.timedelta(hours=3), noon)
    '9:00'
    """
    local = moment.astimezone(at.tzinfo) if at.tzinfo else moment
    clock = clock_words(f"{local:%H:%M}")
    if local.date() == at.date():
        return clock
    year = "" if local.year == at.year else f" {local.year}"
    return f"{clock} on {local:%a} {local.day} {local:%B}{year}"


def left_words(left: dt.timedelta) -> str:
    """
    Say hours and minutes, rounded down: what is left is never said longer than it is.

    >>> left_words(dt.timedelta(hours=14, minutes=25, seconds=59))
    '14 h 25 min'
    >>> left_words(dt.timedelta(minutes=52))
    '52 min'
    """
    hours, minutes = divmod(max(0, int(left.total_seconds() // 60)), 60)
    return f"{hours} h {minutes:02d} min" if hours else f"{minutes} min"


def since_words(hours: float) -> str:
    """
    Say how long ago something was: to the nearest minute, after two days in days.

    >>> since_words(9 + 35 / 60), since_words(0.75), since_words(2649.5)
    ('9 h 35 min', '45 min', '110 days')
    """
    if hours >= HOURS_TOLD:
        return f"{hours / 24:.0f} days"
    return left_words(dt.timedelta(minutes=round(hours * 60)))
