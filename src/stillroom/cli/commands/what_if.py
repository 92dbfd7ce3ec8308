"""``stillroom what-if``: the same day with changes, beside the day as it is."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import click

from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import bullet, columns, heading
from stillroom.cli.planned import day_file as day_file_argument
from stillroom.cli.planned import learned_for, own_days
from stillroom.cli.planned import seconds as seconds_option
from stillroom.methods.learned import AS_PUBLISHED
from stillroom.planning.dayfile import read_day, text_of
from stillroom.planning.sheet import clock
from stillroom.planning.what_if import Outcome, what_if

WORKERS = 2


@click.command(name="what-if")
@day_file_argument
@click.option(
    "--with",
    "changes",
    multiple=True,
    required=True,
    metavar="CHANGE",
    help='A change to the day file: "people.Tilda.goes=19:00"; may be given again.',
)
@seconds_option
@own_days
@as_json
def command(
    day_file: Path,
    changes: tuple[str, ...],
    seconds: float,
    db: str | None,
    as_published: bool,
    json_: bool,
) -> None:
    """Plan the same day with changes, and compare it with the day as it is."""
    text = text_of(day_file)
    learned = AS_PUBLISHED
    if db is not None:
        learned = learned_for(read_day(text), db, as_published)
    at_once = max(1, (os.cpu_count() or 1) // WORKERS)
    with ThreadPoolExecutor(max_workers=at_once) as pool:
        found = what_if(
            text,
            changes,
            seconds=seconds,
            workers=WORKERS,
            executor=pool,
            learned=learned,
        )
    if json_:
        print_json({"days": [_as_json(o, found[0]) for o in found]})
    else:
        _print(found)


def _print(found: tuple[Outcome, ...]) -> None:
    heading("What if")
    base = found[0]
    rows = [("day", "done by", "", "loads", "late", "jars")]
    for o in found:
        if o.finish_min is None:
            rows.append((o.change, "no timetable", "", "", "", str(o.jars)))
            continue
        rows.append(
            (
                o.change,
                clock(o.starts_at, o.finish_min),
                _later(o, base) if o is not base else "",
                f"{o.loads}",
                f"{o.lateness} min",
                str(o.jars),
            )
        )
    columns(rows)
    for o in found:
        if o.why_not:
            bullet(f"{o.change}: {o.why_not}")


def _later(o: Outcome, base: Outcome) -> str:
    by = o.later_min(base)
    if by is None:
        return ""
    return (
        "the same" if by == 0 else f"{abs(by)} min {'later' if by > 0 else 'earlier'}"
    )


def _as_json(o: Outcome, base: Outcome) -> dict[str, object]:
    return {
        "change": o.change,
        "starts_at": o.starts_at,
        "makespan_min": o.finish_min,
        "lower_bound_min": o.lower_bound_min,
        "later_min": o.later_min(base),
        "loads": o.loads,
        "lateness": o.lateness,
        "jars": o.jars,
        "batches": o.batches,
        "unmet": o.unmet,
        "why_not": o.why_not,
    }
