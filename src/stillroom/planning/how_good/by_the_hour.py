"""Cautions that hang on the hours of a plan: another plan of the day has others."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.planning.day import Day
from stillroom.planning.daytime import clock_time, minutes_between, said_minutes
from stillroom.planning.how_good.unwatched import unwatched
from stillroom.planning.off_the_fire import canners_off, canners_off_for_others
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.words.hour_words import the_burner
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
    Where a canner has to be off a fire that it has stood on, the first time for each.

    A pot comes onto it, or it is taken; in the order of the clock. Each step that needs
    such a fire says so itself.
    """
    off = [
        (placed.start_min, canner, str(placed.burner), f"which {placed.batch} needs")
        for placed, canner in canners_off(problem, timetable)
    ]
    off += [
        (minute, canner, burner, "which is taken then")
        for minute, burner, canner in canners_off_for_others(problem, timetable)
    ]
    first: dict[str, tuple[int, str, str]] = {}
    for minute, canner, burner, why in sorted(off, key=lambda one: one[0]):
        first.setdefault(canner, (minute, burner, why))
    for canner, (minute, burner, why) in first.items():
        yield Caution(
            f"by {clock_time(problem.starts_at, minute)} the {canner} is off "
            f"{the_burner(burner)}, {why}: {CANNER_STAYS}",
            COMMON_PRACTICE,
        )
