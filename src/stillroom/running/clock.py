"""The only place of the run that asks the time."""

from __future__ import annotations

import datetime as dt
from typing import Protocol


class Clock(Protocol):
    """Tells the time; a test brings its own."""

    def now(self) -> dt.datetime:
        """Return the moment, with a time zone."""
        ...


class HereTime(dt.tzinfo):
    """
    The computer's time zone, winter and summer.

    A clock time of August that is typed in November is one of summer time. The offset
    that the computer has now would put it an hour off.
    """

    def utcoffset(self, when: dt.datetime | None) -> dt.timedelta | None:
        """Return how far this place is ahead of UTC at a local time."""
        return None if when is None else _here(when).utcoffset()

    def dst(self, when: dt.datetime | None) -> dt.timedelta | None:
        """Return nothing: how much of it is summer time is not known."""
        return None

    def tzname(self, when: dt.datetime | None) -> str | None:
        """Return what the computer calls it."""
        return None if when is None else _here(when).tzname()

    def fromutc(self, when: dt.datetime) -> dt.datetime:
        """Return the local time of a moment of UTC."""
        there = when.replace(tzinfo=dt.UTC).astimezone()
        local = there.replace(tzinfo=self, fold=0)
        if local.utcoffset() == there.utcoffset():
            return local
        return local.replace(fold=1)  # the hour that comes twice, the second time


HERE = HereTime()


def _here(when: dt.datetime) -> dt.datetime:
    return when.replace(tzinfo=None).astimezone()


class WallClock:
    """The computer's clock, in the computer's time zone."""

    def now(self) -> dt.datetime:
        """Return the moment, in local time."""
        return dt.datetime.now(HERE)
