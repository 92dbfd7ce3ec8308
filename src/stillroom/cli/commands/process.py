"""``stillroom process``: the published process of a product in a jar, here."""

from __future__ import annotations

import click

from stillroom.book.canner_rules import METHODS
from stillroom.book.folk import folk_beside
from stillroom.book.jars import clean_jars_words
from stillroom.book.processes import LONGEST_MARGIN_MIN, Process, process_for
from stillroom.cli.options import (
    WholeNumber,
    air_of,
    as_json,
    elevation,
    print_json,
)
from stillroom.cli.paragraphs import bullet, say
from stillroom.measures import depth
from stillroom.refusal import granted


@click.command(name="process")
@click.argument("product")
@click.option("--jar", required=True, help="half-pint, pint, quart or half-gallon.")
@elevation
@click.option("--pack", type=click.Choice(["hot", "raw"]), help="How jars are packed.")
@click.option(
    "--canner",
    metavar="|".join(METHODS),
    default="boiling-water",
    show_default=True,
    help="Or as you call it: water bath, dial, weighted.",
)
@click.option(
    "--margin",
    type=WholeNumber(0, LONGEST_MARGIN_MIN),
    default=0,
    help="Minutes of your own on top of the published ones.",
)
@click.option("--psi", type=float, help="One of the printed gauge pressures.")
@click.option(
    "--folk-rule",
    is_flag=True,
    help='Show "add minutes for each 1,000 ft" beside it, and why it is not used.',
)
@as_json
def command(
    product: str,
    jar: str,
    elevation: str | None,
    pack: str | None,
    canner: str,
    margin: int,
    psi: float | None,
    folk_rule: bool,
    json_: bool,
) -> None:
    """Print the published process of a product in a jar, here."""
    air = air_of(elevation)
    process = granted(
        process_for(
            product,
            jar=jar,
            elevation_ft=air.elevation_ft,
            pack=pack,
            canner=canner,
            margin_min=margin,
            pressure_psi=psi,
        )
    )
    beside = granted(folk_beside(process, air.elevation_ft)) if folk_rule else None
    if json_:
        body = process_as_json(process)
        if beside is not None:
            body["folk_rule"] = {
                "would_say_min": beside.folk_min,
                "why_not": beside.words,
            }
        print_json(body)
    else:
        _print(process)
        if beside is not None:
            say(f"Not used: {beside.words}")


def process_as_json(process: Process) -> dict[str, object]:
    """Return the contract of ``process --json``."""
    return {
        "product": process.product,
        "method": process.method,
        "jar": process.jar,
        "pack": process.pack,
        "minutes": process.minutes,
        "keeper_margin_min": process.margin_min,
        "pressure_psi": process.pressure_psi,
        "elevation_band_ft": [process.elevation_low_ft, process.elevation_high_ft],
        "headspace_in": process.headspace_in,
        "acid": process.acid
        and [
            {"acid": dose.acid, "quantity": str(dose.quantity), "unit": dose.unit}
            for dose in process.acid.in_jar(process.jar)
        ],
        "source": process.source,
        "how_known": process.how_known,
        "cautions": [
            {"text": caution.text, "source": caution.source}
            for caution in process.cautions
        ],
    }


def band(process: Process) -> str:
    """Elevation band in words."""
    if process.elevation_high_ft is None:
        return f"above {process.elevation_low_ft - 1:,.0f} ft"
    return f"{process.elevation_low_ft:,.0f} to {process.elevation_high_ft:,.0f} ft"


def _print(process: Process) -> None:
    pressure = f" at {process.pressure_psi:g} psi" if process.pressure_psi else ""
    say(f"{process.product}, {process.jar} jars, {process.pack} pack")
    say(f"{process.minutes} min{pressure}, {process.method} ({band(process)})")
    if process.margin_min:
        say(f"and {process.margin_min} min of your own: {process.total_min} min in all")
    say(f"Headspace {depth(process.headspace_in)}")
    if clean_jars_words(process.minutes):
        say(clean_jars_words(process.minutes))
    for caution in process.cautions:
        bullet(f"{caution.text} ({caution.source})")
    say(f"From: {process.source} ({process.how_known.replace('_', ' ')})")
