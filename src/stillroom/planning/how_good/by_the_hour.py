"""Cautions that hang on the hours of a plan: another plan of the day has others."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.planning.day import Day
from stillroom.planning.daytime import clock_time, minutes_between, said_minutes
from stillroom.planning.how_good.unwatched import unwatched
from stillroom.planning.off_the_fire import canners_off
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedStep, Timetable
from stillroom.planning.words.too_few_quarters import too_few_quarters
from stillroom.refusal import COMMON_PRACTICE, Caution

CANNER_STAYS = (
    "nobody carries a canner of hot water: ladle it down, or let it cool, and lift it "
    "nearly empty or with two"
)


def by_the_hour(day: Day, problem: Problem, timetable: Timetable) -> Iterator[Caution]:
    """Return all that is said of the hours of one plan."""
    yield from _late(day, problem, timetable)
    yield from unwatched(problem, timetable)
    yield from off_its_fire(problem, timetable)
    yield from too_few_quarters(problem)


def _late(day: Day, problem: Problem, timetable: Timetable) -> Iterator[Caution]:
    """Say by how much it ends after the hour that she named."""
    if day.done_by is None:
        return
    due = minutes_between(problem.starts_at, f"{day.done_by:%H:%M}")
    if timetable.finish_min > due:
        yield Caution(
            f"the plan ends {said_minutes(timetable.finish_min - due)} after "
            f"{day.done_by:%-H:%M}, the hour you named",
            "computed",
        )


def off_its_fire(problem: Problem, timetable: Timetable) -> Iterator[Caution]:
    """
    Where a pot comes onto a fire that a canner has stood on, the first time for each.

    In the order of the clock; each step that needs such a fire says so itself.
    """
    moved: dict[str, PlacedStep] = {}
    for placed, canner in canners_off(problem, timetable):
        moved.setdefault(canner, placed)
    for canner, first in moved.items():
        at = clock_time(problem.starts_at, first.start_min)
        fire = str(first.burner)
        fire = fire if "burner" in fire else f"the burner {fire}"
        yield Caution(
            f"by {at} the {canner} is off {fire}, which {first.batch} needs: "
            f"{CANNER_STAYS}",
            COMMON_PRACTICE,
        )
