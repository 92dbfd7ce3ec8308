"""The only place of the run that asks the time."""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable
from pathlib import Path
from threading import Lock
from typing import Protocol

from stillroom.refusal import NotNow, Refused
from stillroom.running.events import NOTICED


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


AT_ONCE_S = 0.1
"""Two looks at two clocks are one, if they come so close. [s]"""


def since_switched_on_s() -> float:
    """Return how long the computer runs, its sleep with it: nobody sets that. [s]"""
    if not hasattr(time, "clock_gettime"):
        return time.monotonic()
    return time.clock_gettime(getattr(time, "CLOCK_BOOTTIME", time.CLOCK_MONOTONIC))


def name_of_start() -> str:
    """Return what Linux calls this start of the computer; nothing on another system."""
    try:
        return Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip()
    except OSError:
        return ""


Note = Callable[[dt.datetime, dt.timedelta, dt.datetime, str], None]
"""Told the moment, how far on the clock was set, when the computer was switched on by
it, and the name of that start."""


class WatchedClock:
    """
    The kitchen's clock, which notices that it was set: by hand, or from the network.

    A process is timed by two moments of it. Where it was set in between, their
    difference is not what went by, and jars could come out an hour too early.
    """

    def __init__(
        self,
        clock: Clock | None = None,
        steady_s: Callable[[], float] = since_switched_on_s,
        boot: str | None = None,
    ) -> None:
        self._clock = clock or WallClock()
        self._steady_s = steady_s
        self.boot = name_of_start() if boot is None else boot
        """Name of this start of the computer; empty where it has none."""
        self._alone = Lock()
        self._switched_on = self.look()[1]
        self._has_to_begin = False
        """What was set before it began to look could not be told yet."""

    def now(self) -> dt.datetime:
        """Return the moment, in local time."""
        return self._clock.now()

    def begin(self, note: Note) -> None:
        """
        Have it noted by which clock this program begins to look.

        What was set since a day was begun, while no program looked, is told so. Where
        nothing can be noted now, `heed` does so first.

        Raises
        ------
        NotNow, Refused
            If the record cannot be read or written now.
        Unreadable
            If it cannot be read at all: it is not tried again.
        """
        with self._alone:
            self._begin(note)

    def _begin(self, note: Note) -> None:
        at, switched_on = self.look()
        self._has_to_begin = False
        try:
            note(at, dt.timedelta(), switched_on, self.boot)
        except (NotNow, Refused):
            self._has_to_begin = True
            raise

    def heed(self, note: Note) -> None:
        """
        Have it noted, if the clock was set since it was last heeded.

        First what `begin` could not have noted. Whoever asks meanwhile waits; where
        nothing can be noted, the next one tries again.
        """
        with self._alone:
            if self._has_to_begin:
                self._begin(note)
            at, switched_on = self.look()
            by = switched_on - self._switched_on
            if abs(by) > NOTICED:
                note(at, by, switched_on, self.boot)
                self._switched_on = switched_on

    def look(self) -> tuple[dt.datetime, dt.datetime]:
        """Return the moment, and when the computer was switched on by this clock."""
        while True:
            before_s = self._steady_s()
            at = self._clock.now()
            if self._steady_s() - before_s < AT_ONCE_S:  # no sleep between the two
                on = at.astimezone(dt.UTC) - dt.timedelta(seconds=before_s)
                return at, on
