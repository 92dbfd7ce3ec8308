"""``stillroom odds``: how likely the day is over by when, and what decides it."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.contracts import not_made_as_json
from stillroom.cli.odds_text import (
    odds_as_json,
    print_brought_back,
    print_odds,
    print_one_more,
)
from stillroom.cli.options import (
    WholeNumber,
    as_json,
    print_json,
)
from stillroom.cli.planned import day_file as day_file_argument
from stillroom.cli.planned import own_days, planned_day
from stillroom.cli.planned import seconds as seconds_option
from stillroom.cli.waiting import waiting
from stillroom.planning.day_odds.odds import odds_learned
from stillroom.planning.day_odds.one_more import OneMore, worth_of_one_more
from stillroom.planning.other_days.brought_back import BroughtBack, brought_back
from stillroom.planning.words.how_long import one_more_s


@click.command(name="odds")
@day_file_argument
@click.option(
    "--days",
    type=WholeNumber(100, 200_000),
    default=10_000,
    show_default=True,
    help="How many days are simulated.",
)
@seconds_option
@click.option(
    "--one-more/--no-one-more",
    default=True,
    show_default=True,
    help="Whether the day is planned again with one more helper, burner or canner.",
)
@own_days
@as_json
def command(
    day_file: Path,
    days: int,
    seconds: float,
    one_more: bool,
    db: str | None,
    as_published: bool,
    json_: bool,
) -> None:
    """Say how likely a day is over by when, and what decides it."""
    plan, problem, answer = planned_day(day_file, seconds, db, as_published)
    odds = odds_learned(problem, answer.timetable, plan.learned, days=days)
    more: tuple[OneMore, ...] = ()
    back: tuple[BroughtBack, ...] = ()
    if one_more:
        each_s = max(0.5, seconds / 3)
        all_s = one_more_s(each_s, left_out=bool(plan.left_out))
        with waiting(
            f"Planning with one helper, burner, canner more: about {all_s:.0f} s"
        ):
            more = worth_of_one_more(problem, answer.timetable, seconds=each_s)
            back = brought_back(plan, seconds=each_s)
    if json_:
        not_made = not_made_as_json(plan)
        said = odds_as_json(odds, more, back, problem, answer.timetable)
        print_json({**said, "promised_and_not_made": not_made})
        return
    print_odds(odds, plan, problem, answer.timetable)
    if more:
        print_one_more(more, plan, problem, answer.timetable)
    if back:
        print_brought_back(back, plan, problem)
