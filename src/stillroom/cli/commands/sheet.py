"""``stillroom sheet``: the day on paper."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from stillroom.cli.options import SearchSeconds
from stillroom.cli.plan_text import print_remarks
from stillroom.cli.planned import learned_for, own_days
from stillroom.cli.waiting import waiting
from stillroom.cli.writing import pdf_may_be_written, write_pdf
from stillroom.paper.sheets import day_sheet_pdf
from stillroom.planning.day_file.dayfile import read_day, text_of
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.how_long import how_long_words
from stillroom.refusal import granted


@click.command(name="sheet")
@click.argument("day_file", metavar="DAY.toml", type=click.Path(path_type=Path))
@click.option(
    "--out",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Where to write it; beside the day file, ending in .pdf, if not given.",
)
@click.option(
    "--seconds",
    type=SearchSeconds(),
    default=8.0,
    show_default=True,
    help="Time that the search for a better plan may take.",
)
@click.option(
    "--page",
    type=click.Choice(["us-letter", "a4"]),
    default="us-letter",
    show_default=True,
    help="Size of the paper.",
)
@own_days
def command(
    day_file: Path,
    out: Path | None,
    seconds: float,
    page: Literal["us-letter", "a4"],
    db: str | None,
    as_published: bool,
) -> None:
    """Print the day sheet of a day file as a PDF."""
    target = out or day_file.with_suffix(".pdf")
    pdf_may_be_written(target)
    text = text_of(day_file)
    day = read_day(text)
    learned = learned_for(day, text, db, as_published)
    with waiting(f"Planning: {how_long_words(seconds)}"):
        plan = granted(plan_the_day(day, seconds=seconds, learned=learned))
    write_pdf(target, day_sheet_pdf(plan, page=page))
    click.echo(f"The day sheet is in {target}.")
    print_remarks(plan)
