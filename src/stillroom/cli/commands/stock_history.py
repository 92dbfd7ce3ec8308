"""``stillroom stock history`` and ``mend``: every entry, and one taken back."""

from __future__ import annotations

import click

from stillroom.cli.booking import book, now, optional, token
from stillroom.cli.kept import database, kept
from stillroom.cli.options import as_json
from stillroom.cli.stock_text import print_history
from stillroom.refusal import granted
from stillroom.stock.choosing import known_lot
from stillroom.stock.commands import Mend
from stillroom.stock.handle import stock_now


@click.command()
@click.argument("number", type=int)
@click.option("--why", required=True, help="What was wrong with it.")
@database
@as_json
def mend(number: int, why: str, db: str, json_: bool) -> None:
    """Take the entry NUMBER back by a counter-movement that says why."""
    asked = Mend(of=number, why=optional(why, "--why"), at=now(), token=token())
    with kept(db) as records:
        book(records, asked, json_)


@click.command()
@click.argument("lot", required=False)
@database
def history(lot: str | None, db: str) -> None:
    """Print every entry with its number, of a lot or of all."""
    with kept(db) as records:
        stock = stock_now(records.ledger)
        print_history(stock, granted(known_lot(stock, lot)) if lot else None)
