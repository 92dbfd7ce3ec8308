"""What a drop on the refractometer says, and the same syrup on other instruments."""

from __future__ import annotations

import numpy as np
from numpy import float64
from numpy.typing import NDArray

from stillroom.explaining.asking import Given
from stillroom.explaining.explanation import (
    INDEX,
    KELVIN,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    both,
    line,
)
from stillroom.measures import CUP_M3
from stillroom.refusal import Caution, Refusal
from stillroom.science import hydrometer, refractometer, syrup, water

ASKS = ("reading", "at", "compensates")
COOL = Caution(
    "cool and stir the drop first: a hot one reads low, and a skin that has dried "
    "reads "
    "high. Above 20 °C no correction was seen in print, so none is made up here",
    "OIV-MA-AS2-02, Table I",
)


def explain(given: Given) -> Explanation | Refusal:
    """Turn a reading into soluble solids, density, index and degrees Baumé."""
    shown, at = given["reading"] / 100.0, float(given["at"])
    solids = refractometer.corrected_solids(
        shown, at, compensates=given["compensates"] == "yes"
    )
    index = float(refractometer.refractive_index(solids))
    back = float(refractometer.solids_from_index(index))
    heavy = float(syrup.density_at_20_c_kg_m3(solids))
    weighed = float(syrup.solids_from_density(heavy))
    thick = [
        float(syrup.viscosity_pa_s(min(0.70, solids), kelvin))
        for kelvin in (293.15, 333.15)
    ]
    share: NDArray[float64] = np.linspace(0.0, 0.80, 41)
    read = 100.0 * np.linspace(0.10, 0.65, 31)
    cold = np.array(
        [
            refractometer.corrected_solids(r / 100, 283.15, compensates=False)
            for r in read
        ]
    )
    off = 100 * (solids - shown)
    return Explanation(
        topic="refractometer",
        title="What a drop of syrup says",
        sentence=f"A reading of {100 * shown:.1f} °Brix at {both(at, 0)} is "
        f"{100 * solids:.1f} % of soluble solids"
        + (f": {off:+.1f} for the temperature." if abs(off) > 0.05 else "."),
        more=(
            "The instrument measures how far light is bent and is marked for pure "
            "sugar "
            "at 20 °C. Acid and salts bend it too: of juice and jam it tells all that "
            "is dissolved, not the sugar alone.",
            "An instrument that corrects for temperature itself gets no correction on "
            "top; look for ATC on it.",
            f"A syrup like this is {thick[0] / thick[1]:.0f} times as stiff at 68 °F "
            "as "
            "at 140 °F, where it is poured, and "
            f"{thick[0] / float(water.viscosity_pa_s(293.15)):,.0f} times as stiff as "
            "water.",
        ),
        figures=(
            Figure(label="Soluble solids at 20 °C", value=100 * solids, unit="%"),
            Figure(
                label="Refractive index",
                value=index,
                unit=INDEX,
                note=f"read back: {100 * back:.1f} °Brix",
            ),
            Figure(
                label="Density at 20 °C",
                value=heavy,
                unit="kg/m³",
                note=f"read back: {100 * weighed:.1f} °Brix",
            ),
            Figure(label="A cup of it weighs", value=heavy * float(CUP_M3), unit="kg"),
            Figure(
                label="Degrees Baumé", value=float(hydrometer.baume(solids)), unit="°Bé"
            ),
            Figure(
                label="Heat conducted",
                value=float(syrup.conductivity_w_per_m_k(solids, 293.15)),
                unit="W/(m K)",
                note=f"water {float(water.conductivity_w_per_m_k(293.15)):.2f}",
            ),
            *(
                (
                    Figure(
                        label="Begins to freeze at",
                        value=float(syrup.freezing_point_k(solids)),
                        unit=KELVIN,
                    ),
                )
                if solids <= 0.42
                else ()
            ),
        ),
        picture=Picture(
            title="Density by soluble solids",
            desc="The density climbs from 998 kg/m³ for water to "
            f"{float(syrup.density_at_20_c_kg_m3(0.80)):.0f} at 80 %, a little faster "
            f"towards the end; this syrup has {heavy:.0f}.",
            x_label="soluble solids, %",
            y_label="kg/m³ at 20 °C",
            lines=(line("density", 100 * share, syrup.density_at_20_c_kg_m3(share)),),
            marks=(
                Mark(text="this syrup", at=100 * solids, upright=True, published=False),
                Mark(text="65 %, standard of a jelly", at=65.0, upright=True),
            ),
        ),
        table=Table(
            caption="The same syrup on each instrument",
            heads=(
                "solids",
                "index",
                "density",
                "Baumé",
                "shows at 10 °C, uncorrected",
            ),
            rows=tuple(
                (
                    f"{100 * part:.0f} %",
                    f"{float(refractometer.refractive_index(part)):.4f}",
                    f"{float(syrup.density_at_20_c_kg_m3(part)):,.0f} kg/m³",
                    f"{float(hydrometer.baume(part)):.1f} °Bé",
                    f"{float(np.interp(100 * part, 100 * cold, read)):.1f} °Brix",
                )
                for part in (0.15, 0.30, 0.45, 0.55, 0.60)
            ),
        ),
        cautions=(COOL,),
        source="CRC Handbook, 102nd ed., sucrose at 20 °C; ICUMSA index table; "
        "OIV-MA-AS2-02, Table I",
        estimate=False,
    )
