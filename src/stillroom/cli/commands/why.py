"""``stillroom why``: what holds a step, a batch, a load or the whole day."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.capital import capital
from stillroom.cli.contracts import left_out_as_json, too_much_as_json
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import columns, heading, say
from stillroom.cli.plan_text import print_no_plan, print_remarks
from stillroom.cli.planned import day_file as day_file_argument
from stillroom.cli.planned import own_days, planned_day
from stillroom.cli.planned import seconds as seconds_option
from stillroom.in_a_list import all_of
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.problem import Problem
from stillroom.planning.waits.why import Why, limit_of_the_day, why, why_so_long


@click.command(name="why")
@day_file_argument
@click.argument("asked", metavar="[STEP|BATCH|LOAD]", required=False)
@seconds_option
@own_days
@as_json
def command(
    day_file: Path,
    asked: str | None,
    seconds: float,
    db: str | None,
    as_published: bool,
    json_: bool,
) -> None:
    """Say what holds a step, a batch, a load or the end of the day at its minute."""
    whole, problem, answer = planned_day(day_file, seconds, db, as_published)
    plan = answer.timetable
    out = whole.left_out_as(asked) if asked else None
    limit = limit_of_the_day(problem, plan)
    if out is not None:
        found = Why(asked=asked or "", start_min=0, end_min=0, chain=())
    else:
        found = why(problem, plan, asked) if asked else why_so_long(problem, plan)
    if json_:
        too_much = too_much_as_json(whole.too_much)
        left_out = None if out is None else left_out_as_json(out)
        told = {**_as_json(found, limit, problem), "left_out": left_out}
        if out is not None:
            told["start_min"] = None
        print_json({**told, "too_much": too_much})
        return
    if out is None:
        _print(found, limit, problem)
    else:
        say(f"Left out: {out.sentence}")
    print_remarks(whole)
    if whole.too_much is None:
        return
    if out is not None or not asked:
        print_no_plan(whole.too_much, WHY_NOT_ALL)
    else:
        _print_where_the_ways_stand(whole)


WHY_NOT_ALL = "Why not all of it fits"


def _print_where_the_ways_stand(plan: DayPlan) -> None:
    """Print where it is said what would make room: that is said once."""
    names = [name for out in plan.left_out for name in out.batches]
    are = "is" if len(names) == 1 else "are"
    say(f"Not all of the day fits: {all_of(names)} {are} left out. Why, and ways out:")
    # on one line, so that it can be copied
    click.echo(f'  stillroom why DAY.toml "{names[0]}"')


def _print(found: Why, limit: str, problem: Problem) -> None:
    def at(minute: int) -> str:
        return clock_time(problem.starts_at, minute)

    first = found.chain[0]
    what = capital(first.what)
    say(f"{what} begins at {at(first.start_min)}: {first.sentence}.")
    if len(found.told) > 1:
        heading("And that, in turn")
        columns([(at(b.start_min), f"{b.what}: {b.sentence}") for b in found.told[1:]])
    heading("The day as a whole")
    say(limit)


def _as_json(found: Why, limit: str, problem: Problem) -> dict[str, object]:
    return {
        "asked": found.asked,
        "starts_at": problem.starts_at,
        "start_min": found.start_min,
        "chain": [
            {
                "what": b.what,
                "of": b.batch,
                "start_min": b.start_min,
                "held_by": b.held_by,
                "resource": b.resource,
                "sentence": b.sentence,
                "spare_min": b.spare_min,
            }
            for b in found.chain
        ],
        "limit_of_the_day": limit,
    }
