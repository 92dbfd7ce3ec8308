"""Cautions that hang on the hours of a plan: another plan of the day has others."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.planning.day import Day
from stillroom.planning.daytime import clock_time, minutes_between, said_minutes
from stillroom.planning.how_good.unwatched import unwatched
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
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
    Where a pot comes onto a fire that a canner has stood on since the morning.

    In the order of the clock.
    """
    moved = []
    for canner in problem.canners:
        lit = [load.heat_min for load in timetable.loads if load.canner == canner.id]
        pots = [
            s
            for s in timetable.steps
            if lit and s.burner in canner.burners and s.start_min >= min(lit)
        ]
        if pots:
            moved.append((canner, min(pots, key=lambda s: (s.start_min, s.batch))))
    for canner, first in sorted(moved, key=lambda pair: pair[1].start_min):
        at = clock_time(problem.starts_at, first.start_min)
        fire = str(first.burner)
        fire = fire if "burner" in fire else f"the burner {fire}"
        yield Caution(
            f"by {at} the {canner.id} is off {fire}, which {first.batch} needs: "
            f"{CANNER_STAYS}",
            COMMON_PRACTICE,
        )
