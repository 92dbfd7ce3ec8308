"""Which backups to keep, by their age. Pure: times in, times out."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from datetime import datetime, timedelta

ALL_FOR = timedelta(days=7)
WEEKLY_FOR = timedelta(weeks=8)
MONTHLY_FOR = timedelta(days=366)
NEWEST = 3
"""So many stay however old they are."""


def kept(
    made: Iterable[datetime], now: datetime, *, newest: int = NEWEST
) -> frozenset[datetime]:
    """
    Return those of the backups that stay.

    All of the last 7 days; the last one of each week for 8 weeks and of each month for
    a year, weeks from Monday and both in UTC; and the ``newest`` ones however old. One
    from the future stays: a clock that was wrong takes nothing away. These ages are a
    decision of ours (docs/decisions/0036-keeping-the-record-safe.md).

    Parameters
    ----------
    made : iterable of datetime
        When each was made, with a time zone.
    now : datetime
        With a time zone.
    newest : int, optional
        At least 1, so that the newest is never given up.

    Examples
    --------
    >>> from datetime import UTC
    >>> now = datetime(2026, 11, 25, 12, tzinfo=UTC)
    >>> days = [now - timedelta(days=n) for n in range(500)]
    >>> len(kept(days, now))
    27
    """
    if newest < 1:
        raise ValueError(f"newest = {newest}: at least 1 is kept, the newest one")
    times = sorted(made)
    return frozenset(
        [
            *(one for one in times if now - one <= ALL_FOR),
            *_last_of(times, now - WEEKLY_FOR, lambda one: one.isocalendar()[:2]),
            *_last_of(times, now - MONTHLY_FOR, lambda one: (one.year, one.month)),
            *times[-newest:],
        ]
    )


def _last_of(
    times: Iterable[datetime], since: datetime, name: Callable[[datetime], Hashable]
) -> Iterable[datetime]:
    """Return the last of each week or month; ``times`` are in order."""
    return {name(one): one for one in times if one >= since}.values()
