"""``stillroom day``: write a day file to fill in, or check one."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.planning.day_file.dayfile import LIKE, day_like_text, read_day
from stillroom.refusal import Unreadable


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
    try:
        with file.open("x", encoding="utf-8") as out:
            out.write(day_like_text(like))
    except FileExistsError:
        raise Unreadable(
            f"{file} is there already and was left as it is; name another"
        ) from None
    except OSError as error:
        raise Unreadable(
            f"{file} cannot be written ({error.strerror}); name a place that can"
        ) from None
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


def _counted(number: int, one: str, more: str) -> str:
    """
    Say how many there are.

    >>> _counted(1, "person", "people"), _counted(2, "want", "wants")
    ('1 person', '2 wants')
    """
    return f"{number} {one if number == 1 else more}"
