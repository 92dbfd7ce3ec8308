"""``stillroom stock put-up``: how jars were put up that came in as they stand."""

from __future__ import annotations

import click

from stillroom.book.process_table import JARS
from stillroom.cli.as_typed import CANNER, MINUTES
from stillroom.cli.booking import book_said_later, now, optional, token
from stillroom.cli.kept import database
from stillroom.cli.options import as_json, read_elevation_m
from stillroom.measures import FOOT_M
from stillroom.stock.commands import SayPutUp
from stillroom.stock.due import PACKS, whole_feet
from stillroom.stock.events import How
from stillroom.stock.put_up_said import acid_counted_on


@click.command(name="put-up")
@click.argument("lot")
@click.option("--process", type=MINUTES, help="Minutes that it had.")
@click.option("--canner", type=CANNER, help="Canner, with its gauge.")
@click.option("--gauge", default="", metavar="READING", help="11 psi, 15 lb weighted.")
@click.option("--pack", type=click.Choice(PACKS), help="How the jars were packed.")
@click.option("--elevation", metavar="HEIGHT", help="Where it was: 2150ft or 655m.")
@click.option("--jar", type=click.Choice(JARS), help="Size of its jars.")
@click.option(
    "--which", default="", metavar="NAME", help="Which product: crushed tomatoes."
)
@click.option("--bought", is_flag=True, help="Bought filled in a shop instead.")
@click.option("--dry", is_flag=True, help="Dry in its jars instead, in no liquid.")
@click.option("--who", default="", help="Who knows it.")
@database
@as_json
def put_up(
    lot: str,
    process: int | None,
    canner: str | None,
    gauge: str,
    pack: str | None,
    elevation: str | None,
    jar: str | None,
    which: str,
    bought: bool,
    dry: bool,
    who: str,
    db: str,
    json_: bool,
) -> None:
    """Say how LOT was put up, where it came in as it stands and nobody said so."""
    by_process = any((process, canner, gauge, pack, elevation, jar, which))
    if by_process + bought + dry > 1:
        raise click.UsageError("say one of them: a process, --bought or --dry")
    height_m = None if elevation is None else read_elevation_m(elevation)
    asked = SayPutUp(
        lot=lot,
        how=How.SHOP if bought else How.DRY if dry else How.PROCESS,
        who=optional(who, "--who"),
        minutes=process,
        canner=canner or "",
        gauge=optional(gauge, "--gauge"),
        pack=pack or "",
        elevation_ft=None if height_m is None else whole_feet(height_m / float(FOOT_M)),
        which=optional(which, "--which"),
        jar=jar or "",
        at=now(),
        token=token(),
    )
    book_said_later(lot, asked, db=db, json_=json_, caution=acid_counted_on)
