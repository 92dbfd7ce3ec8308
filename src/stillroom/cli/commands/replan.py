"""``stillroom replan``: the rest of a day planned again from what has happened."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from stillroom.cli.from_record import replan_from_record
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import heading, say
from stillroom.cli.planned import day_file as day_file_argument
from stillroom.cli.planned import planned_day
from stillroom.cli.planned import seconds as seconds_option
from stillroom.cli.replan_text import print_replanned, replanned_as_json
from stillroom.planning.answering import BrokenPlan
from stillroom.planning.begun.changes import OUR_PLAN
from stillroom.planning.begun.happened_file import (
    clock_minute,
    read_happened,
    read_late,
)
from stillroom.planning.begun.promised_anew import not_made
from stillroom.planning.begun.slipped import as_it_slipped
from stillroom.planning.cpsat.search import ANOTHER_RUN
from stillroom.planning.daytime import clock_time
from stillroom.planning.happened import Happened, Key
from stillroom.planning.problem import Problem
from stillroom.planning.second_thoughts.limit_words import not_together
from stillroom.planning.second_thoughts.replan import replan
from stillroom.planning.timetable import Timetable
from stillroom.planning.which_batches.spares import all_promised
from stillroom.planning.words.step_words import late_named
from stillroom.refusal import Fault, Refusal, Refused, Unreadable

LATEST_MIN = 6 * 60
"""So long after its end a day that slipped is still planned again. [min]"""


@click.command(name="replan")
@day_file_argument
@click.option(
    "--now", required=True, metavar="TIME", help="What the clock shows: 11:30."
)
@click.option(
    "--happened",
    "happened_file",
    metavar="FILE.json",
    type=click.Path(path_type=Path),
    help="What has happened: steps, loads and their times.",
)
@click.option(
    "--late",
    "late",
    multiple=True,
    metavar="STEP=MINUTES",
    help='A step that ends later: "plum jelly 2/fill=25min"; may be given again.',
)
@click.option(
    "--db",
    "db",
    metavar="URL",
    default=None,
    help="Take what has happened from the run in this record: a file, or a server.",
)
@click.option(
    "--leaves",
    multiple=True,
    metavar="PERSON=TIME",
    help="Who goes at another hour: Corwin=15:00; may be given again. With --db.",
)
@click.option(
    "--comes",
    multiple=True,
    metavar="PERSON=TIME",
    help="Who is not there until an hour: Corwin=11:00; may be given again. With --db.",
)
@click.option(
    "--moves",
    multiple=True,
    metavar="PERSON TIME=TIME",
    help='A break or absence to come, at another hour: "Corwin 10:00=10:30"; may be '
    "given again. With --db.",
)
@click.option(
    "--broken",
    multiple=True,
    metavar="CANNER",
    help="A canner that takes no load any more; may be given again. With --db.",
)
@click.option(
    "--drop",
    multiple=True,
    metavar="BATCH",
    help="A batch to leave out; may be given again. With --db.",
)
@click.option(
    "--take-in",
    "take_in",
    multiple=True,
    metavar="BATCH",
    help="A batch that was left out, to be made after all. With --db.",
)
@click.option("--take", is_flag=True, help="Go by the new plan from now on. With --db.")
@seconds_option
@click.option(
    "--within",
    type=click.FloatRange(0.2, 600.0),
    default=2.0,
    show_default=True,
    help="Seconds that planning the rest again may take.",
)
@as_json
def command(
    day_file: Path,
    now: str,
    happened_file: Path | None,
    late: tuple[str, ...],
    db: str | None,
    leaves: tuple[str, ...],
    comes: tuple[str, ...],
    moves: tuple[str, ...],
    broken: tuple[str, ...],
    drop: tuple[str, ...],
    take_in: tuple[str, ...],
    take: bool,
    seconds: float,
    within: float,
    json_: bool,
) -> None:
    """Plan the rest of a day again from what has happened, with least change."""
    if happened_file is not None and late:
        raise click.UsageError("give --happened or --late, one of them")
    slips = read_late(late)  # before a search is waited for
    clock_minute(now, "00:00", "--now")
    if db is not None:
        if happened_file is not None:
            raise click.UsageError("give --db or --happened, one of them")
        replan_from_record(
            day_file,
            db,
            now,
            late_min=slips,
            leaves=leaves,
            comes=comes,
            moves=moves,
            broken=broken,
            drop=drop,
            take_in=take_in,
            take=take,
            within=within,
            json_=json_,
        )
        return
    if leaves or comes or moves or broken or drop or take_in or take:
        raise click.UsageError(
            "--leaves, --comes, --moves, --broken, --drop, --take-in and --take need "
            "the run: give --db as well"
        )
    planned, problem, answer = planned_day(day_file, seconds)
    plan = answer.timetable
    now_min = _minute_now(now, problem, plan)
    slips = {late_named(problem, plan, k, now_min): by for k, by in slips.items()}
    happened = (
        _slipped(problem, plan, now, now_min, slips)
        if happened_file is None
        else read_happened(happened_file, problem, plan, now_min)
    )
    if _is_over(plan, happened):
        raise Refused(
            Refusal(
                f"by {now} every step is done and every jar is out, if all went as it "
                "was planned or said: nothing is left to plan again",
                instead="say with --late or --happened what is not done yet",
                source=OUR_PLAN,
            )
        )
    try:
        found = replan(problem, plan, happened, seconds=within)
    except BrokenPlan as wrong:
        raise Refused(
            not_together(
                problem,
                plan,
                wrong,
                instead="say with --happened what has truly begun, or allow more time "
                "with --within; until then keep to the old order, each thing later",
            )
        ) from wrong
    wants = all_promised(problem, planned.spare, planned)
    found = replace(found, not_made=not_made(wants, problem.batches))
    if json_:
        print_json(replanned_as_json(found))
    else:
        print_replanned(found)
        for remark in answer.remarks:
            if remark.endswith(ANOTHER_RUN):
                heading("The plan that is changed")
                say(
                    f"It was searched for again, and {remark}. Hold what it was "
                    "against the plan that you go by."
                )


def _minute_now(now: str, problem: Problem, plan: Timetable) -> int:
    """Minute of the day that the clock shows; it may lie in the night behind it."""
    now_min = clock_minute(now, problem.starts_at, "--now")
    ends = max(problem.horizon_min, plan.finish_min) + LATEST_MIN
    if not 0 <= now_min <= ends:
        starts, last = (
            clock_time(problem.starts_at, 0),
            clock_time(problem.starts_at, ends),
        )
        raise Unreadable(
            Fault(
                f"{now} is not within the day and the night behind it, {starts} to "
                f"{last}; of the night write it as the plan does: "
                f'"0:20 (next day)"',
                key="--now",
            )
        )
    return now_min


def _is_over(plan: Timetable, happened: Happened) -> bool:
    """Whether all of a plan has begun and ended."""
    ended = {key for key, s in happened.begun.items() if not happened.runs(s)}
    out = {load.id for load in happened.loads if load.out_min <= happened.now_min}
    return ended >= {(s.batch, s.step) for s in plan.steps} and out >= {
        load.id for load in plan.loads
    }


def _slipped(
    problem: Problem, plan: Timetable, now: str, now_min: int, slips: dict[Key, int]
) -> Happened:
    """What has happened if all went as planned but for the steps that slipped."""
    happened = as_it_slipped(problem, plan, now_min, slips)
    begun = happened.begun
    for key in slips:
        if key not in begun:
            name = "/".join(key)
            raise Unreadable(
                Fault(
                    f"{name} has not begun by {now}; name a step that runs or has "
                    "ended",
                    key="--late",
                )
            )
    return happened
