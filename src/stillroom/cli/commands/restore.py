"""``stillroom restore``: bring a copy of the record back."""

from __future__ import annotations

import click

from stillroom.cli.copied_text import print_pictures
from stillroom.cli.kept import database
from stillroom.cli.options import as_json, print_json
from stillroom.records.restore import restore


@click.command(name="restore")
@click.argument("backup")
@database
@click.option(
    "--aside",
    is_flag=True,
    help="Move a file that is there to a dated name first.",
)
@as_json
def command(backup: str, db: str, aside: bool, json_: bool) -> None:
    """Bring a copy of the record back, checked before and after."""
    done = restore(backup, db, aside=aside)
    if json_:
        print_json(
            {
                "file": done.where,
                "aside": None if done.aside is None else str(done.aside),
                "events": done.health.events,
                "streams": done.health.streams,
                "fingerprint": done.health.fingerprint,
                "pictures": done.pictures.number,
                "pictures_not_copied": list(done.pictures.faults),
            }
        )
        return
    if done.aside is not None:
        click.echo(f"The former record is now {done.aside}.")
    click.echo(f"Restored {done.where} from {backup}.")
    for sentence in done.health.sentences():
        click.echo(f"  {sentence}")
    print_pictures(done.pictures)
