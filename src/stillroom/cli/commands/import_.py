"""``stillroom import``: read an export into an empty record."""

from __future__ import annotations

from pathlib import Path

import click

from stillroom.cli.kept import database
from stillroom.cli.options import as_json, print_json
from stillroom.records.importing import import_from


@click.command(name="import")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@database
@as_json
def command(folder: Path, db: str, json_: bool) -> None:
    """Read an export into an empty record, and check that it chains."""
    done = import_from(folder, db)
    if json_:
        print_json(
            {
                "where": done.where,
                "events": done.events,
                "streams": done.streams,
                "fingerprint": done.fingerprint,
            }
        )
        return
    entries = "entry" if done.events == 1 else "entries"
    click.echo(f"Read {done.events:,} {entries} into {done.where}; every one chains.")
