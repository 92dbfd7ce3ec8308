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
    line,
)
from stillroom.measures import CUP_M3, both
from stillroom.refusal import Caution, Refusal
from stillroom.science import hydrometer, refractometer, syrup, water

ASKS = ("reading", "at", "compensates")
COOL = Caution(
    "cool and stir the drop first: a hot one reads low, and a skin that has dried "
    "reads high. Above 20 °C no correction was seen in print, so none is made up here",
    "OIV-MA-AS2-02, Table I",
)

FREEZING_KNOWN_TO = 0.42
"""Where the printed freezing points end. [1]"""


def explain(given: Given) -> Explanation | Refusal:
    """Turn a reading into soluble solids, density, index and degrees Baumé."""
    shown, at = given["reading"] / 100.0, float(given["at"])
    solids = refractometer.corrected_solids(
        shown, at, compensates=given["compensates"] == "yes"
    )
    off = 100 * (solids - shown)
    return Explanation(
        topic="refractometer",
        title="What a drop of syrup says",
        sentence=f"A reading of {100 * shown:.1f} °Brix at {both(at, 0)} is "
        f"{100 * solids:.1f} % of soluble solids"
        + (f": {off:+.1f} for the temperature." if abs(off) > 0.05 else "."),
        more=_more(solids),
        figures=_figures(solids),
        picture=_picture(solids),
        table=_table(),
        cautions=(COOL,),
        source="CRC Handbook, 102nd ed., sucrose at 20 °C; ICUMSA index table; "
        "OIV-MA-AS2-02, Table I",
        estimate=False,
    )


def _more(solids: float) -> tuple[str, ...]:
    thick, poured = (
        float(syrup.viscosity_pa_s(min(0.70, solids), kelvin))
        for kelvin in (293.15, 333.15)
    )
    over_water = thick / float(water.viscosity_pa_s(293.15))
    return (
        "The instrument measures how far light is bent and is marked for pure sugar at "
        "20 °C. Acid and salts bend it too: of juice and jam it tells all that is "
        "dissolved, not the sugar alone.",
        "An instrument that corrects for temperature itself gets no correction on top; "
        "look for ATC on it.",
        f"A syrup like this is {thick / poured:.0f} times as stiff at 68 °F as at "
        f"140 °F, where it is poured, and {over_water:,.0f} times as stiff as water.",
    )


def _figures(solids: float) -> tuple[Figure, ...]:
    index = float(refractometer.refractive_index(solids))
    heavy = float(syrup.density_at_20_c_kg_m3(solids))
    found = [
        Figure(label="Soluble solids at 20 °C", value=100 * solids, unit="%"),
        Figure(
            label="Refractive index",
            value=index,
            unit=INDEX,
            note=_read_back(refractometer.solids_from_index(index)),
        ),
        Figure(
            label="Density at 20 °C",
            value=heavy,
            unit="kg/m³",
            note=_read_back(syrup.solids_from_density(heavy)),
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
    ]
    if solids <= FREEZING_KNOWN_TO:
        found.append(
            Figure(
                label="Begins to freeze at",
                value=float(syrup.freezing_point_k(solids)),
                unit=KELVIN,
            )
        )
    return tuple(found)


def _read_back(solids: float) -> str:
    return f"read back: {100 * float(solids):.1f} °Brix"


def _picture(solids: float) -> Picture:
    share: NDArray[float64] = np.linspace(0.0, 0.80, 41)
    return Picture(
        title="Density by soluble solids",
        desc="The density climbs from 998 kg/m³ for water to "
        f"{float(syrup.density_at_20_c_kg_m3(0.80)):.0f} at 80 %, a little faster "
        "towards the end; this syrup has "
        f"{float(syrup.density_at_20_c_kg_m3(solids)):.0f}.",
        x_label="soluble solids, %",
        y_label="kg/m³ at 20 °C",
        lines=(line("density", 100 * share, syrup.density_at_20_c_kg_m3(share)),),
        marks=(
            Mark(text="this syrup", at=100 * solids, upright=True, published=False),
            Mark(text="65 %, standard of a jelly", at=65.0, upright=True),
        ),
    )


def _table() -> Table:
    """Some syrups on each instrument; a cold one's reading by the correction undone."""
    read = 100.0 * np.linspace(0.10, 0.65, 31)
    true = [
        100.0 * refractometer.corrected_solids(r / 100, 283.15, compensates=False)
        for r in read
    ]
    return Table(
        caption="The same syrup on each instrument",
        heads=("solids", "index", "density", "Baumé", "shows at 10 °C, uncorrected"),
        rows=tuple(
            (
                f"{100 * part:.0f} %",
                f"{float(refractometer.refractive_index(part)):.4f}",
                f"{float(syrup.density_at_20_c_kg_m3(part)):,.0f} kg/m³",
                f"{float(hydrometer.baume(part)):.1f} °Bé",
                f"{float(np.interp(100 * part, true, read)):.1f} °Brix",
            )
            for part in (0.15, 0.30, 0.45, 0.55, 0.60)
        ),
    )
