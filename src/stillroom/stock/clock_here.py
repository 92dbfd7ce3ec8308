"""
Clock times of a lot by the clock of who looks. Pure.

A lot keeps the clock times of its kitchen and how far that clock was ahead of UTC. What
is due is said by the clock on the wall; beside it no other clock is read out.
"""

from __future__ import annotations

import datetime as dt

from stillroom.stock.events import Made
from stillroom.stock.how_long_ago import clock_words
from stillroom.stock.words import said_day


def clock_here(
    made: Made,
    clock: str,
    zone: dt.tzinfo | None,
    *,
    on: str = "",
    offset_min: int | None = None,
) -> str:
    """
    Say a clock time of a lot, with its day where that is not the lot's own.

    Parameters
    ----------
    made : Made
        How the lot was made.
    clock : str
        The kitchen's clock time, "09:11"; nothing is said of none.
    zone : tzinfo or None
        Of who looks; without it, or of an old entry that kept no offset, the kitchen's
        own time stands.
    on : str
        Its day, where that is not the lot's own: "2026-08-09".
    offset_min : int, optional
        How far the kitchen's clock was ahead of UTC then, where not as on that day.
        [min]
    """
    day = made.lot.day
    offset = made.batch.utc_offset_min if offset_min is None else offset_min
    if not clock or len(on or day) != len("2026-08-09"):
        return clock_words(clock)
    kitchen = None if offset is None else dt.timezone(dt.timedelta(minutes=offset))
    then = dt.datetime.combine(
        dt.date.fromisoformat(on or day), dt.time.fromisoformat(clock), tzinfo=kitchen
    )
    return moment_here(then, day, zone)


def filled_here(made: Made, zone: dt.tzinfo | None) -> str:
    """Say when the jars of a lot were filled, by the clock of who looks."""
    batch = made.batch
    return clock_here(made, batch.filled_at, zone, offset_min=batch.filled_offset_min)


def moment_here(then: dt.datetime, day: str, zone: dt.tzinfo | None) -> str:
    """
    Say a moment as a clock time, with its day where that is not the one given.

    >>> west = dt.timezone(dt.timedelta(hours=-6))
    >>> noon = dt.datetime(2026, 8, 8, 12, 5, tzinfo=west)
    >>> moment_here(noon, "2026-08-08", None)
    '12:05'
    >>> moment_here(noon, "2026-08-08", dt.timezone(dt.timedelta(hours=9)))
    '3:05 of 9 August 2026'
    """
    here = then.astimezone(zone) if zone is not None and then.tzinfo else then
    date = here.date().isoformat()
    return clock_words(f"{here:%H:%M}") + (
        "" if date == day else f" of {said_day(date)}"
    )
