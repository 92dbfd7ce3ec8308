"""``stillroom stock cold``: a place that may be cold or not was cold, somebody says."""

from __future__ import annotations

import click

from stillroom.cli.booking import book, database, now, optional, token
from stillroom.cli.kept import kept
from stillroom.cli.options import as_json
from stillroom.cli.paragraphs import say
from stillroom.cli.stock_text import print_holds
from stillroom.refusal import granted
from stillroom.stock.choosing import known_lot
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
    with kept(db) as records:
        stock = book(records, asked, json_)
        if json_:
            return
        if not print_holds(stock, granted(known_lot(stock, lot))):
            say("It is not on hold.")
