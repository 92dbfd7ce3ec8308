"""
The day sheet: lanes of blocks, and the same as a list in order of the clock.

Screen, terminal and paper all draw from this one description, so that they cannot
differ.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.daytime import clock_time, from_to
from stillroom.planning.problem import Problem
from stillroom.planning.rinses import as_worked
from stillroom.planning.timetable import Timetable
from stillroom.planning.words.entries import Entry, entries_of
from stillroom.planning.words.lanes import Lane, lanes_of
from stillroom.planning.words.load_words import load_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The drawn day."""

    starts_at: str
    lanes: tuple[Lane, ...]
    entries: tuple[Entry, ...]
    first_min: int
    last_min: int

    def clock(self, minute: int) -> str:
        """Clock time of a minute of the day: "7:30"."""
        return clock_time(self.starts_at, minute)

    def from_to(self, since: int, until: int) -> str:
        """Two clock times of it: "7:30–7:45"."""
        return from_to(self.starts_at, since, until)


def day_sheet(problem: Problem, timetable: Timetable) -> Sheet:
    """Return the sheet of a timetable."""
    problem = as_worked(problem, timetable)
    words = {
        p.id: load_words(p.pressure_psi, p.minutes, raw=p.raw)
        for p in problem.processes
    }
    entries = entries_of(problem, timetable, words)
    return Sheet(
        starts_at=problem.starts_at,
        lanes=lanes_of(problem, timetable, entries, words),
        entries=tuple(entries),
        first_min=min((e.start_min for e in entries), default=0),
        last_min=timetable.finish_min,
    )
