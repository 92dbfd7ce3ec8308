"""``stillroom jelly-point``: where water boils and jelly sets here today."""

from __future__ import annotations

import click

from stillroom import measures
from stillroom.cli.options import air_by_barometer, as_json, elevation, print_json, read
from stillroom.cli.paragraphs import say
from stillroom.measures import both
from stillroom.methods.thermometer import TwoPoints, calibrated
from stillroom.methods.today import AirToday
from stillroom.refusal import granted

SOURCE = (
    "water: IAPWS R7-97; air: US Standard Atmosphere 1976 or the barometer given; "
    "8 °F above boiling water: USDA Complete Guide, Guide 7"
)


@click.command(name="jelly-point")
@elevation
@click.option(
    "--pressure",
    metavar="READING",
    help="What a barometer in the kitchen reads: 27.6inHg or 935hPa.",
)
@click.option(
    "--thermometer",
    metavar="READING",
    help="What yours reads in boiling water here today: 208.5F or 98.1C.",
)
@as_json
def command(
    elevation: str | None, pressure: str | None, thermometer: str | None, json_: bool
) -> None:
    """Print where water boils and jelly sets here."""
    air = air_by_barometer(elevation, pressure)
    own = None
    if thermometer is not None:
        reading = read("--thermometer", measures.read_temperature_k, thermometer)
        own = granted(calibrated(float(reading), air))
    if json_:
        print_json({**air_as_json(air), **own_as_json(own, air), "source": SOURCE})
    else:
        _print(air, own)


def air_as_json(air: AirToday) -> dict[str, float]:
    """Return the contract of ``jelly-point --json`` but for the source."""
    boils, sets = air.water_boils_k, air.jelly_point_k
    return {
        "pressure_pa": round(air.pressure_pa, 1),
        "water_boils_c": round(measures.celsius(boils), 2),
        "water_boils_f": round(measures.fahrenheit(boils), 2),
        "jelly_point_c": round(measures.celsius(sets), 2),
        "jelly_point_f": round(measures.fahrenheit(sets), 2),
    }


def own_as_json(own: TwoPoints | None, air: AirToday) -> dict[str, object]:
    """Return what her own thermometer adds to the contract; nothing without one."""
    if own is None:
        return {}
    return {
        "on_this_thermometer": {
            "boils_f": round(
                measures.fahrenheit(air.water_boils_k + own.boil_off_k), 2
            ),
            "stop_at_f": round(measures.fahrenheit(own.stop_reading_k), 2),
            "stop_at_c": round(measures.celsius(own.stop_reading_k), 2),
            "sheet_test_from_f": round(measures.fahrenheit(own.sheet_test_from_k), 1),
            "reads_high_f": round(own.boil_off_k * 1.8, 2),
        }
    }


def _print(air: AirToday, own: TwoPoints | None) -> None:
    if own is not None:
        off = own.boil_off_k * 1.8
        say(
            f"Stop at {both(own.stop_reading_k)} on this thermometer: your boil and "
            f"8 °F. Begin the sheet test at {both(own.sheet_test_from_k, 0)}."
        )
        say(
            f"Water here boils near {both(air.water_boils_k)}, so this one reads "
            f"about {abs(off):.1f} °F {'high' if off > 0 else 'low'}; it does not "
            "matter for the jelly, since both readings are its own."
        )
    else:
        say(
            f"Water boils at {both(air.water_boils_k)} at "
            f"{air.pressure_pa / 100:.0f} hPa."
        )
        say(f"Jelly without added pectin is done at {both(air.jelly_point_k)}.")
        say(
            "Weather moves both by a degree or two. What does yours read in boiling "
            "water today? Give it before the sugar goes in: --thermometer 208.5F"
        )
    say(f"From: {SOURCE}.")
