"""``stillroom day``: write a day file to fill in, or check one."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.paragraphs import bullet
from stillroom.cli.writing import write_new
from stillroom.planning.day_file.dayfile import LIKE, day_like_text, read_day


@click.group(name="day")
def command() -> None:
    """Write a day file to fill in, or check one."""


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--like",
    type=click.Choice(LIKE),
    default=LIKE[0],
    show_default=True,
    help="Which shipped day to write; all but the first are invented, to try out.",
)
def new(file: Path, like: str) -> None:
    """Write a commented day file to fill in; a file that is there is left alone."""
    write_new(file, day_like_text(like))
    click.echo(f"Wrote {file}. Fill it in, then: stillroom day check {file}")


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
def check(file: Path) -> None:
    """Name each fault of a day file by line and key."""
    day = read_day(file)
    click.echo(
        f"{file}: no fault found. {day.name}, {day.date}: "
        f"{_counted(len(day.people), 'person', 'people')}, "
        f"{_counted(len(day.shelf), 'lot', 'lots')}, "
        f"{_counted(len(day.wants), 'want', 'wants')}."
    )
    for lot in day.shelf:
        if past := lot.past_use(day.date):
            bullet(past + ".")


def _counted(number: int, one: str, more: str) -> str:
    """
    Say how many there are.

    >>> _counted(1, "person", "people"), _counted(2, "want", "wants")
    ('1 person', '2 wants')
    """
    return f"{number} {one if number == 1 else more}"
