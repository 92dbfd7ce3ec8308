"""How a jar's middle heats, and goes on rising after the heat is off."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.book.process_table import Process
from stillroom.book.processes import process_for
from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    CELSIUS,
    KELVIN,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    estimated,
    fahrenheit,
    line,
)
from stillroom.measures import apart, both
from stillroom.refusal import Caution, Refusal
from stillroom.science import curves
from stillroom.science.curves import Curve
from stillroom.science.estimate import Estimate, EstimatedCurve
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
    "which needs pressure",
    "USDA Complete Guide, Guide 1",
)
COME_UP_MIN = 15.0
"""Of a full canner from 180 °F: inside the measured 4.3 to 21 min. [min]"""
DRAWN_FOR = "plum butter"
"""Where no product is named: a fruit butter conducts, as the model takes it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Jar:
    """One jar through its process and the cooling after."""

    size: str
    process: Process
    bath: Curve
    middle: EstimatedCurve
    lethality: Estimate

    @property
    def at_min(self) -> NDArray[float64]:
        """Since the jar went in. [min]"""
        return self.middle.x / 60.0

    @property
    def over_min(self) -> float:
        """When the process is over. [min]"""
        return COME_UP_MIN + float(self.process.minutes)

    @property
    def off(self) -> int:
        """Place in the curve at which the process is over."""
        return int(np.searchsorted(self.at_min, self.over_min))

    @property
    def peak(self) -> int:
        """Place in the curve at which the middle is hottest."""
        return int(np.argmax(self.middle.value))

    @property
    def later_min(self) -> float:
        """How long after the process the middle still rises. [min]"""
        return float(self.at_min[self.peak] - self.over_min)

    @property
    def share_after(self) -> float:
        """Share of the lethality that comes after the process. [1]"""
        upto = self.off + 1
        till_off = lethality_min(
            self.middle.x[:upto], self.middle.value[:upto], ACID_FOOD
        )
        return 1.0 - float(till_off) / self.lethality.value


def explain(given: Given) -> Explanation | Refusal:
    """Draw the middle of a jar through its published process and the cooling after."""
    seen = _looked_at(given)
    if isinstance(seen, Refusal):
        return seen
    process = seen.process
    return Explanation(
        topic="jar",
        title="How the middle of a jar heats",
        sentence=f"When the {float(process.minutes):g} published minutes for "
        f"{process.product} in {seen.size}s are over, the middle has only "
        f"{both(float(seen.middle.value[seen.off]), 0)}, and it goes on rising for "
        f"{seen.later_min:.0f} min after.",
        more=_more(seen),
        figures=_figures(seen),
        picture=_picture(seen),
        table=_table(seen),
        cautions=(NEVER_A_TIME, ACID_ONLY),
        source=f"process: {process.source}; curve: {seen.middle.source}; "
        f"{seen.lethality.source}; cooling in air gave 48 to 95 % of the lethality of "
        "home-canned acid foods: Willmore et al. 2015",
        estimate=True,
    )


def _looked_at(given: Given) -> _Jar | Refusal:
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    size = given["jar"]
    process = process_for(
        given["product"] or DRAWN_FOR,
        jar=size,
        elevation_ft=air.elevation_ft,
        pack=given["pack"] or None,
    )
    if isinstance(process, Refusal):
        return process
    room = float(given["room"])
    start = min(float(given["filled"]), air.water_boils_k - 1.0)
    bath, middle = curves.middle_of_jar(
        size,
        start_k=max(start, room + 1.0),
        boils_k=air.water_boils_k,
        come_up_s=60.0 * COME_UP_MIN,
        process_s=60.0 * float(process.minutes),
        room_k=room,
        cooling_s=5_400.0,
        points=151,
    )
    return _Jar(
        size=size,
        process=process,
        bath=bath,
        middle=middle,
        lethality=estimated_lethality(middle.x, middle.value, ACID_FOOD),
    )


def _more(seen: _Jar) -> tuple[str, ...]:
    return (
        "Food that does not flow takes up heat through itself. The bath boils long "
        "before the middle is hot: that is why the clock starts at the full boil, why "
        "jars go in hot, and why a quart takes longer than a pint.",
        f"Much of what heat does to the middle, about {100 * seen.share_after:.0f} % "
        "here, is done after the fire is off, on the towel. A jar in a draught or in "
        "cold water is another process.",
        "Thin food, syrup and fruit in juice stir themselves and heat several times "
        "faster; for those only a probe in the jar tells (see the log).",
    )


def _figures(seen: _Jar) -> tuple[Figure, ...]:
    jar = jar_in_water(seen.size)
    hottest = f"Hottest, {seen.at_min[seen.peak]:.0f} min after it went in"
    rose_k = float(seen.middle.value[seen.peak] - seen.middle.value[seen.off])
    return (
        Figure(
            label=f"Published process, {seen.process.band_ft}",
            value=float(seen.process.minutes),
            unit="min",
        ),
        _of_the_middle(seen, seen.off, "Middle when the process is over"),
        _of_the_middle(
            seen,
            seen.peak,
            hottest,
            note=f"{apart(rose_k)} more than at the end of the process",
        ),
        estimated("Heating-rate index", heating_rate_index(jar), "min"),
        estimated("Lag factor", lag_factor(jar)),
        estimated("Lethality at the middle, minutes at 200 °F", seen.lethality, "min"),
    )


def _of_the_middle(seen: _Jar, place: int, label: str, *, note: str = "") -> Figure:
    """Return what the middle has at a place of its curve."""
    return Figure(
        label=label,
        value=float(seen.middle.value[place]),
        unit=KELVIN,
        low=float(seen.middle.low[place]),
        high=float(seen.middle.high[place]),
        note=note,
    )


def _picture(seen: _Jar) -> Picture:
    bath, middle, minutes = seen.bath, seen.middle, float(seen.process.minutes)
    when_over, hottest = middle.value[seen.off], middle.value[seen.peak]
    return Picture(
        title=f"Bath and middle of a {seen.size} jar",
        desc=f"The bath comes to the boil in {COME_UP_MIN:g} min, holds it for the "
        f"published {minutes:g} min and 5 min of rest, then the jar stands in air. The "
        f"middle lags far behind, is at {both(when_over, 0)} when the process is "
        f"over, and peaks at {both(hottest, 0)} {seen.later_min:.0f} min later.",
        x_label="minutes since the jars went in",
        y_label="°F",
        y_also=CELSIUS,
        lines=(
            line("bath, then air at the jar", bath.x / 60.0, fahrenheit(bath.y)),
            line(
                "middle of the jar, an estimate",
                seen.at_min,
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
            Mark(
                text=f"published {minutes:g} min are over",
                at=seen.over_min,
                upright=True,
            ),
        ),
    )


def _table(seen: _Jar) -> Table:
    at_min, middle = seen.at_min, seen.middle

    def at(minute: float, curve: NDArray[float64]) -> float:
        return float(np.interp(minute, at_min, curve))

    def spread(minute: float) -> str:
        low, high = at(minute, middle.low), at(minute, middle.high)
        return f"{both(low, 0)} to {both(high, 0)}"

    return Table(
        caption="Every ten minutes",
        heads=("since it went in", "bath or air", "middle of the jar", "spread"),
        rows=tuple(
            (
                f"{minute:.0f} min",
                both(at(minute, seen.bath.y), 0),
                both(at(minute, middle.value), 0),
                spread(minute),
            )
            for minute in np.arange(0.0, at_min[-1], 10.0)
        ),
    )
