"""``stillroom check``: say whether the record is whole."""

from __future__ import annotations

import click

from stillroom.cli.options import as_json, database, print_json
from stillroom.records import checking
from stillroom.records.backup import newest_copy


@click.command(name="check")
@database
@as_json
@click.pass_context
def command(ctx: click.Context, database: str, json_: bool) -> None:
    """Say whether the record is whole: pages, numbers, chains."""
    health = checking.check_records(database)
    if json_:
        print_json(checking.as_json(health))
    else:
        click.echo(f"{health.where}: {'whole' if health.whole else 'NOT whole'}.")
        for sentence in health.sentences():
            click.echo(f"  {sentence}")
        if not health.whole and (copy := newest_copy(database)):
            click.echo(f"  {copy}")
    ctx.exit(0 if health.whole else 1)
