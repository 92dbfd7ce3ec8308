"""How long a canner of jars takes to the full boil, and why the gauge goes up."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.heat import efficiency_of
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
from stillroom.jar_count import jars_said
from stillroom.measures import FOOT_M, PSI_PA, both
from stillroom.refusal import Caution, Refusal, Source
from stillroom.science import air, canner, water
from stillroom.science.estimate import Estimate
from stillroom.science.jar import jar_in_water
from stillroom.science.why import DIAL_GAUGE_PSI, steam_at_band_edges, the_canner

ASKS = (
    *("jars", "jar", "water", "burner", "stove", "water_at", "jars_at", "wait"),
    *("elevation", "pressure"),
)
CLOCK = Caution(
    "the clock starts when you see the full boil, never by these minutes",
    "USDA Complete Guide, Guide 1",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Canner:
    """A canner as it was asked about, and how it comes to the boil."""

    number: int
    size: str
    wait_min: float
    pot: canner.Canner
    starts: _Starts
    first: Estimate
    """From the jars going in to the full boil. [min]"""
    again: Estimate | None
    waits_at_k: float
    up: canner.ComeUp
    burner: Source

    @property
    def boils_min(self) -> float:
        """Of the drawn come-up. [min]"""
        return (self.up.full_boil_s or 0.0) / 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Starts:
    """Water and jars as they meet, and where the water boils today. [K]"""

    water_k: float
    jar_k: float
    boils_k: float


def explain(given: Given) -> Explanation | Refusal:
    """Say when this canner boils, the first time and after a wait."""
    seen = _looked_at(given)
    if isinstance(seen, Refusal):
        return seen
    first, again = seen.first, seen.again
    then = (
        f", the next load {seen.wait_min:g} min later in about {again.value:.0f}"
        if again is not None
        else ""
    )
    return Explanation(
        topic="canner",
        title="Why a full canner is slow, and why the gauge goes up with the hills",
        sentence=f"{jars_said(seen.number, seen.size)} "
        f"{'comes' if seen.number == 1 else 'come'} to a full boil in about "
        f"{first.value:.0f} min ({first.low:.0f} to {first.high:.0f}){then}.",
        more=_more(seen),
        figures=_figures(seen),
        picture=_picture(seen),
        table=_table(seen),
        cautions=(CLOCK,),
        source=f"{first.source}; burner: {seen.burner}; USDA Complete Guide, "
        "dial-gauge tables; IAPWS R7-97(2012)",
        estimate=True,
    )


def _looked_at(given: Given) -> _Canner | Refusal:
    today = air_given(given)
    if isinstance(today, Refusal):
        return today
    share = efficiency_of(given["stove"])
    if isinstance(share, Refusal):
        return share
    boils = today.water_boils_k
    number, size = int(given["jars"]), given["jar"]
    starts = _Starts(
        water_k=min(float(given["water_at"]), boils - 1.0),
        jar_k=min(float(given["jars_at"]), boils - 1.0),
        boils_k=boils,
    )
    pot = canner.Canner(
        water_kg=max(1.0, 1000.0 * given["water"]), net_w=given["burner"] * share.share
    )
    both_times = the_canner(
        pot,
        size,
        number,
        water_k=starts.water_k,
        jar_k=starts.jar_k,
        boils_k=boils,
        wait_s=60.0 * given["wait"],
    )
    if both_times.first is None:
        return Refusal(
            f"{given['burner'] / 1000:.1f} kW of {given['stove']} never bring this "
            "canner to a full boil within four hours",
            instead="stand it on a stronger burner or on two, or load fewer jars",
            source="heat balance of water, jars and room",
        )
    return _Canner(
        number=number,
        size=size,
        wait_min=given["wait"],
        pot=pot,
        starts=starts,
        first=both_times.first,
        again=both_times.again,
        waits_at_k=both_times.waits_at_k,
        up=_come_up(pot, size, number, starts),
        burner=share.source,
    )


def _come_up(
    pot: canner.Canner, size: str, jars: int, starts: _Starts
) -> canner.ComeUp:
    return canner.come_up(
        pot,
        jar_in_water(size),
        jars,
        water_k=starts.water_k,
        jar_k=starts.jar_k,
        boils_k=starts.boils_k,
    )


def _more(seen: _Canner) -> tuple[str, ...]:
    at_sea, in_the_hills = (
        float(
            water.boiling_point_k(
                air.gauge_to_absolute_pa(
                    10.0 * float(PSI_PA), air.pressure_pa(feet * float(FOOT_M))
                )
            )
        )
        for feet in (0.0, 5000.0)
    )
    return (
        "The fire heats water, glass and food together, and the hotter it gets the "
        "more the pot loses to the room. Water that is hot when the jars go in saves "
        "most of it; published starts are 140 °F (60 °C) for raw packs, "
        "180 °F (82 °C) for hot ones.",
        f"After {seen.wait_min:g} min with the fire off and the lid on, the water "
        f"still has {both(seen.waits_at_k, 0)}: start the next load then.",
        "Under pressure a gauge reads the excess over the air outside. At 10 psi "
        f"steam has {both(at_sea, 0)} at the sea but {both(in_the_hills, 0)} at "
        "5,000 ft: so the published pressure rises with elevation, and the minutes "
        "stay.",
    )


def _figures(seen: _Canner) -> tuple[Figure, ...]:
    up = seen.up
    given = max(up.given_j, 1.0)
    loads = [estimated("First load to the full boil", seen.first, "min")]
    if seen.again is not None:
        loads.append(estimated("Next load to the full boil", seen.again, "min"))
    return (
        *loads,
        Figure(
            label="Water as the next load goes in", value=seen.waits_at_k, unit=KELVIN
        ),
        Figure(label="Heat from the fire", value=up.given_j / 1e6, unit="MJ"),
        Figure(label="of it into the jars", value=100 * up.to_jars_j / given, unit="%"),
        Figure(
            label="of it lost to the room", value=100 * up.to_room_j / given, unit="%"
        ),
    )


def _picture(seen: _Canner) -> Picture:
    up = seen.up
    at_min = up.time_s / 60.0
    return Picture(
        title=f"{jars_said(seen.number, seen.size)} on the way to the boil",
        desc=f"The water climbs to the boil in {seen.boils_min:.0f} min for food that "
        "does not flow; the jars follow behind and are not hot through when the clock "
        "starts.",
        x_label="minutes since the jars went in",
        y_label="°F",
        y_also=CELSIUS,
        lines=(
            line("water", at_min, fahrenheit(up.water_k)),
            line("jars, in the mean", at_min, fahrenheit(up.jar_mean_k)),
        ),
        marks=(
            Mark(
                text="full boil: the published clock starts",
                at=seen.boils_min,
                upright=True,
            ),
        ),
    )


def _table(seen: _Canner) -> Table:
    loads = sorted({0, seen.number // 2, seen.number, seen.number + 2})
    published = zip(DIAL_GAUGE_PSI, steam_at_band_edges(), strict=True)
    return Table(
        caption="Come-up by jars; steam at published dial-gauge pressures",
        heads=("what", "figure", "more"),
        rows=(
            *(
                (
                    jars_said(jars, seen.size),
                    _said(_come_up(seen.pot, seen.size, jars, seen.starts)),
                    "to the full boil, an estimate",
                )
                for jars in loads
            ),
            *(
                (
                    f"{psi:g} psi on the dial, up to {feet:,.0f} ft",
                    both(kelvin),
                    "published pressure, computed steam",
                )
                for (feet, psi), (_, kelvin) in published
            ),
        ),
    )


def _said(up: canner.ComeUp) -> str:
    seconds = up.full_boil_s
    return "never" if seconds is None else f"{seconds / 60.0:.0f} min"
