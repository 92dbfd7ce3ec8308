"""Days by their names: the demo day, the made-up ones, and those that are drawn."""

from __future__ import annotations

from drawn_days import NAME, drawn_day
from made_up_days import day_names, made_up_day

from stillroom.methods.today import air_in
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.problem import Problem
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place
from stillroom.planning.which_batches.kitchen_problem import problem_of
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Refusal

DEMO = "demo"


def full_name(name: str) -> str:
    """Name of a day in full, where "d3" stands for "d3-80-jars-2-people"."""
    if name == DEMO or NAME.fullmatch(name):
        return name
    found = [n for n in day_names() if n.startswith(name)]
    return found[0] if len(found) == 1 else name


def problem_named(name: str) -> Problem:
    """
    A made-up or drawn day, or the one that the program brings along.

    Raises
    ------
    KeyError
        If there is no day of that name.
    """
    if NAME.fullmatch(name):
        return drawn_day(name)
    if name != DEMO:
        return made_up_day(name)
    day = read_day(demo_day_text())
    air = air_in(day.kitchen)
    assert not isinstance(air, Refusal)
    made = make_batches(day, Place(kitchen=day.kitchen, air=air), Shelf(day.shelf))
    problem = problem_of(day, made, air)
    assert not isinstance(problem, Refusal)
    return problem
