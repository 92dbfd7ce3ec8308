"""``stillroom replan``: the rest of a day planned again from what has happened."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.cli.planned import day_file as day_file_argument
from stillroom.cli.planned import planned_day
from stillroom.cli.planned import seconds as seconds_option
from stillroom.planning.happened import as_planned
from stillroom.planning.happened_file import clock_minute, read_happened, read_late
from stillroom.planning.replan import PUT_OFF, Replanned, lateness_of, replan
from stillroom.planning.sheet import clock
from stillroom.refusal import Fault, Unreadable


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
    seconds: float,
    within: float,
    json_: bool,
) -> None:
    """Plan the rest of a day again from what has happened, with least change."""
    if happened_file is not None and late:
        raise click.UsageError("give --happened or --late, one of them")
    slips = read_late(late)  # before a search is waited for
    clock_minute(now, "00:00", "--now")
    _, problem, answer = planned_day(day_file, seconds)
    plan = answer.timetable
    now_min = clock_minute(now, problem.starts_at, "--now")
    if not 0 <= now_min <= problem.horizon_min:
        day = f"{problem.starts_at} to {clock(problem.starts_at, problem.horizon_min)}"
        raise Unreadable(Fault(f"{now} is not within the day, {day}", key="--now"))
    if happened_file is not None:
        happened = read_happened(happened_file, problem, plan, now_min)
    else:
        happened = as_planned(problem, plan, now_min, late_min=slips)
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
    found = replan(problem, plan, happened, seconds=within)
    if json_:
        print_json(_as_json(found))
    else:
        _print(found)


def _print(found: Replanned) -> None:
    def at(minute: int) -> str:
        return clock(found.problem.starts_at, minute)

    say(found.sentence)
    if found.made_by == PUT_OFF:
        say(
            "No plan was found in the time: this is the old order, each thing later. "
            "Leave a batch out, or allow more seconds."
        )
    elif found.is_new_plan:
        say("More than half of what is left moves far: perhaps leave a batch out.")
    if found.moves:
        heading("Old and new")
        columns([("step or load", "was", "is", "", "by")])
        columns(
            [
                (
                    m.what,
                    at(m.was_min),
                    at(m.is_min),
                    f"{m.by_min:+d} min" if m.by_min else "",
                    m.is_by or ""
                    if m.was_by == m.is_by
                    else f"{m.is_by}, not {m.was_by}",
                )
                for m in found.moves
            ]
        )
    if found.broken:
        heading("What gives way")
        for what, minutes in found.broken:
            bullet(f"{what}: {minutes} min over" if minutes else what)
    for person, minutes in found.longer_min.items():
        bullet(f"{person} stays {minutes} min longer: is that possible?")
    if found.more_places:
        bullet(f"the counter needs {found.more_places} more places to cool jars")


def _as_json(found: Replanned) -> dict[str, object]:
    late, late_now = lateness_of(found)
    return {
        "sentence": found.sentence,
        "starts_at": found.problem.starts_at,
        "now_min": found.happened.now_min,
        "makespan_was_min": found.old.finish_min,
        "makespan_min": found.new.finish_min,
        "lateness_was": late,
        "lateness": late_now,
        "open": found.open_steps,
        "moves": [
            {
                "what": m.what,
                "was_min": m.was_min,
                "is_min": m.is_min,
                "was_by": m.was_by,
                "is_by": m.is_by,
            }
            for m in found.moves
        ],
        "gives_way": [{"limit": what, "min": over} for what, over in found.broken],
        "stays_longer_min": found.longer_min,
        "more_places": found.more_places,
        "made_by": found.made_by,
        "new_plan": found.is_new_plan,
        "proven": found.proven,
        "seconds": round(found.seconds, 2),
        "steps": [
            {
                "id": f"{s.batch}/{s.step}",
                "start_min": s.start_min,
                "end_min": s.end_min,
                "person": s.person,
            }
            for s in found.new.steps
        ],
        "loads": [
            {
                "id": load.id,
                "lower_min": load.lower_min,
                "boil_min": load.boil_min,
                "done_min": load.done_min,
                "out_min": load.out_min,
            }
            for load in found.new.loads
        ],
    }
