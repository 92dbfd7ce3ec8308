"""Why 8 °F above boiling water and "65 % solids" are not quite the same thing."""

from __future__ import annotations

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    APART,
    CELSIUS_APART,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    estimated,
    line,
)
from stillroom.measures import apart
from stillroom.methods.today import AirToday
from stillroom.refusal import Refusal
from stillroom.science import boiling, gel, sugars
from stillroom.science.why import (
    BEST_SOLIDS,
    INVERTED_BY_THE_RULE,
    EightDegrees,
    the_eight_degrees,
)

ASKS = ("elevation", "pressure", "ph", "boil")


def explain(given: Given) -> Explanation | Refusal:
    """Set the kitchen's rise beside that of pure sugar, and say what lies between."""
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    why = the_eight_degrees(air.pressure_pa, ph=given["ph"], boil_s=60 * given["boil"])
    split = why.inverted
    return Explanation(
        topic="jelly-rise",
        title="Why eight degrees, and why not 65 %",
        sentence=f"Pure sugar at 65 % boils {apart(why.pure_rise_k)} above water, not "
        f"{apart(gel.RISE_K)}: the kitchen's 8 °F holds for a real, sour jelly, whose "
        "boil splits part of the sugar.",
        more=(
            "Acid and heat split sugar into two smaller ones (inversion), and more, "
            "smaller pieces lift the boil further. With 27 % of it split, 65 % solids "
            "and 8 °F are one and the same; pure sugar would have to come to "
            f"{100 * why.pure_solids:.0f} %.",
            f"Your boil of {given['boil']:g} min at pH {given['ph']:g} splits about "
            f"{100 * split.value:.0f} % ({100 * split.low:.0f} to "
            f"{100 * split.high:.0f} %).",
            f"So keep to {apart(gel.RISE_K)} on your own thermometer and the sheet "
            "test; what percentage that is, a thermometer tells to about two percent "
            "either way at best.",
        ),
        figures=_figures(why),
        picture=_picture(why, air.pressure_pa),
        table=_table(air),
        source=f"{boiling.SOURCE}; {split.source}; 8 °F: USDA Complete Guide, Guide 7; "
        "65 %: 21 CFR 150.140",
        estimate=True,
    )


def _figures(why: EightDegrees) -> tuple[Figure, ...]:
    return (
        Figure(label="The kitchen's rise", value=gel.RISE_K, unit=APART),
        Figure(label="Pure sugar at 65 %", value=why.pure_rise_k, unit=APART),
        Figure(label="65 % with 27 % inverted", value=why.inverted_rise_k, unit=APART),
        Figure(
            label="Pure sugar that boils 8 °F above",
            value=100 * why.pure_solids,
            unit="%",
        ),
        estimated(
            "Solids of a real jelly there, thermometer and all",
            why.solids,
            "%",
            scale=100,
        ),
        estimated("Sugar that this boil splits", why.inverted, "%", scale=100),
        Figure(label="Water activity of the jar", value=why.water_activity, unit=""),
    )


def _picture(why: EightDegrees, pressure_pa: float) -> Picture:
    share: NDArray[float64] = np.linspace(0.40, 0.75, 36)
    air_pa = np.full_like(share, pressure_pa)
    split = np.full_like(share, INVERTED_BY_THE_RULE)
    pure = boiling.boiling_point_rise_k(share, air_pa, 0.0 * split)
    real = boiling.boiling_point_rise_k(share, air_pa, split)
    at_27 = boiling.solids_from_rise(gel.RISE_K, pressure_pa, INVERTED_BY_THE_RULE)
    return Picture(
        title="How far above water a syrup boils, by its solids",
        desc="Both lines climb ever steeper. Pure sugar reaches "
        f"{apart(why.pure_rise_k)} at 65 % and the kitchen's {apart(gel.RISE_K)} at "
        f"{100 * why.pure_solids:.0f} %; with 27 % of the sugar split, it gets "
        f"there at {100 * float(at_27):.0f} %.",
        x_label="soluble solids, %",
        y_label="°F above boiling water",
        y_also=CELSIUS_APART,
        lines=(
            line("27 % of the sugar split", 100 * share, real * 1.8),
            line("pure sugar", 100 * share, pure * 1.8),
        ),
        marks=(
            Mark(text="8 °F, the published rise", at=8.0, upright=False),
            Mark(text="65 %, standard of a jelly", at=100 * BEST_SOLIDS, upright=True),
        ),
    )


def _table(air: AirToday) -> Table:
    boils = air.water_boils_k + gel.RISE_K

    def rise(solids: float, inverted: float) -> str:
        found = boiling.boiling_point_rise_k(solids, air.pressure_pa, inverted)
        return apart(float(found))

    def split_a_minute(ph: float) -> str:
        rate = 60.0 * float(sugars.inversion_rate_per_s(ph, boils))
        return f"{100 * rate:.1f} % a minute"

    return Table(
        caption="Rise by solids",
        heads=("solids", "pure sugar", "27 % split"),
        rows=(
            *(
                (
                    f"{100 * solids:.0f} %",
                    rise(solids, 0.0),
                    rise(solids, INVERTED_BY_THE_RULE),
                )
                for solids in (0.40, 0.50, 0.55, 0.60, 0.65, 0.68, 0.70)
            ),
            *(
                (
                    f"split at the jellying point, pH {ph:g}",
                    split_a_minute(ph),
                    "an estimate",
                )
                for ph in (2.9, 3.1, 3.3, 3.5)
            ),
        ),
    )
