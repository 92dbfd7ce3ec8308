"""A day file with a timetable, for the commands that ask more about it."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.commands.plan import why_not
from stillroom.planning.dayfile import read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Refused, granted

day_file = click.argument(
    "day_file", metavar="DAY.toml", type=click.Path(path_type=Path)
)
seconds = click.option(
    "--seconds",
    type=click.FloatRange(0.5, 3600.0),
    default=8.0,
    show_default=True,
    help="Time that the search for a better plan may take.",
)


def planned_day(file: Path, seconds: float) -> tuple[DayPlan, Problem, Answer]:
    """
    Plan a day that must have a timetable.

    Raises
    ------
    Refused
        Where none fits, with what clashes.
    Unreadable
        Where the file has faults.
    """
    plan = granted(plan_the_day(read_day(file), seconds=seconds))
    if plan.problem is None or not isinstance(plan.answer, Answer):
        raise Refused(why_not(plan))
    return plan, plan.problem, plan.answer
