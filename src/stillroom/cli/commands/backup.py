"""``stillroom backup``: copy the record, and check the copy."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.copied_text import print_pictures
from stillroom.cli.kept import database
from stillroom.cli.options import (
    WholeNumber,
    as_json,
    print_json,
)
from stillroom.records.backup import back_up
from stillroom.stock.handle import FOLLOWING


@click.command(name="backup")
@database
@click.option(
    "--to",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Folder for the copies; default: NAME-backups beside the record.",
)
@click.option(
    "--keep",
    type=WholeNumber(1, 10_000),
    default=3,
    show_default=True,
    metavar="N",
    help="Keep at least the newest N, however old they are.",
)
@as_json
def command(db: str, to: Path | None, keep: int, json_: bool) -> None:
    """Copy the record while it is in use, and check the copy."""
    made = back_up(db, to=to, newest=keep, following=FOLLOWING)
    if json_:
        print_json(
            {
                "file": str(made.file),
                "events": made.health.events,
                "streams": made.health.streams,
                "fingerprint": made.health.fingerprint,
                "pictures": made.pictures.number,
                "pictures_not_copied": list(made.pictures.faults),
                "gone": [str(path) for path in made.gone],
            }
        )
        return
    click.echo(f"Wrote and checked {made.file}.")
    for sentence in made.health.sentences():
        click.echo(f"  {sentence}")
    print_pictures(made.pictures)
    if made.gone:
        click.echo(f"  {len(made.gone)} older copies went, by their age.")
