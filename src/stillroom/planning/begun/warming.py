"""
Canners whose water is to be warm for their next load: lit by somebody's word, or not.

Water that nobody has lit does not warm by the plan. So in a day that is told as it goes
a canner counts as lit from when that was said, and else from now on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.planning.happened import Happened
from stillroom.planning.timetable import PlacedLoad, Timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class Warming:
    """The water of a canner for its next load."""

    load: PlacedLoad
    since_min: int | None
    """When somebody said it was lit; `None` where nobody did. [min]"""

    @property
    def hot_min(self) -> int:
        """When it is hot: since it was lit, or by the plan. [min]"""
        since = self.load.heat_min if self.since_min is None else self.since_min
        return since + self.load.lower_min - self.load.heat_min


def warming(plan: Timetable, happened: Happened) -> Iterator[Warming]:
    """Yield the canners that are lit, or should be by the plan, in the plan's order."""
    lit, begun = happened.lit or {}, {load.id for load in happened.loads}
    asked: set[str] = set()
    for load in sorted(plan.loads, key=lambda load: load.lower_min):
        if load.id in begun or load.canner in asked:
            continue
        asked.add(load.canner)
        since = lit.get(load.id)
        due = load.heat_min < min(load.lower_min, happened.now_min)
        if due or since is not None:
            yield Warming(load=load, since_min=since)


def not_lit_said(plan: Timetable, happened: Happened) -> str:
    """Say which canners count as lit from now on; empty where none does."""
    if happened.lit is None:
        return ""
    canners = [
        one.load.canner for one in warming(plan, happened) if one.since_min is None
    ]
    if not canners:
        return ""
    which = all_of(f"the {canner}" for canner in canners)
    are, it = ("is", "it") if len(canners) == 1 else ("are", "them")
    return (
        f"Nobody has said that {which} {are} lit, so the water warms from now on. "
        f"Light {it} now; if it burns already, say so at the stove and plan again."
    )
