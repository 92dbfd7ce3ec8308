"""
Clocks of a plan that nobody is there to start or to heed.

A full boil takes nobody's hands in the plan, and somebody must see it: the clock of a
process starts then. Where all rest at once, or are away, it is said.
"""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.in_a_list import all_of
from stillroom.planning.daytime import clock_time
from stillroom.planning.load_names import LoadNames
from stillroom.planning.problem import Person, Problem
from stillroom.planning.timetable import Timetable


def nobody_near(problem: Problem, plan: Timetable) -> str:
    """Say which clocks start or end while nobody is there; empty for none."""
    names = LoadNames(problem, plan)
    clocks = []
    for load in plan.loads:
        is_pressed = load.id in names.pressed
        up = "its pressure" if is_pressed else "its full boil"
        short = names.short(load.id)
        clocks += [
            (load.boil_min, f"{short} comes to {up}", is_pressed, True),
            (load.done_min, f"the process of {short} ends", is_pressed, False),
        ]
    missed = [
        clock
        for clock in sorted(clocks)
        if not any(_is_there(person, plan, clock[0]) for person in problem.people)
    ]
    if not missed:
        return ""
    said = all_of(
        f"{what} ({clock_time(problem.starts_at, minute)})"
        for minute, what, _, _ in missed
    )
    return f"Nobody is on duty when {said}: agree on who looks then{_why(missed)}."


def _why(missed: Sequence[tuple[int, str, bool, bool]]) -> str:
    """Say when a clock starts, where one is to be started."""
    pressed = {is_pressed for _, _, is_pressed, starts in missed if starts}
    if not pressed:
        return ""
    when = {
        frozenset({False}): "at the full boil",
        frozenset({True}): "when the pressure is reached",
    }.get(frozenset(pressed), "at the full boil, or when the pressure is reached")
    return f"; a clock starts {when}, never earlier"


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
