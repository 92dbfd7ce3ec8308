"""
Clocks of a plan that nobody is there to start or to heed.

A full boil takes nobody's hands in the plan, and somebody must see it: the clock of a
process starts then. Where all rest at once, or are away, it is said; `rests_apart`
moves a rest where that helps.
"""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.in_a_list import all_of
from stillroom.planning.daytime import clock_time
from stillroom.planning.load_names import LoadNames
from stillroom.planning.problem import Person, Problem
from stillroom.planning.timetable import PlacedLoad, Timetable


def nobody_near(problem: Problem, plan: Timetable) -> str:
    """Say which clocks start or end while nobody is there; empty for none."""
    names = LoadNames(problem, plan)
    said = []
    for minute, load, begins in unseen(problem, plan):
        what = f"the process of {names.short(load.id)} ends"
        if begins:
            boil = "its pressure" if load.id in names.pressed else "its full boil"
            what = f"{names.short(load.id)} comes to {boil}"
        said.append(f"{what} ({clock_time(problem.starts_at, minute)})")
    if not said:
        return ""
    return (
        f"Nobody is on duty when {all_of(said)}: agree on who looks then; a clock "
        "starts at the full boil, never earlier."
    )


def unseen(problem: Problem, plan: Timetable) -> Iterator[tuple[int, PlacedLoad, bool]]:
    """Minutes of a clock with nobody there, its load, and whether it begins then."""
    for load in sorted(plan.loads, key=lambda load: load.boil_min):
        for minute, begins in ((load.boil_min, True), (load.done_min, False)):
            if not any(_is_there(person, plan, minute) for person in problem.people):
                yield minute, load, begins


def _is_there(person: Person, plan: Timetable, minute: int) -> bool:
    """Whether somebody is in the kitchen, and neither resting nor away."""
    if not person.arrives_min <= minute < person.leaves_min:
        return False
    if any(gone <= minute < back for gone, back in person.away):
        return False
    return not any(
        rest.person == person.id and rest.start_min <= minute < rest.end_min
        for rest in plan.breaks
    )
