"""Why a lid is drawn in, why headspace is left, and why a cold jar cracks."""

from __future__ import annotations

import numpy as np

from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    APART,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    apart,
    both,
    estimated,
    fahrenheit,
    line,
)
from stillroom.measures import INCH_OF_MERCURY_PA
from stillroom.refusal import Caution, Refusal
from stillroom.science import glass, headspace
from stillroom.science.why import the_jar

ASKS = (
    *("jar", "filled", "empty", "contents", "headspace", "room", "pectin"),
    *("elevation", "pressure"),
)
INHG_PA = float(INCH_OF_MERCURY_PA)
SHOCK = Caution(
    "glass this much colder or hotter than what it meets may crack: heat the jars, or "
    "let the filling wait; never a cold jar into boiling water",
    "42 K is the test level of new commercial jars, 40 K a common limit for their "
    "glass; "
    "the published bath temperatures hold whatever this says",
)
UPPER = Caution(
    "a strong vacuum is not a sound process: a lid can be drawn in over food that was "
    "never heated enough. The published process decides, not the seal",
    "USDA Complete Guide, Guide 1",
)


def explain(given: Given) -> Explanation | Refusal:
    """Say what heat and cold do to one filled jar and its lid."""
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    filled, room = float(given["filled"]), float(given["room"])
    filled = min(filled, air.water_boils_k - 0.5)
    contents, gap = given["contents"], given["headspace"]
    jar = the_jar(
        given["jar"],
        filled_k=filled,
        jar_k=given["empty"],
        pressure_pa=air.pressure_pa,
        room_k=room,
        degree_of_esterification=given["pectin"] / 100.0,
        contents_m3=contents,
        headspace_m3=gap,
    )
    closed_k = np.linspace(max(room + 5.0, 313.15), air.water_boils_k - 0.5, 40)
    vacuum = np.array(
        [_vacuum_pa(k, room, air.pressure_pa, contents, gap) for k in closed_k]
    )
    needed = contents * float(headspace.expansion(room, air.water_boils_k))
    wall = float(glass.wall_w_m2_k(glass.BOILING_WATER_W_M2_K))
    thick = float(glass.wall_w_m2_k(glass.BOILING_WATER_W_M2_K, 0.005))
    return Explanation(
        topic="seal",
        title="Why the lid is drawn in, and why headspace is left",
        sentence=f"Filled at {both(filled, 0)} and cooled to {both(room, 0)} the lid "
        "is "
        f"drawn in by up to {jar.vacuum_pa / INHG_PA:.0f} inHg; vented at the boil, by "
        "up "
        f"to {jar.vacuum_after_venting_pa / INHG_PA:.0f}.",
        more=(
            f"From the room to the boil the contents swell by {100 * jar.swells:.1f} "
            "%: "
            f"{1e6 * contents:.0f} mL need {1e6 * needed:.0f} mL, and this jar has "
            f"{1e6 * gap:.0f}. "
            + (
                "That is too little: it will push food past the lid."
                if needed > gap
                else "So it stays inside. The published headspace holds."
            ),
            "In the canner hot steam drives the air out past the lid. As the jar cools "
            "the steam turns to water, and the air outside presses the lid down. The "
            "hotter the headspace as the lid closes, the stronger.",
            f"Jar and filling are {apart(jar.shock_k)} apart; warnings begin at "
            f"{apart(glass.SHOCK_LIMIT_K)}. Thick glass lets heat through slower: 3 mm "
            f"pass {wall:.0f} W for a square metre and kelvin, 5 mm {thick:.0f}.",
        ),
        figures=(
            Figure(
                label="Vacuum if closed as filled",
                value=jar.vacuum_pa / 1000,
                unit="kPa",
                note="an upper figure: the lid gives a little",
            ),
            Figure(
                label="Vacuum if vented at the boil",
                value=jar.vacuum_after_venting_pa / 1000,
                unit="kPa",
                note="an upper figure",
            ),
            Figure(label="Contents swell", value=100 * jar.swells, unit="%"),
            Figure(
                label="Jar and filling apart",
                value=jar.shock_k,
                unit=APART,
                note="too far apart" if jar.shock_is_large else "near enough",
            ),
            estimated("Heating-rate index in the bath", jar.heating, "min"),
            estimated("Cooling-rate index in air", jar.cooling, "min"),
            estimated("Lag factor", jar.lag),
            estimated("A jelly is soft for", jar.soft_for, "min"),
        ),
        picture=Picture(
            title="Vacuum of the cold jar, by the heat at which its lid closed",
            desc="The vacuum climbs ever faster with the temperature of closing, "
            f"from {vacuum[0] / INHG_PA:.0f} inHg at "
            f"{fahrenheit([closed_k[0]])[0]:.0f} °F "
            f"to {vacuum[-1] / INHG_PA:.0f} inHg near the boil. It cannot be more than "
            f"the air outside, {air.pressure_pa / INHG_PA:.0f} inHg.",
            x_label="headspace as the lid closed, °F",
            y_label="vacuum, inHg",
            lines=(line("vacuum when cold", fahrenheit(closed_k), vacuum / INHG_PA),),
            marks=(
                Mark(
                    text="all the air there is",
                    at=air.pressure_pa / INHG_PA,
                    upright=False,
                    published=False,
                ),
                Mark(
                    text="filled at",
                    at=fahrenheit([filled])[0],
                    upright=True,
                    published=False,
                ),
            ),
        ),
        table=Table(
            caption="Vacuum by the temperature of closing",
            heads=("closed at", "vacuum", "the same"),
            rows=tuple(
                (both(float(k), 0), f"{p / INHG_PA:.1f} inHg", f"{p / 1000:.0f} kPa")
                for k, p in list(zip(closed_k, vacuum, strict=True))[::6]
            ),
        ),
        cautions=(*((SHOCK,) if jar.shock_is_large else ()), UPPER),
        source="ideal gas and saturated steam (IAPWS R7-97(2012)); water's density "
        f"(IAPWS-95); {jar.heating.source}; {jar.soft_for.source}",
        estimate=True,
    )


def _vacuum_pa(
    closed_k: float, room_k: float, air_pa: float, contents_m3: float, gap_m3: float
) -> float:
    cold = headspace.pressure_when_cold_pa(
        closed_k=float(closed_k),
        cold_k=room_k,
        air_pa=air_pa,
        contents_m3=contents_m3,
        headspace_m3=gap_m3,
    )
    return float(headspace.vacuum_pa(air_pa, cold))
