"""``stillroom plan``: a day file in, batches, loads and a timetable out."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any, TypedDict

import click

from stillroom.book.procedures import Procedure
from stillroom.cli.contracts import no_plan_as_json, plan_as_json
from stillroom.cli.day_saved import (
    may_be_written,
    overwrite_option,
    write_day_file,
)
from stillroom.cli.options import as_json, print_json
from stillroom.cli.plan_text import print_plan
from stillroom.cli.planned import (
    learned_for,
    own_days,
    seconds,
    why_not,
    why_not_as_told,
)
from stillroom.cli.waiting import waiting
from stillroom.methods.learned import Learned
from stillroom.methods.own_class import as_procedure
from stillroom.methods.recipe_file import read_recipe
from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day, text_of
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.other_days.two_days import plan_two_days
from stillroom.planning.other_days.what_if import plan_changed
from stillroom.planning.timetable import Answer, NoPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.how_long import how_long_words
from stillroom.refusal import Refused, granted


class _Search(TypedDict):
    """How a day is planned, whichever it is."""

    seconds: float
    own: tuple[Procedure, ...]
    learned: Learned
    deterministic: bool


@click.command(name="plan")
@click.argument("day_file", metavar="DAY.toml", type=click.Path(path_type=Path))
@click.argument(
    "next_file",
    metavar="[NEXT.toml]",
    required=False,
    type=click.Path(path_type=Path),
)
@seconds
@click.option(
    "--with",
    "change",
    metavar="CHANGE",
    help='Plan the day with changes: "people.Tilda.goes=19:00; kitchen.counter=120".',
)
@click.option(
    "--save",
    metavar="NEW.toml",
    type=click.Path(path_type=Path),
    help="With --with: write the changed day as a day file, if it has a timetable.",
)
@overwrite_option
@click.option(
    "--recipe",
    "recipes",
    multiple=True,
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="A recipe of your own that the day wants by its title.",
)
@click.option(
    "--by-the-clock",
    is_flag=True,
    help="End the search by the clock, to the second: another run may differ.",
)
@click.option("--repeatable", is_flag=True, hidden=True, help="As without it.")
@click.option(
    "--by-hand",
    is_flag=True,
    help="Print the plan by hand too, step by step, to compare with.",
)
@click.option(
    "--run-on",
    is_flag=True,
    help="Where not all of it fits, print the plan of a longer day too.",
)
@own_days
@as_json
def command(
    day_file: Path,
    next_file: Path | None,
    seconds: float,
    change: str | None,
    save: Path | None,
    overwrite: bool,
    recipes: tuple[Path, ...],
    by_the_clock: bool,
    repeatable: bool,
    run_on: bool,
    by_hand: bool,
    db: str | None,
    as_published: bool,
    json_: bool,
) -> None:
    """Plan a day: batches, canner loads and a timetable.

    With a second file, the day after it, which begins with what the first leaves: jars
    that still cool, jars to be looked at, and what is set out the evening before.
    """
    if repeatable and by_the_clock:
        raise click.UsageError(
            "--repeatable and --by-the-clock cannot both hold; leave one out"
        )
    own = tuple(
        granted(as_procedure(read_recipe(file), or_cold=True)) for file in recipes
    )
    if save is not None:
        if change is None or next_file is not None:
            raise click.UsageError(
                "--save writes one changed day: give --with CHANGE, and one day file"
            )
        may_be_written(save, overwrite=overwrite)  # before anything is worked out
    as_it_is = text = text_of(day_file)
    if change is not None:
        text = changed_day_text(text, change)
    first = read_day(text)
    learned = learned_for(first, as_it_is, db, as_published)
    search = _Search(
        seconds=seconds, own=own, learned=learned, deterministic=not by_the_clock
    )
    if next_file is None:
        if change is None:
            with waiting(f"Planning: {how_long_words(seconds)}"):
                plan = plan_the_day(first, **search)
        else:
            both_s = 2 * seconds
            with waiting(f"Planning it with and without: {how_long_words(both_s)}"):
                plan = plan_changed(as_it_is, change, **search)
        _one_day(granted(plan), json_, run_on, by_hand)
        if save is not None:
            write_day_file(save, text, overwrite=overwrite)
            if not json_:
                click.echo()
                click.echo(f"Wrote {save}: the day with this change.")
        return
    second = read_day(next_file)
    with waiting(f"Planning both days: {how_long_words(2 * seconds)}"):
        days = granted(plan_two_days(first, second, **search))
    for plan in days:
        if not isinstance(plan.answer, Answer):
            no = why_not(plan)
            raise Refused(replace(no, reason=f"{plan.day.name}: {no.reason}"))
    if json_:
        print_json({"days": [_as_json(plan) for plan in days]})
        return
    for plan in days:
        print_plan(plan, run_on=run_on, by_hand=by_hand)


def _one_day(plan: DayPlan, json_: bool, run_on: bool, by_hand: bool) -> None:
    if isinstance(plan.answer, Answer):
        if json_:
            print_json(_as_json(plan))
        else:
            print_plan(plan, run_on=run_on, by_hand=by_hand)
        return
    no = why_not(plan)
    if json_:
        none = plan.answer if isinstance(plan.answer, NoPlan) else None
        print_json(no_plan_as_json(none, no, plan.kitchen_if))
        click.get_current_context().exit(3)
    print_plan(plan)
    raise Refused(why_not_as_told(plan))


def _as_json(plan: DayPlan) -> dict[str, Any]:
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    return plan_as_json(plan, plan.problem, plan.answer)
