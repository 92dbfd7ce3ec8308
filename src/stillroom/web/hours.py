"""The list of a day hour by hour, for a screen that shows one hour at a time."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import groupby

from stillroom.planning.daytime import since_midnight_min
from stillroom.planning.words.entries import Entry
from stillroom.planning.words.sheet import Sheet

HOUR_MIN = 60


@dataclass(frozen=True, slots=True)
class Hour:
    """What begins within one hour of the clock."""

    clock: str
    """When the hour begins: "9:00"."""
    entries: tuple[Entry, ...]
    under_way: tuple[Entry, ...]
    """Begun before it, and not over when it begins."""
    is_open: bool
    """The one that is looked for first."""

    @property
    def hands(self) -> str:
        """Who begins how much in it: "Corwin 6 steps, Tilda 4, nobody 2"."""
        counts = Counter(entry.whose for entry in self.entries)
        named = {entry.who for entry in self.entries}
        people = sorted(counts, key=lambda whose: (whose not in named, whose))
        first, *others = [f"{who} {counts[who]}" for who in people]
        steps = "step" if counts[people[0]] == 1 else "steps"
        return ", ".join((f"{first} {steps}", *others))


def hours_of(sheet: Sheet, now_min: int | None = None) -> tuple[Hour, ...]:
    """
    Return the hours in which something begins, in order.

    Parameters
    ----------
    sheet : Sheet
        The day.
    now_min : int, optional
        Minute of the plan that it is now: its hour is open, or else the last one that
        has begun. Without it, and before the day, the first one is. [min]
    """
    offset = since_midnight_min(sheet.starts_at)

    def hour_of(minute: int) -> int:
        return (minute + offset) // HOUR_MIN

    grouped = [
        (hour, tuple(entries))
        for hour, entries in groupby(sheet.entries, lambda e: hour_of(e.start_min))
    ]
    begun = [
        hour for hour, _ in grouped if now_min is not None and hour <= hour_of(now_min)
    ]
    first = grouped[0][0] if grouped else 0
    return tuple(
        Hour(
            clock=sheet.clock(hour * HOUR_MIN - offset),
            entries=entries,
            under_way=tuple(
                entry
                for entry in sheet.entries
                if hour_of(entry.start_min) < hour
                and entry.end_min > hour * HOUR_MIN - offset
            ),
            is_open=hour == max(begun, default=first),
        )
        for hour, entries in grouped
    )
