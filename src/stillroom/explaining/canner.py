"""How long a canner of jars takes to the full boil, and why the gauge goes up."""

from __future__ import annotations

from stillroom.book.heat import efficiency_of
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
from stillroom.jar_count import jars_said
from stillroom.measures import FOOT_M, PSI_PA
from stillroom.refusal import Caution, Refusal
from stillroom.science import air, canner, water
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


def explain(given: Given) -> Explanation | Refusal:
    """Say when this canner boils, the first time and after a wait."""
    today = air_given(given)
    if isinstance(today, Refusal):
        return today
    share = efficiency_of(given["stove"])
    if isinstance(share, Refusal):
        return share
    boils = today.water_boils_k
    number, size = int(given["jars"]), given["jar"]
    water_k = min(float(given["water_at"]), boils - 1.0)
    jar_k = min(float(given["jars_at"]), boils - 1.0)
    pot = canner.Canner(
        water_kg=max(1.0, 1000.0 * given["water"]), net_w=given["burner"] * share.share
    )
    both_times = the_canner(
        pot,
        size,
        number,
        water_k=water_k,
        jar_k=jar_k,
        boils_k=boils,
        wait_s=60.0 * given["wait"],
    )
    if both_times.first is None:
        return Refusal(
            f"{given['burner'] / 1000:.1f} kW of {given['stove']} never bring this "
            "canner "
            "to a full boil within four hours",
            instead="stand it on a stronger burner or on two, or load fewer jars",
            source="heat balance of water, jars and room",
        )
    up = canner.come_up(
        pot,
        jar_in_water(size),
        number,
        water_k=water_k,
        jar_k=jar_k,
        boils_k=boils,
    )
    curve = [
        line("water", up.time_s / 60.0, fahrenheit(up.water_k)),
        line("jars, in the mean", up.time_s / 60.0, fahrenheit(up.jar_mean_k)),
    ]
    first, again = both_times.first, both_times.again
    loads = tuple(
        (count, _minutes(pot, size, count, water_k, jar_k, boils))
        for count in sorted({0, number // 2, number, number + 2})
    )
    at_10 = [
        water.boiling_point_k(
            air.gauge_to_absolute_pa(
                10.0 * float(PSI_PA), air.pressure_pa(feet * float(FOOT_M))
            )
        )
        for feet in (0.0, 5000.0)
    ]
    return Explanation(
        topic="canner",
        title="Why a full canner is slow, and why the gauge goes up with the hills",
        sentence=f"{jars_said(number, size)} "
        f"{'comes' if number == 1 else 'come'} to a full boil in about "
        f"{first.value:.0f} min ({first.low:.0f} to {first.high:.0f})"
        + (
            f", the next load {given['wait']:g} min later in about {again.value:.0f}."
            if again is not None
            else "."
        ),
        more=(
            "The fire heats water, glass and food together, and the hotter it gets the "
            "more the pot loses to the room. Water that is hot when the jars go in "
            "saves "
            "most of it; published starts are 140 °F for raw packs, 180 °F for hot "
            "ones.",
            f"After {given['wait']:g} min with the fire off and the lid on, the water "
            f"still has {both(both_times.waits_at_k, 0)}: start the next load then.",
            "Under pressure a gauge reads the excess over the air outside. At 10 psi "
            f"steam has {both(float(at_10[0]), 0)} at the sea but "
            f"{both(float(at_10[1]), 0)} at 5,000 ft: so the published pressure rises "
            "with elevation, and the minutes stay.",
        ),
        figures=(
            estimated("First load to the full boil", first, "min"),
            *(
                (estimated("Next load to the full boil", again, "min"),)
                if again is not None
                else ()
            ),
            Figure(
                label="Water as the next load goes in",
                value=both_times.waits_at_k,
                unit=KELVIN,
            ),
            Figure(label="Heat from the fire", value=up.given_j / 1e6, unit="MJ"),
            Figure(
                label="of it into the jars",
                value=100 * up.to_jars_j / max(up.given_j, 1.0),
                unit="%",
            ),
            Figure(
                label="of it lost to the room",
                value=100 * up.to_room_j / max(up.given_j, 1.0),
                unit="%",
            ),
        ),
        picture=Picture(
            title=f"{jars_said(number, size)} on the way to the boil",
            desc="The water climbs to the boil in "
            f"{(up.full_boil_s or 0) / 60:.0f} min for food that does not flow; the "
            "jars "
            "follow behind and are not hot through when the clock starts.",
            x_label="minutes since the jars went in",
            y_label="°F",
            lines=tuple(curve),
            marks=(
                Mark(
                    text="full boil: the published clock starts",
                    at=(up.full_boil_s or 0.0) / 60.0,
                    upright=True,
                ),
            ),
        ),
        table=Table(
            caption="Come-up by jars; steam at published dial-gauge pressures",
            heads=("what", "figure", "more"),
            rows=(
                *(
                    (jars_said(count, size), said, "to the full boil, an estimate")
                    for count, said in loads
                ),
                *(
                    (
                        f"{psi:g} psi on the dial, up to {feet:,.0f} ft",
                        both(kelvin),
                        "published pressure, computed steam",
                    )
                    for (feet, psi), (_, kelvin) in zip(
                        DIAL_GAUGE_PSI, steam_at_band_edges(), strict=True
                    )
                ),
            ),
        ),
        cautions=(CLOCK,),
        source=f"{first.source}; burner: {share.source}; USDA Complete Guide, "
        "dial-gauge "
        "tables; IAPWS R7-97(2012)",
        estimate=True,
    )


def _minutes(
    pot: canner.Canner, size: str, jars: int, water_k: float, jar_k: float, boils: float
) -> str:
    seconds = canner.come_up(
        pot, jar_in_water(size), jars, water_k=water_k, jar_k=jar_k, boils_k=boils
    ).full_boil_s
    return "never" if seconds is None else f"{seconds / 60.0:.0f} min"
