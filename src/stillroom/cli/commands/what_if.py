"""``stillroom what-if``: the same day with changes, beside the day as it is."""

from __future__ import annotations

import os
import shlex
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import click

from stillroom.capital import capital
from stillroom.cli.day_saved import (
    may_be_written,
    overwrite_option,
    write_day_file,
)
from stillroom.cli.options import as_json, print_json
from stillroom.cli.paragraphs import bullet, columns, heading, say
from stillroom.cli.plan_text import print_plan
from stillroom.cli.planned import day_file as day_file_argument
from stillroom.cli.planned import learned_for, own_days
from stillroom.cli.planned import seconds as seconds_option
from stillroom.cli.waiting import waiting
from stillroom.methods.learned import AS_PUBLISHED
from stillroom.planning.day_file.change_keys import in_words
from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.dayfile import read_day, text_of
from stillroom.planning.daytime import clock_time, said_minutes
from stillroom.planning.other_days.told_beside import told_beside
from stillroom.planning.other_days.what_if import AS_IT_IS, Outcome, what_if
from stillroom.planning.other_days.what_if_words import (
    comparison,
    missing_words,
    nobody_there,
    remarks_by_day,
    remarks_of,
    search_may_differ,
)
from stillroom.planning.words.how_long import what_if_words
from stillroom.refusal import Fault, Refusal, Refused, Unreadable

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
@click.option(
    "--save",
    metavar="NEW.toml",
    type=click.Path(path_type=Path),
    help="Write the day with the one change as a day file, and print its plan.",
)
@overwrite_option
@seconds_option
@own_days
@as_json
def command(
    day_file: Path,
    changes: tuple[str, ...],
    save: Path | None,
    overwrite: bool,
    seconds: float,
    db: str | None,
    as_published: bool,
    json_: bool,
) -> None:
    """Plan the same day with changes, and compare it with the day as it is."""
    text = text_of(day_file)
    if save is not None:
        may_be_written(save, overwrite=overwrite)  # before anything is worked out
        if len(changes) != 1:
            raise Unreadable(
                Fault(
                    f"{len(changes)} days are compared, and one can be saved; give "
                    "--with once, with semicolons between changes",
                    key="--save",
                )
            )
    learned = AS_PUBLISHED
    if db is not None:
        learned = learned_for(read_day(text), text, db, as_published)
    at_once = max(1, (os.cpu_count() or 1) // WORKERS)
    how_long = what_if_words(1 + len(changes), at_once, seconds)
    with waiting(f"Planning: {how_long}"), ThreadPoolExecutor(at_once) as pool:
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
        day = read_day(text)
        _print(found, {c: in_words(day, c) for c in changes}, day_file)
    if save is not None:
        _save(found[1], text, save, overwrite=overwrite, quiet=json_)


def _save(
    one: Outcome, text: str, target: Path, *, overwrite: bool, quiet: bool
) -> None:
    """Write the day that was shown, and print the plan that was found for it."""
    if one.plan is None:
        raise Refused(
            Refusal(
                f"with {one.change} the day has no timetable, so nothing was written",
                instead="change more, or write the file by hand",
                source="the limits in the day file, tried by the solver",
            )
        )
    write_day_file(target, changed_day_text(text, one.change), overwrite=overwrite)
    if quiet:
        return
    click.echo()
    say(f"Wrote {target}: the day with this change. This is its plan.")
    print_plan(one.plan)


def _print(found: tuple[Outcome, ...], words: dict[str, str], day_file: Path) -> None:
    heading("What if")
    say(comparison(found, words))
    click.echo()
    base = found[0]
    rows = [("", "done by", "", "loads", "late", "jars", "left out")]
    for n, o in enumerate(found):
        name = f"{n}" if n else AS_IT_IS
        if o.finish_min is None:
            rows.append((name, "no timetable", "", "", "", "", ""))
            continue
        rows.append(
            (
                name,
                clock_time(o.starts_at, o.finish_min),
                _later(o, base) if o is not base else "",
                f"{o.loads}",
                f"{o.lateness} min",
                str(o.jars),
                missing_words(o),
            )
        )
    columns(rows)
    click.echo()
    columns([(f"{n}", words[o.change]) for n, o in enumerate(found) if n])
    for n, o in enumerate(found):
        if o.why_not:
            bullet(f"{n or AS_IT_IS}: {o.why_not}")
        for beside in told_beside(o, base) if n else ():
            bullet(f"{n}: {beside}")
        if n and (nobody := nobody_there(o)):
            bullet(f"{n}: {nobody}")
    for days, remark in remarks_by_day(found):
        if days:
            bullet(f"{days}: {remark}")
        else:
            say(f"{capital(remark)}.")
    best = [o for o in found[1:] if o.finish_min is not None]
    if best and base.finish_min is not None and search_may_differ(found):
        say("A difference of a few minutes is the search, not the change.")
    if best:
        click.echo()
        say("To take one of them over, as a day file of its own:")
        for o in best:
            given = shlex.quote(o.change)
            click.echo(f"  stillroom what-if {day_file} --with {given} --save NEW.toml")


def _later(o: Outcome, base: Outcome) -> str:
    by = o.later_min(base)
    if by is None:
        return ""
    if by == 0:
        return "the same"
    return f"{said_minutes(abs(by))} {'later' if by > 0 else 'sooner'}"


def _as_json(o: Outcome, base: Outcome) -> dict[str, object]:
    return {
        "change": o.change,
        "starts_at": o.starts_at,
        "makespan_min": o.finish_min,
        "lower_bound_min": o.lower_bound_min,
        "lower_bound_of": o.bound_of,
        "later_min": o.later_min(base),
        "holds_as_it_is": o.holds_as_it_is,
        "loads": o.loads,
        "lateness": o.lateness,
        "remarks": list(remarks_of(o)),
        "jars": o.jars,
        "left_out": [{"batch": name, "jars": jars} for name, jars in o.left_out],
        "left_out_jars": o.left_out_jars,
        "batches": o.batches,
        "unmet": o.unmet,
        "why_not": o.why_not,
    }
