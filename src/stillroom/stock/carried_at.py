"""When something was carried that is booked only later, as it is typed: pure."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.refusal import Fault, Unreadable
from stillroom.stock.making import read_clock
from stillroom.stock.words import read_day


def carried_at(
    on: str, clock: str, now: dt.datetime, *, day: str, hour: str
) -> dt.datetime | None:
    """
    Return the moment that is typed as a day and an hour; `None` where it is now.

    Parameters
    ----------
    on, clock : str
        As typed. Without a day it is today; a day alone tells no hour.
    now : datetime
        With the kitchen's zone.
    day, hour : str
        What the two are called where they are typed: a fault names the one it is in.

    Raises
    ------
    Unreadable
        If there is no hour, either cannot be read, or it lies in the future.

    Examples
    --------
    >>> noon = dt.datetime(2026, 11, 25, 12, tzinfo=dt.UTC)
    >>> carried_at("yesterday", "22:05", noon, day="day", hour="hour").isoformat()
    '2026-11-24T22:05:00+00:00'
    >>> carried_at("", "", noon, day="day", hour="hour") is None
    True
    """
    on, clock = on.strip(), clock.strip()
    if on.lower() in ("", "today") and not clock:
        return None
    try:
        read = read_day(on or "today", today=now.date())
    except Unreadable as unreadable:
        named = (replace(fault, key=day) for fault in unreadable.faults)
        raise Unreadable(*named) from None
    if read is None or len(read) != 10:
        raise Unreadable(
            Fault(f"{on[:30]!r} is no day; write 12 September 2026", key=day)
        )
    if not clock:
        raise Unreadable(
            Fault("a day goes with its hour: say the hour too, such as 22:05", key=hour)
        )
    time = dt.time.fromisoformat(read_clock(clock, hour))
    at = dt.datetime.combine(dt.date.fromisoformat(read), time, tzinfo=now.tzinfo)
    if at > now:
        raise Unreadable(
            Fault(
                f"{at:%Y-%m-%d %H:%M} lies in the future; it is {now:%H:%M} now",
                key=hour,
            )
        )
    return at
