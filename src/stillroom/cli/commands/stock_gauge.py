"""``stillroom stock gauge``: what the gauge of a canner load read, said later."""

from __future__ import annotations

import click

from stillroom.cli.booking import book_said_later, now, optional, token
from stillroom.cli.kept import database
from stillroom.cli.options import as_json
from stillroom.stock.commands import SayGauge


@click.command()
@click.argument("lot")
@click.argument("reading", nargs=-1, required=True)
@click.option("--who", default="", help="Who read it.")
@database
@as_json
def gauge(lot: str, reading: tuple[str, ...], who: str, db: str, json_: bool) -> None:
    """Say what the gauge read when LOT was processed, 11 psi, and who read it."""
    asked = SayGauge(
        lot=lot,
        gauge=optional(" ".join(reading), "READING"),
        who=optional(who, "--who"),
        at=now(),
        token=token(),
    )
    book_said_later(lot, asked, db=db, json_=json_)
