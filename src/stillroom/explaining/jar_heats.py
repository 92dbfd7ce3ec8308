"""How a jar's middle heats, and goes on rising after the heat is off."""

from __future__ import annotations

import numpy as np

from stillroom.book.processes import process_for
from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    KELVIN,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    both,
    estimated,
    fahrenheit,
    line,
)
from stillroom.refusal import Caution, Refusal
from stillroom.science import curves
from stillroom.science.jar import heating_rate_index, jar_in_water, lag_factor
from stillroom.science.lethality import ACID_FOOD, estimated_lethality, lethality_min

ASKS = ("product", "jar", "pack", "elevation", "pressure", "filled", "room")
NEVER_A_TIME = Caution(
    "this shows why a process is as long as it is. It is never a time: the time is the "
    "published one, from the full boil, whatever is drawn here",
    "how Stillroom explains",
)
ACID_ONLY = Caution(
    "lethality is stated for acid food alone; it says nothing about low-acid food, "
    "which "
    "needs pressure",
    "USDA Complete Guide, Guide 1",
)
COME_UP_MIN = 15.0
"""Of a full canner from 180 °F: inside the measured 4.3 to 21 min. [min]"""
DRAWN_FOR = "plum butter"
"""Where no product is named: a fruit butter conducts, as the model takes it."""


def explain(given: Given) -> Explanation | Refusal:
    """Draw the middle of a jar through its published process and the cooling after."""
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    size = given["jar"]
    product = given["product"] or DRAWN_FOR
    process = process_for(
        product,
        jar=size,
        elevation_ft=air.elevation_ft,
        pack=given["pack"] or None,
    )
    if isinstance(process, Refusal):
        return process
    start = min(float(given["filled"]), air.water_boils_k - 1.0)
    room = float(given["room"])
    if start <= room + 1.0:
        start = room + 1.0
    minutes = float(process.minutes)
    bath, middle = curves.middle_of_jar(
        size,
        start_k=start,
        boils_k=air.water_boils_k,
        come_up_s=60.0 * COME_UP_MIN,
        process_s=60.0 * minutes,
        room_k=room,
        cooling_s=5_400.0,
        points=151,
    )
    at_min = middle.x / 60.0
    over = COME_UP_MIN + minutes
    off = int(np.searchsorted(at_min, over))
    peak = int(np.argmax(middle.value))
    whole = estimated_lethality(middle.x, middle.value, ACID_FOOD)
    till_off = lethality_min(middle.x[: off + 1], middle.value[: off + 1], ACID_FOOD)
    after = 1.0 - float(till_off) / whole.value
    jar = jar_in_water(size)
    rose = float(middle.value[peak] - middle.value[off])
    later = float(at_min[peak] - over)
    return Explanation(
        topic="jar",
        title="How the middle of a jar heats",
        sentence=f"When the {minutes:g} published minutes for {process.product} in "
        f"{size}s are over, the middle has only {both(float(middle.value[off]), 0)}, "
        "and "
        f"it goes on rising for {later:.0f} min after.",
        more=(
            "Food that does not flow takes up heat through itself. The bath boils long "
            "before the middle is hot: that is why the clock starts at the full boil, "
            "why jars go in hot, and why a quart takes longer than a pint.",
            f"Much of what heat does to the middle, about {100 * after:.0f} % here, is "
            "done after the fire is off, on the towel. A jar in a draught or in cold "
            "water is another process.",
            "Thin food, syrup and fruit in juice stir themselves and heat several "
            "times "
            "faster; for those only a probe in the jar tells (see the log).",
        ),
        figures=(
            Figure(
                label=f"Published process, {process.band_ft}", value=minutes, unit="min"
            ),
            Figure(
                label="Middle when the process is over",
                value=float(middle.value[off]),
                unit=KELVIN,
                low=float(middle.low[off]),
                high=float(middle.high[off]),
            ),
            Figure(
                label=f"Hottest, {at_min[peak]:.0f} min after it went in",
                value=float(middle.value[peak]),
                unit=KELVIN,
                low=float(middle.low[peak]),
                high=float(middle.high[peak]),
                note=f"{rose * 1.8:.0f} °F more than at the end of the process",
            ),
            estimated("Heating-rate index", heating_rate_index(jar), "min"),
            estimated("Lag factor", lag_factor(jar)),
            estimated("Lethality at the middle, minutes at 200 °F", whole, "min"),
        ),
        picture=Picture(
            title=f"Bath and middle of a {size} jar",
            desc=f"The bath comes to the boil in {COME_UP_MIN:g} min, holds it for the "
            f"published {minutes:g} min and 5 min of rest, then the jar stands in air. "
            "The middle lags far behind, is at "
            f"{fahrenheit([middle.value[off]])[0]:.0f} °F when the process is over, "
            "and "
            f"peaks at {fahrenheit([middle.value[peak]])[0]:.0f} °F "
            f"{later:.0f} min later.",
            x_label="minutes since the jars went in",
            y_label="°F",
            lines=(
                line("bath, then air at the jar", bath.x / 60.0, fahrenheit(bath.y)),
                line(
                    "middle of the jar, an estimate",
                    at_min,
                    fahrenheit(middle.value),
                    fahrenheit(middle.low),
                    fahrenheit(middle.high),
                ),
            ),
            marks=(
                Mark(
                    text="full boil: the clock starts",
                    at=COME_UP_MIN,
                    upright=True,
                    published=False,
                ),
                Mark(text=f"published {minutes:g} min are over", at=over, upright=True),
            ),
        ),
        table=Table(
            caption="Every ten minutes",
            heads=("since it went in", "bath or air", "middle of the jar", "spread"),
            rows=tuple(
                (
                    f"{minute:.0f} min",
                    both(float(np.interp(minute, at_min, bath.y)), 0),
                    both(float(np.interp(minute, at_min, middle.value)), 0),
                    f"{fahrenheit([np.interp(minute, at_min, middle.low)])[0]:.0f} to "
                    f"{fahrenheit([np.interp(minute, at_min, middle.high)])[0]:.0f} °F",
                )
                for minute in np.arange(0.0, at_min[-1], 10.0)
            ),
        ),
        cautions=(NEVER_A_TIME, ACID_ONLY),
        source=f"process: {process.source}; curve: {middle.source}; {whole.source}; "
        "cooling in air gave 48 to 95 % of the lethality of home-canned acid foods: "
        "Willmore et al. 2015",
        estimate=True,
    )
