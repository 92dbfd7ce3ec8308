"""
Canners whose water is to be warm for their next load: lit by somebody's word, or not.

Water that nobody has lit does not warm by the plan. So in a day that is told as it goes
a canner counts as lit from when that was said, and else from now on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from stillroom.in_a_list import all_of
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.words.step_words import called

HEAT = "heat"
"""The water of a canner that is warmed for a load."""


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


def lit_of(
    loads: Iterable[PlacedLoad],
    now: int,
    began_min: Mapping[Key, int],
    more_min: Mapping[Key, int],
    not_begun: Collection[Key],
) -> dict[str, int]:
    """
    Return the loads to come for which a canner was said to be lit, and since when.

    Who says how many minutes its water still needs says so, too. Among the keys of
    steps are those of (load, "heat").
    """
    found = {}
    for load in loads:
        key = (load.id, HEAT)
        if key in not_begun:
            continue
        if key in more_min:
            warms = load.lower_min - load.heat_min
            found[load.id] = min(now, now + more_min[key] - warms)
        elif key in began_min:
            found[load.id] = min(now, began_min[key])
    return found


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
        f"Light {it} now; if it burns already, say how long its water still needs, and "
        "plan again."
    )


def not_on_the_fire_said(problem: Problem, not_said: Collection[Key]) -> str:
    """Say which steps count as put on a fire now; empty where none does."""
    batches = {batch.id: batch for batch in problem.batches}
    steps = [f"{called(batches[b], s)} of {b}" for b, s in sorted(not_said)]
    if not steps:
        return ""
    counts = "it counts as begun now" if len(steps) == 1 else "they count as begun now"
    return (
        f"Nobody has said that {all_of(steps)} is on the fire, so {counts}. If it is "
        "on, say how long it still needs, and plan again."
    )
