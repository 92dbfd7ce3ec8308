"""``stillroom export``: everything that was written, as text."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.kept import database
from stillroom.cli.options import as_json, print_json
from stillroom.records.exporting import export


@click.command(name="export")
@database
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    required=True,
    help="A folder that is not there yet.",
)
@click.option(
    "--damaged",
    is_flag=True,
    help="Of a record that is not whole, write what can be read.",
)
@as_json
def command(db: str, out: Path, damaged: bool, json_: bool) -> None:
    """Write everything in the record as JSON Lines and CSV."""
    done = export(db, out, damaged=damaged)
    if json_:
        print_json(
            {
                "folder": str(done.folder),
                "events": done.events,
                "streams": done.streams,
                "fingerprint": done.fingerprint,
                "broken": list(done.broken),
            }
        )
        return
    entries = "entry" if done.events == 1 else "entries"
    click.echo(f"Wrote {done.events:,} {entries} to {done.folder}.")
    for line in done.broken[:20]:
        click.echo(f"  {line}", err=True)
