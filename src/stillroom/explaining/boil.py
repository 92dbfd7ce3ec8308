"""What elevation and barometer do to the boil, and to the jellying point."""

from __future__ import annotations

from stillroom import measures
from stillroom.book.jelly_point import boiling_points, jelly_points
from stillroom.explaining.asking import FIELDS, Given
from stillroom.explaining.explanation import (
    CELSIUS,
    KELVIN,
    METRES,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    fahrenheit,
    line,
)
from stillroom.measures import FOOT_M, apart, both
from stillroom.methods.today import AirToday, air_today
from stillroom.refusal import Fault, Refusal, Unreadable
from stillroom.science import air, curves, gel, water

ASKS = ("elevation", "pressure", "forecast", "boils")
FOLK_FT_PER_F = 500.0
"""The kitchen's saying: a degree Fahrenheit less for every 500 ft."""


def air_given(given: Given) -> AirToday | Refusal:
    """Air of the kitchen from the best evidence that was given."""
    elevation = float(given["elevation"])
    if not any(given.has(name) for name in ("pressure", "forecast", "boils")):
        return air_today(elevation_m=elevation)
    told = [name for name in ("pressure", "forecast", "boils") if given.has(name)]
    if len(told) > 1:
        raise Unreadable(
            Fault(
                "a barometer, a forecast and boiling water say one thing in three "
                "ways; "
                "give the one that you trust most",
                key=FIELDS[told[1]].option,
            )
        )
    pressure = air.kitchen_pressure_pa(
        barometer_pa=given["pressure"] if given.has("pressure") else None,
        altimeter_setting_pa=given["forecast"] if given.has("forecast") else None,
        boils_reading_k=given["boils"] if given.has("boils") else None,
        elevation_m=elevation,
    )
    if not given.has("elevation") and not given.has("forecast"):
        return air_today(pressure_pa=pressure)
    return air_today(elevation_m=elevation, pressure_pa=pressure)


def explain(given: Given) -> Explanation | Refusal:
    """Say where water boils here, where jelly sets, and what the sayings make of it."""
    today = air_given(given)
    if isinstance(today, Refusal):
        return today
    feet = (
        float(given["elevation"]) / float(FOOT_M)
        if given.has("elevation") or not today.cautions
        else today.elevation_ft
    )
    boil, jelly = curves.boil_by_elevation(highest_m=3048.0, points=51)
    return Explanation(
        topic="boil",
        title="What the height and the barometer do to the boil",
        sentence=f"Water boils at {both(today.water_boils_k)} here, so a jelly without "
        f"added pectin is done at {both(today.jelly_point_k)}.",
        more=_more(today),
        figures=_figures(today, feet),
        picture=_picture(boil, jelly, feet),
        table=Table(
            caption="Computed on a standard day, and what is printed",
            heads=(
                "elevation",
                *("water boils", "water, printed"),
                *("jelly is done", "jelly, printed"),
            ),
            rows=tuple(_row(feet) for feet in range(0, 10_001, 1000)),
        ),
        cautions=today.cautions,
        source=f"{boil.source}; air: {today.basis}; 8 °F: USDA Complete Guide, Guide 7"
        f"; boiling points as printed: {boiling_points()[1000].source}",
        estimate=False,
    )


def _more(today: AirToday) -> tuple[str, ...]:
    bare_f = measures.fahrenheit(today.water_boils_k)
    swing = [
        measures.fahrenheit(float(water.boiling_point_k(today.pressure_pa + change)))
        - bare_f
        for change in (-2_500.0, 2_500.0)
    ]
    return (
        "The higher the kitchen, the less air weighs on the pot, and the sooner "
        "water boils; a boil there is less hot, however hard it rolls. That is why "
        "published minutes grow with elevation.",
        f"Weather moves it by {swing[0]:.1f} to {swing[1]:+.1f} °F "
        f"({swing[0] / 1.8:.1f} to {swing[1] / 1.8:+.1f} °C) for 25 hPa: read your own "
        f"thermometer in boiling water on the day, and add {apart(gel.RISE_K)}.",
        'The saying "1 °F less for every 500 ft" is near: the truth is about 0.9 °F.',
    )


def _figures(today: AirToday, feet: float) -> tuple[Figure, ...]:
    boils = today.water_boils_k
    found = (
        Figure(label="Water boils at", value=boils, unit=KELVIN),
        Figure(
            label="Jellying point, 8 °F above", value=today.jelly_point_k, unit=KELVIN
        ),
        Figure(label="Air", value=today.pressure_pa / 1000.0, unit="kPa"),
    )
    if abs(feet) <= 1.0:
        return found
    folk_f = 212.0 - feet / FOLK_FT_PER_F
    saying = Figure(
        label='"1 °F less for every 500 ft" says',
        value=measures.kelvin(folk_f),
        unit=KELVIN,
        note=f"{abs(folk_f - measures.fahrenheit(boils)):.1f} °F off",
    )
    return (*found, saying)


def _picture(boil: curves.Curve, jelly: curves.Curve, feet: float) -> Picture:
    at_ft = [float(metres) / float(FOOT_M) for metres in boil.x]
    printed = tuple(jelly_points().values())
    return Picture(
        title="Boiling point and jellying point by elevation",
        desc=f"Both fall with elevation, side by side and {apart(gel.RISE_K)} apart, "
        f"from {both(boil.y[0], 0)} and {both(jelly.y[0], 0)} at the sea to "
        f"{both(boil.y[-1], 0)} and {both(jelly.y[-1], 0)} at "
        f"{measures.height(at_ft[-1])}. This kitchen is at {measures.height(feet)}.",
        x_label="elevation, ft",
        y_label="°F",
        x_also=METRES,
        y_also=CELSIUS,
        lines=(
            line("jelly is done", at_ft, fahrenheit(jelly.y)),
            line("water boils", at_ft, fahrenheit(boil.y)),
            line(
                "printed jellying points",
                [p.elevation_ft for p in printed],
                [p.jellying_point_f for p in printed],
            ),
        ),
        marks=(
            Mark(text="this kitchen", at=max(0.0, feet), upright=True, published=False),
        ),
    )


def _row(feet: int) -> tuple[str, ...]:
    boils = float(water.boiling_point_k(air.pressure_pa(feet * float(FOOT_M))))
    water_row, jelly_row = boiling_points().get(feet), jelly_points().get(feet)
    return (
        f"{feet:,} ft",
        both(boils),
        _printed(water_row.water_boils_f if water_row else None),
        both(float(gel.jelly_point_k(boils))),
        _printed(jelly_row.jellying_point_f if jelly_row else None),
    )


def _printed(degrees_f: float | None) -> str:
    return "–" if degrees_f is None else f"{degrees_f:g} °F"
