"""How to search for a plan, and what a search came to."""

from __future__ import annotations

import time
from dataclasses import dataclass, field, replace
from math import inf

from stillroom.planning.timetable import Timetable


@dataclass(slots=True)
class Cut:
    """Whether the clock ended counted work before it was done."""

    happened: bool = False


@dataclass(slots=True)
class Search:
    """How to search."""

    until: float
    """`time.monotonic` at which everything must be over. [s]"""
    workers: int
    seed: int
    deterministic: bool = False
    """Work is counted and not timed: the same plan on every run."""
    seconds: float = 5.0
    """Seconds asked for: what work is counted by where the clock is not."""
    latest: float = inf
    """
    `time.monotonic` at which counted work ends too, as a last resort: what was found by
    then stands, and another run may differ. [s]
    """
    cut: Cut = field(default_factory=Cut)
    """Shared by all searches that come of this one."""

    def at_last(self, seconds: float) -> Search:
        """The same with the clock's last resort counted from now, for so much work."""
        latest = time.monotonic() + AT_LAST * seconds + LEAST_AT_LAST_S
        return replace(self, seconds=seconds, latest=latest)

    def left(self) -> float:
        """Seconds left; where the clock does not count, all there were."""
        if self.deterministic:
            return self.seconds
        return self.until - time.monotonic()

    def wall_s(self) -> float:
        """What the clock leaves counted work, noted where that is nothing. [s]"""
        left = min(self.latest - time.monotonic(), LONGEST_COUNTED_S)
        if left <= 0:
            self.cut.happened = True
        return max(LEAST_WALL_S, left)


AT_LAST, LEAST_AT_LAST_S = 10.0, 30.0
"""By the clock counted work ends after so many times the time, and so much more. [s]"""
ANOTHER_RUN = "another run may come to another plan"
TOO_SLOW = (
    "this computer was too slow for the counted work, even in ten times the seconds "
    f"asked for: {ANOTHER_RUN}"
)
LONGEST_COUNTED_S = 3600.0
"""No one search of counted work takes longer. [s]"""
LEAST_WALL_S = 0.05


@dataclass(slots=True)
class SearchResult:
    """What a search came to."""

    timetable: Timetable | None = None
    impossible: bool = False
    """No timetable exists: proven."""
    bound: int = 0
    """No plan has a smaller finish plus lateness."""
    trace: list[tuple[float, int, int]] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    unused_s: float = 0.0
    """Of its seconds, what the search did not need. [s]"""
    no_search: bool = False
    """There was no time for one."""
