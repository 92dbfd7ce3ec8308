"""What the keeper's own thermometer shows, set right by ice and boiling water."""

from __future__ import annotations

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom import measures
from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    APART,
    CELSIUS,
    CELSIUS_APART,
    KELVIN,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    fahrenheit,
    line,
)
from stillroom.measures import apart, both
from stillroom.methods.thermometer import TwoPoints, calibrated
from stillroom.refusal import Refusal
from stillroom.science.thermometer import MOST_APART_K, Calibration

ASKS = ("probe_boils", "ice", "elevation", "pressure")
EVERY_F = (32.0, 100.0, 140.0, 180.0, 212.0, 220.0, 240.0)
MORE = (
    "Water at a full boil is one true point, crushed wet ice another; between "
    "the two a straight line sets every reading right. The first moves with "
    "elevation and weather, so read it on the day.",
    f"Where the two errors lie more than {apart(MOST_APART_K)} apart, it is no "
    "straight line, and the thermometer is not to be trusted.",
    "For a jelly the error does not matter as long as both readings, boil and "
    "stop, are its own.",
)


def explain(given: Given) -> Explanation | Refusal:
    """Say how far it is off, where to stop on it, and what it shows elsewhere."""
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    boils = air.water_boils_k
    read = float(given["probe_boils"]) if given.has("probe_boils") else boils
    points = calibrated(read, air, given["ice"] if given.has("ice") else None)
    if isinstance(points, Refusal):
        return points
    return Explanation(
        topic="thermometer",
        title="What your thermometer shows",
        sentence=f"Water boils at {both(boils)} here today, and yours reads "
        f"{_how_far_off(points.boil_off_k)} in it: stop a jelly without added pectin "
        f"at {both(points.stop_reading_k)} on it.",
        more=MORE,
        figures=_figures(points),
        picture=_picture(points.line, boils),
        table=Table(
            caption="What it shows",
            heads=("truly", "it shows"),
            rows=tuple(
                (f"{true:g} °F", both(_shown_k(points.line, true))) for true in EVERY_F
            ),
        ),
        cautions=air.cautions,
        source="straight line through ice and the boil of the day; "
        f"{points.source.text}",
        estimate=False,
    )


def _how_far_off(high_k: float) -> str:
    if abs(high_k) < 0.03:
        return "right"
    return f"{apart(abs(high_k))} {'high' if high_k > 0 else 'low'}"


def _shown_k(own: Calibration, true_f: float) -> float:
    return float(own.reading_k(measures.kelvin(true_f)))


def _off_in(what: str, high_k: float) -> Figure:
    """No "too high: -1.6": who reads it at the stove adds where she should take off."""
    way = "low" if high_k < 0 else "high"
    return Figure(label=f"Too {way} in {what}", value=abs(high_k), unit=APART)


def _figures(points: TwoPoints) -> tuple[Figure, ...]:
    in_ice = points.ice_off_k
    return (
        _off_in("boiling water", points.boil_off_k),
        *((_off_in("ice", in_ice),) if in_ice is not None else ()),
        Figure(
            label="Stop a jelly at, on it", value=points.stop_reading_k, unit=KELVIN
        ),
        Figure(
            label="Begin the sheet test at", value=points.sheet_test_from_k, unit=KELVIN
        ),
    )


def _picture(own: Calibration, boils_k: float) -> Picture:
    true: NDArray[float64] = np.linspace(273.15, 393.15, 61)
    off = np.asarray(own.reading_k(true)) - true
    return Picture(
        title="How far it is off, by temperature",
        desc=f"A straight line from {apart(off[0], signed=True)} at {both(true[0], 0)} "
        f"to {apart(off[-1], signed=True)} at {both(true[-1], 0)}; above nought it "
        "reads too high.",
        x_label="true temperature, °F",
        y_label="reads too high, °F",
        x_also=CELSIUS,
        y_also=CELSIUS_APART,
        lines=(line("error", fahrenheit(true), off * 1.8),),
        marks=(
            Mark(
                text="water boils here today",
                at=fahrenheit([boils_k])[0],
                upright=True,
                published=False,
            ),
            Mark(text="right", at=0.0, upright=False, published=False),
        ),
    )
