"""``stillroom thermometer``: set a thermometer right by ice and boiling water."""

from __future__ import annotations

import click

from stillroom import measures
from stillroom.cli.options import air_by_barometer, as_json, elevation, print_json, read
from stillroom.cli.paragraphs import columns, say
from stillroom.measures import both
from stillroom.methods.thermometer import TwoPoints, calibrated
from stillroom.methods.today import AirToday
from stillroom.refusal import granted

LADDER_F = (32.0, 140.0, 180.0, 212.0, 220.0, 240.0)
"""Temperatures that a keeper works at: what it shows there. [°F]"""


@click.command(name="thermometer")
@click.option(
    "--boil",
    metavar="READING",
    required=True,
    help="What it reads in water at a full boil here today: 208.5F or 98.1C.",
)
@click.option(
    "--ice", metavar="READING", help="What it reads in crushed wet ice: 32.5F or 0.3C."
)
@elevation
@click.option(
    "--pressure",
    metavar="READING",
    help="What a barometer in the kitchen reads: 27.6inHg or 935hPa.",
)
@as_json
def command(
    boil: str,
    ice: str | None,
    elevation: str | None,
    pressure: str | None,
    json_: bool,
) -> None:
    """Set a thermometer right by boiling water, and by ice."""
    air = air_by_barometer(elevation, pressure)
    reads = measures.read_temperature_k
    points = granted(
        calibrated(
            float(read("--boil", reads, boil)),
            air,
            None if ice is None else float(read("--ice", reads, ice)),
        )
    )
    if json_:
        print_json(
            {
                "boil_off_f": round(1.8 * points.boil_off_k, 2),
                "ice_off_f": (
                    None
                    if points.ice_off_k is None
                    else round(1.8 * points.ice_off_k, 2)
                ),
                "slope": round(points.line.slope, 6),
                "stop_at_f": round(measures.fahrenheit(points.stop_reading_k), 2),
                "stop_at_c": round(measures.celsius(points.stop_reading_k), 2),
                "sheet_test_from_f": round(
                    measures.fahrenheit(points.sheet_test_from_k), 1
                ),
                "shows": [
                    {"true_f": true, "reading_f": round(_shows_f(points, true), 2)}
                    for true in LADDER_F
                ],
                "source": points.source.text,
            }
        )
    else:
        _print(points, air)


def _shows_f(points: TwoPoints, true_f: float) -> float:
    reading = points.line.reading_k(measures.kelvin(true_f))
    return measures.fahrenheit(float(reading))


def _off(difference_k: float) -> str:
    fahrenheit = 1.8 * difference_k
    if abs(fahrenheit) < 0.05:
        return "right"
    return f"{abs(fahrenheit):.1f} °F {'high' if fahrenheit > 0 else 'low'}"


def _print(points: TwoPoints, air: AirToday) -> None:
    ice = "" if points.ice_off_k is None else f", {_off(points.ice_off_k)} in ice"
    say(f"It reads {_off(points.boil_off_k)} in boiling water{ice}.")
    say(
        f"Stop a jelly without added pectin at {both(points.stop_reading_k)} on it; "
        f"begin the sheet test at {both(points.sheet_test_from_k, 0)}."
    )
    if points.ice_off_k is None:
        say("Only the boil was read: the same error is taken everywhere. Add --ice.")
    columns(
        [("truly", "it shows")]
        + [(f"{true:g} °F", f"{_shows_f(points, true):.1f} °F") for true in LADDER_F]
    )
    for caution in air.cautions:
        say(str(caution))
    say(
        f"From: a straight line through ice and water that boils at "
        f"{both(air.water_boils_k)} here today; {points.source.text}."
    )
