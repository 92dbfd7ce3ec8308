"""
What has happened by a minute of the day: steps and loads that have begun, and rests.

A step that has begun keeps its start, person and tools; its end is the true one,
or the one that is expected while it runs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from stillroom.planning.timetable import PlacedBreak, PlacedLoad, PlacedStep

QUARTERS = 4
Key = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """The day up to now."""

    now_min: int
    steps: tuple[PlacedStep, ...]
    """Begun; the end is true where it lies before now, else expected."""
    loads: tuple[PlacedLoad, ...]
    """Loads that are being lowered, processed or are out."""
    breaks: tuple[PlacedBreak, ...] = ()
    """Rests that have begun."""
    lit: Mapping[str, int] | None = None
    """
    Load that is not lowered to the minute at which its canner was lit. `None`: all were
    lit as planned; what is not in it is not lit yet. [min]
    """

    @property
    def begun(self) -> dict[Key, PlacedStep]:
        """Steps that have begun, by batch and step."""
        return {(s.batch, s.step): s for s in self.steps}

    def runs(self, placed: PlacedStep) -> bool:
        """Whether a begun step is still at work."""
        return placed.end_min > self.now_min
