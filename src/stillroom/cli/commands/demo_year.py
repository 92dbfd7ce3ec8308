"""``stillroom demo-year``: a year of the invented smallholding, in its own record."""

from __future__ import annotations

import click

from stillroom.cli.options import WholeNumber
from stillroom.cli.paragraphs import say
from stillroom.records.engine import DEMO_FILE
from stillroom.smallholding.invented import WORDS
from stillroom.smallholding.year import write_year


@click.command(name="demo-year")
@click.option(
    "--db",
    "database",
    metavar="URL",
    default=str(DEMO_FILE),
    show_default=True,
    help="A file that is not there yet, or an empty database.",
)
@click.option(
    "--seed",
    type=WholeNumber(0),
    default=1,
    show_default=True,
    help="Which invented year: the same number, the same year.",
)
def command(database: str, seed: int) -> None:
    """Write the invented year of the demo smallholding into a new record."""
    year = write_year(database, seed=seed)
    say(
        f"{WORDS} {year.events:,} entries of {year.days_at_the_stove} days at the "
        f"stove and all between are in {year.where}."
    )
    say(
        f"Look at it: stillroom serve --db {year.where}; stillroom stock --db "
        f"{year.where}; stillroom learned --db {year.where}"
    )
