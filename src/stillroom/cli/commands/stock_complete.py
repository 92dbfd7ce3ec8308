"""``stillroom stock complete``: what was not said of jars when they were booked."""

from __future__ import annotations

import click

from stillroom.book.process_table import JARS
from stillroom.cli.as_typed import CANNER
from stillroom.cli.booking import book_said_later, now, optional, token
from stillroom.cli.kept import database
from stillroom.cli.options import as_json, read_elevation_m
from stillroom.measures import FOOT_M
from stillroom.stock.commands import Complete
from stillroom.stock.due import PACKS, whole_feet


@click.command()
@click.argument("lot")
@click.option("--elevation", metavar="HEIGHT", help="2150ft or 655m above the sea.")
@click.option("--pack", type=click.Choice(PACKS), help="How the jars were packed.")
@click.option(
    "--which", default="", metavar="NAME", help="Which product: crushed tomatoes."
)
@click.option("--jar", type=click.Choice(JARS), help="Size of its jars.")
@click.option("--canner", type=CANNER, help="Canner, with its gauge.")
@database
@as_json
def complete(
    lot: str,
    elevation: str | None,
    pack: str | None,
    which: str,
    jar: str | None,
    canner: str | None,
    db: str,
    json_: bool,
) -> None:
    """Add what was not said of LOT when it was booked, so that the book can answer."""
    height_m = None if elevation is None else read_elevation_m(elevation)
    asked = Complete(
        lot=lot,
        elevation_ft=None if height_m is None else whole_feet(height_m / float(FOOT_M)),
        which=optional(which, "--which"),
        jar=jar or "",
        canner=canner or "",
        pack=pack or "",
        at=now(),
        token=token(),
    )
    book_said_later(lot, asked, db=db, json_=json_)
