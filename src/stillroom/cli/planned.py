"""A day file with a timetable, for the commands that ask more about it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from stillroom.cli.options import SearchSeconds
from stillroom.cli.waiting import waiting
from stillroom.learning.record import learned_for_day
from stillroom.methods.learned import AS_PUBLISHED, Learned
from stillroom.planning.day import Day
from stillroom.planning.day_file.dayfile import read_day, text_of
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.how_long import how_long_words
from stillroom.planning.words.nothing_made import nothing_made, nothing_made_as_told
from stillroom.records.days import open_records
from stillroom.records.engine import place_of
from stillroom.records.missing import no_record
from stillroom.refusal import Fault, Refusal, Refused, Unreadable, granted

F = TypeVar("F", bound=Callable[..., Any])

day_file = click.argument(
    "day_file", metavar="DAY.toml", type=click.Path(path_type=Path)
)
seconds = click.option(
    "--seconds",
    type=SearchSeconds(),
    default=8.0,
    show_default=True,
    help="Time that the search for a better plan may take; a day that does not fit "
    "takes as long once more.",
)


def own_days(command: F) -> F:
    """Add ``--db`` and ``--as-published``: whether past days are learned from."""
    record = click.option(
        "--db",
        "db",
        metavar="URL",
        default=None,
        help="A record to learn from: your own minutes, yields and seals.",
    )
    published = click.option(
        "--as-published", is_flag=True, help="The book's figures, whatever was learned."
    )
    return record(published(command))


def learned_for(day: Day, text: str, db: str | None, as_published: bool) -> Learned:
    """
    Return what a record taught of a day's kitchen; nothing without one.

    A day that was begun by its ``text`` learns nothing of itself, as on the pages.

    Raises
    ------
    Unreadable
        If there is no such record.
    """
    if db is None or as_published or day.as_published:
        return AS_PUBLISHED
    file = place_of(db).file
    if file is not None and not file.exists():
        raise Unreadable(Fault(no_record(file), "--db"))
    with open_records(db) as records:
        return learned_for_day(day, text, records.ledger)


def planned_day(
    file: Path, seconds: float, db: str | None = None, as_published: bool = False
) -> tuple[DayPlan, Problem, Answer]:
    """
    Plan a day that must have a timetable.

    Raises
    ------
    Refused
        Where none fits, with what clashes.
    Unreadable
        Where the file has faults.
    """
    text = text_of(file)
    day = read_day(text)
    learned = learned_for(day, text, db, as_published)
    with waiting(f"Planning: {how_long_words(seconds)}"):
        plan = granted(plan_the_day(day, seconds=seconds, learned=learned))
    if plan.problem is None or not isinstance(plan.answer, Answer):
        raise Refused(why_not(plan))
    return plan, plan.problem, plan.answer


def why_not(plan: DayPlan) -> Refusal:
    """Why a day has no timetable."""
    if isinstance(plan.answer, NoPlan):
        return Refusal(
            "no timetable fits: " + "; ".join(plan.answer.clashes),
            instead="; ".join(plan.answer.helps) or "want fewer jars",
            source=plan.answer.source,
        )
    return nothing_made(plan)


def why_not_as_told(plan: DayPlan) -> Refusal:
    """Name the first way out alone, where reasons and ways stand above it already."""
    if not isinstance(plan.answer, NoPlan):
        return nothing_made_as_told(plan)
    first, *others = plan.answer.helps or ("want fewer jars",)
    more = "; the others stand above too" if others else ""
    return Refusal(
        "no timetable fits this day; why not is said above",
        instead=f"{first}{more}",
        source=plan.answer.source,
    )
