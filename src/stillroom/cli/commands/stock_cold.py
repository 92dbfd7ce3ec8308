"""``stillroom stock cold``: a place that may be cold or not was cold, somebody says."""

from __future__ import annotations

import click

from stillroom.cli.booking import book_said_later, now, optional, token
from stillroom.cli.kept import database
from stillroom.cli.options import as_json
from stillroom.stock.cold_said import AS_COLD, COLD_AS
from stillroom.stock.commands import SayCold


@click.command()
@click.argument("lot")
@click.argument("place", default="")
@click.option(
    "--as",
    "as_",
    type=click.Choice(COLD_AS),
    required=True,
    help=f"As cold as which: {AS_COLD}.",
)
@click.option("--who", default="", help="Who knows it.")
@database
@as_json
def cold(lot: str, place: str, as_: str, who: str, db: str, json_: bool) -> None:
    """Say that PLACE, whose name leaves it open, was cold while LOT was there."""
    asked = SayCold(
        lot=lot,
        place=optional(place, "PLACE"),
        cold=as_,
        who=optional(who, "--who"),
        at=now(),
        token=token(),
    )
    book_said_later(lot, asked, db=db, json_=json_)
