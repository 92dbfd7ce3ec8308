"""Why a lid is drawn in, why headspace is left, and why a cold jar cracks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.explaining.asking import Given
from stillroom.explaining.boil import air_given
from stillroom.explaining.explanation import (
    APART,
    CELSIUS,
    KILOPASCALS,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    estimated,
    fahrenheit,
    line,
)
from stillroom.measures import INCH_OF_MERCURY_PA, apart, both
from stillroom.methods.today import AirToday
from stillroom.refusal import Caution, Refusal
from stillroom.science import glass, headspace
from stillroom.science.why import JarFigures, the_jar

ASKS = (
    *("jar", "filled", "empty", "contents", "headspace", "room", "pectin"),
    *("elevation", "pressure"),
)
INHG_PA = float(INCH_OF_MERCURY_PA)
SHOCK = Caution(
    "glass this much colder or hotter than what it meets may crack: heat the jars, or "
    "let the filling wait; never a cold jar into boiling water",
    "42 K is the test level of new commercial jars, 40 K a common limit for their "
    "glass; the published bath temperatures hold whatever this says",
)
UPPER = Caution(
    "a strong vacuum is not a sound process: a lid can be drawn in over food that was "
    "never heated enough. The published process decides, not the seal",
    "USDA Complete Guide, Guide 1",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Filled:
    """One filled jar in the air of this kitchen."""

    jar: JarFigures
    filled_k: float
    room_k: float
    air: AirToday
    contents_m3: float
    gap_m3: float

    def vacuum_pa(self, closed_k: float) -> float:
        """Vacuum of the cold jar, if its lid closed at a temperature. [Pa]"""
        cold = headspace.pressure_when_cold_pa(
            closed_k=float(closed_k),
            cold_k=self.room_k,
            air_pa=self.air.pressure_pa,
            contents_m3=self.contents_m3,
            headspace_m3=self.gap_m3,
        )
        return float(headspace.vacuum_pa(self.air.pressure_pa, cold))

    def vacuums(self) -> tuple[NDArray[float64], NDArray[float64]]:
        """Temperatures of closing up to the boil, and the vacuum of each. [K], [Pa]"""
        closed_k = np.linspace(
            max(self.room_k + 5.0, 313.15), self.air.water_boils_k - 0.5, 40
        )
        return closed_k, np.array([self.vacuum_pa(k) for k in closed_k])


def explain(given: Given) -> Explanation | Refusal:
    """Say what heat and cold do to one filled jar and its lid."""
    air = air_given(given)
    if isinstance(air, Refusal):
        return air
    seen = _filled(given, air)
    jar = seen.jar
    return Explanation(
        topic="seal",
        title="Why the lid is drawn in, and why headspace is left",
        sentence=f"Filled at {both(seen.filled_k, 0)} and cooled to "
        f"{both(seen.room_k, 0)} the lid is drawn in by up to "
        f"{jar.vacuum_pa / INHG_PA:.0f} inHg; vented at the boil, by up to "
        f"{jar.vacuum_after_venting_pa / INHG_PA:.0f}.",
        more=_more(seen),
        figures=_figures(jar),
        picture=_picture(seen),
        table=_table(seen),
        cautions=(*((SHOCK,) if jar.shock_is_large else ()), UPPER),
        source="ideal gas and saturated steam (IAPWS R7-97(2012)); water's density "
        f"(IAPWS-95); {jar.heating.source}; {jar.soft_for.source}",
        estimate=True,
    )


def _filled(given: Given, air: AirToday) -> _Filled:
    filled = min(float(given["filled"]), air.water_boils_k - 0.5)
    room = float(given["room"])
    jar = the_jar(
        given["jar"],
        filled_k=filled,
        jar_k=given["empty"],
        pressure_pa=air.pressure_pa,
        room_k=room,
        degree_of_esterification=given["pectin"] / 100.0,
        contents_m3=given["contents"],
        headspace_m3=given["headspace"],
    )
    return _Filled(
        jar=jar,
        filled_k=filled,
        room_k=room,
        air=air,
        contents_m3=given["contents"],
        gap_m3=given["headspace"],
    )


def _more(seen: _Filled) -> tuple[str, ...]:
    contents, gap, jar = seen.contents_m3, seen.gap_m3, seen.jar
    needed = contents * float(headspace.expansion(seen.room_k, seen.air.water_boils_k))
    verdict = (
        "That is too little: it will push food past the lid."
        if needed > gap
        else "So it stays inside. The published headspace holds."
    )
    thin, thick = (
        float(glass.wall_w_m2_k(glass.BOILING_WATER_W_M2_K, metres))
        for metres in (0.003, 0.005)
    )
    return (
        f"From the room to the boil the contents swell by {100 * jar.swells:.1f} %: "
        f"{1e6 * contents:.0f} mL need {1e6 * needed:.0f} mL, and this jar has "
        f"{1e6 * gap:.0f}. {verdict}",
        "In the canner hot steam drives the air out past the lid. As the jar cools the "
        "steam turns to water, and the air outside presses the lid down. The hotter "
        "the headspace as the lid closes, the stronger.",
        f"Jar and filling are {apart(jar.shock_k)} apart; warnings begin at "
        f"{apart(glass.SHOCK_LIMIT_K)}. Thick glass lets heat through slower: 3 mm "
        f"pass {thin:.0f} W for a square metre and kelvin, 5 mm {thick:.0f}.",
    )


def _figures(jar: JarFigures) -> tuple[Figure, ...]:
    return (
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
    )


def _picture(seen: _Filled) -> Picture:
    closed_k, vacuum = seen.vacuums()
    outside = seen.air.pressure_pa / INHG_PA
    return Picture(
        title="Vacuum of the cold jar, by the heat at which its lid closed",
        desc="The vacuum climbs ever faster with the temperature of closing, from "
        f"{vacuum[0] / INHG_PA:.0f} inHg at {both(closed_k[0], 0)} to "
        f"{vacuum[-1] / INHG_PA:.0f} inHg near the boil. It cannot be more than the "
        f"air outside, {outside:.0f} inHg.",
        x_label="headspace as the lid closed, °F",
        y_label="vacuum, inHg",
        x_also=CELSIUS,
        y_also=KILOPASCALS,
        lines=(line("vacuum when cold", fahrenheit(closed_k), vacuum / INHG_PA),),
        marks=(
            Mark(
                text="all the air there is",
                at=outside,
                upright=False,
                published=False,
            ),
            Mark(
                text="filled at",
                at=fahrenheit([seen.filled_k])[0],
                upright=True,
                published=False,
            ),
        ),
    )


def _table(seen: _Filled) -> Table:
    rows = list(zip(*seen.vacuums(), strict=True))[::6]
    return Table(
        caption="Vacuum by the temperature of closing",
        heads=("closed at", "vacuum", "the same"),
        rows=tuple(
            (both(float(k), 0), f"{p / INHG_PA:.1f} inHg", f"{p / 1000:.0f} kPa")
            for k, p in rows
        ),
    )
