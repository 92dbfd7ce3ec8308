"""What minutes of heat do to germs: D, z and F, told with numbers."""

from __future__ import annotations

import numpy as np

from stillroom.explaining.asking import Given
from stillroom.explaining.explanation import (
    CELSIUS,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    fahrenheit,
    line,
)
from stillroom.measures import both
from stillroom.refusal import Caution, Refusal
from stillroom.science.lethality import (
    ACID_FOOD,
    F0,
    decimal_reduction_s,
    equivalent_s,
    lethal_rate,
    survivors,
)

ASKS = ("dies_in", "at_heat", "z")
NO_TIME = Caution(
    "this tells what D, z and F in a table mean. No process time comes from it: those "
    "were measured in jars, and are published",
    "how Stillroom explains",
)
MILLION = 1e6


def explain(given: Given) -> Explanation | Refusal:
    """Say what a D value means, and what hotter and cooler minutes are worth."""
    d_s, at = 60.0 * given["dies_in"], float(given["at_heat"])
    other = {
        change: float(equivalent_s(d_s, at, at + change / 1.8, given["z"] / 1.8))
        for change in (-10.0, 10.0)
        if 273.15 <= at + change / 1.8 <= 433.15
    }
    left = [(k, float(survivors(MILLION, k * d_s, d_s))) for k in range(8)]
    return Explanation(
        topic="lethality",
        title="What minutes of heat do: D, z and F",
        sentence=f"With a D of {given['dies_in']:g} min at {both(at, 0)}, nine of ten "
        "die in that time, and nine of ten of the rest in the next: they grow few, "
        "never surely none.",
        more=_more(given["z"], at, other),
        figures=_figures(d_s, other, left[6][1]),
        picture=_picture(),
        table=Table(
            caption="How many of a million are left",
            heads=("after", "minutes", "left"),
            rows=tuple(
                (f"{k} D", f"{k * d_s / 60:.2g} min", f"{count:,.4g}")
                for k, count in left
            ),
        ),
        cautions=(NO_TIME,),
        source="general method: Bigelow 1920; reference temperatures from memory",
        estimate=True,
    )


def _more(z_f: float, at_k: float, other: dict[float, float]) -> tuple[str, ...]:
    """``other`` has the seconds that do the same, by how much hotter it is. [°F: s]"""
    elsewhere = (
        f"At {both(at_k + change / 1.8, 0)} the same takes {seconds / 60:.2g} min."
        for change, seconds in other.items()
    )
    return (
        f"z says how much hotter is ten times as fast: {z_f:g} °F here. "
        + " ".join(elsewhere),
        "F adds up the minutes of a whole heating and cooling, each weighed by its "
        f"temperature: {ACID_FOOD.name} for acid food, {F0.name} under pressure.",
        "Ten degrees count so much that the coldest spot of the jar alone matters, "
        "and that a thermometer a degree off spoils the sum.",
    )


def _figures(
    d_s: float, other: dict[float, float], after_six: float
) -> tuple[Figure, ...]:
    d_again = float(decimal_reduction_s(3.0 * d_s, MILLION, MILLION / 1000.0))
    return (
        Figure(
            label="D, as three such steps give it back", value=d_again / 60, unit="min"
        ),
        Figure(
            label="Left of a million after six D",
            value=after_six,
            unit="",
            note="after seven it is one in every tenth jar",
        ),
        *(
            Figure(label=f"The same at {change:+.0f} °F", value=s / 60, unit="min")
            for change, s in other.items()
        ),
        Figure(
            label="A minute at 212 °F in minutes at 200 °F, acid food",
            value=float(lethal_rate(373.15, ACID_FOOD)),
            unit="min",
        ),
        Figure(
            label="A minute at 212 °F in minutes at 250 °F, F0",
            value=float(lethal_rate(373.15, F0)),
            unit="min",
            note="why boiling water cannot keep low-acid food",
        ),
    )


def _picture() -> Picture:
    kelvin = np.linspace(343.15, 394.25, 60)
    rate = np.log10(lethal_rate(kelvin, ACID_FOOD))
    return Picture(
        title="What a minute is worth, by its temperature",
        desc="Each 16 °F (9 °C) more makes a minute worth ten times as much: a "
        "straight line where each step up the side is a tenfold. At 200 °F (93 °C) a "
        "minute is worth one, at 212 °F (100 °C) nearly six.",
        x_label="°F at the coldest spot",
        x_also=CELSIUS,
        y_label="tenfolds (0 is one minute at 200 °F)",
        lines=(line("worth of a minute, acid food", fahrenheit(kelvin), rate),),
        marks=(
            Mark(text="200 °F, where it is stated", at=200.0, upright=True),
            Mark(text="boil at the sea", at=212.0, upright=True, published=False),
        ),
    )
