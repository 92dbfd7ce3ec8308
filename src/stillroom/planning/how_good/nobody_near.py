"""
Clocks of a plan that nobody is there to start or to heed.

A full boil takes nobody's hands in the plan, and somebody must see it: the clock of a
process starts then. Where all rest at once, or are away, it is said; `rests_apart`
moves a rest where that helps.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from stillroom.in_a_list import all_of
from stillroom.planning.daytime import clock_time
from stillroom.planning.how_good.unwatched import is_there
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.waits.load_names import LoadNames


def nobody_near(problem: Problem, plan: Timetable) -> str:
    """Say which clocks start or end while nobody is there; empty for none."""
    names = LoadNames(problem, plan)
    missed = list(unseen(problem, plan))
    if not missed:
        return ""
    said = []
    for minute, load, begins in missed:
        what = f"the process of {names.short(load.id)} ends"
        if begins:
            up = "its pressure" if load.id in names.pressed else "its full boil"
            what = f"{names.short(load.id)} comes to {up}"
        said.append(f"{what} ({clock_time(problem.starts_at, minute)})")
    why = _why({load.id in names.pressed for _, load, begins in missed if begins})
    return f"Nobody is on duty when {all_of(said)}: agree on who looks then{why}."


def _why(pressed: Collection[bool]) -> str:
    """Say when a clock starts, of loads under pressure or not; empty for no load."""
    if not pressed:
        return ""
    when = {
        frozenset({False}): "at the full boil",
        frozenset({True}): "when the pressure is reached",
    }.get(frozenset(pressed), "at the full boil, or when the pressure is reached")
    return f"; a clock starts {when}, never earlier"


def unseen(problem: Problem, plan: Timetable) -> Iterator[tuple[int, PlacedLoad, bool]]:
    """Minutes of a clock with nobody there, its load, and whether it begins then."""
    clocks = [
        clock
        for load in plan.loads
        for clock in ((load.boil_min, load, True), (load.done_min, load, False))
    ]
    for minute, load, begins in sorted(clocks, key=lambda clock: clock[0]):
        if not any(is_there(person, plan, minute) for person in problem.people):
            yield minute, load, begins
