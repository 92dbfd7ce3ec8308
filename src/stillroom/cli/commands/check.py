"""``stillroom check``: say whether the record is whole."""

from __future__ import annotations

import click

from stillroom.cli.kept import database
from stillroom.cli.options import as_json, print_json
from stillroom.records import checking
from stillroom.records.backup import newest_copy
from stillroom.records.days import open_records
from stillroom.stock.handle import FOLLOWING


@click.command(name="check")
@database
@click.option(
    "--rebuild",
    is_flag=True,
    help="Make lots and balances again from the entries, where those are whole.",
)
@as_json
@click.pass_context
def command(ctx: click.Context, db: str, rebuild: bool, json_: bool) -> None:
    """Say whether the record is whole: pages, numbers, chains, balances."""
    health = checking.check_records(db, following=FOLLOWING)
    if rebuild and health.entries_whole:
        with open_records(db) as records:
            records.ledger.lots.made_again(FOLLOWING)
        health = checking.check_records(db, following=FOLLOWING)
    if json_:
        print_json(checking.as_json(health))
    else:
        click.echo(f"{health.where}: {'whole' if health.whole else 'NOT whole'}.")
        for sentence in health.sentences():
            click.echo(f"  {sentence}")
        if not health.whole and (copy := newest_copy(db)):
            click.echo(f"  {copy}")
    ctx.exit(0 if health.whole else 1)
