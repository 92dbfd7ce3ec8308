"""Whether a jelly sets, when, and what becomes of its sugar in the store."""

from __future__ import annotations

import numpy as np

from stillroom import measures
from stillroom.explaining.asking import JARS, Given
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
from stillroom.science import boiling, gel, sugars
from stillroom.science.gel import WINDOW_PH, WINDOW_SOLIDS, Gel
from stillroom.science.setting import time_to_set

ASKS = ("ph", "solids", "pectin", "jar", "filled", "room", "boil", "store")
NOT_A_PROMISE = Caution(
    "pectin differs from fruit to fruit: the sheet test and the look after a day "
    "decide, "
    "not this",
    "how Stillroom explains",
)


def explain(given: Given) -> Explanation | Refusal:
    """Hold a mix against the window of pectin, and say when the jar sets."""
    ph, solids = given["ph"], given["solids"] / 100.0
    ester, store = given["pectin"] / 100.0, float(given["store"])
    verdicts = gel.gel_window(ph, solids, ester)
    setting = gel.setting_temperature(ester)
    soft = {
        size: time_to_set(size, setting, filled_k=given["filled"], room_k=given["room"])
        for size in JARS
    }
    mine = soft[given["jar"]]
    boils = 373.15 + gel.RISE_K
    inverted = sugars.estimated_inversion([0.0, 60.0 * given["boil"]], [boils] * 2, ph)
    risk = sugars.crystal_risk(solids, inverted.value, store)
    warm_k = np.linspace(273.15, 313.15, 41)
    older, newer = sugars.solubility(warm_k), sugars.solubility_newer(warm_k)
    good = verdicts == (Gel.INSIDE,)
    cold = both(store, 0)
    return Explanation(
        topic="set",
        title="Whether it sets, and when",
        sentence=(
            f"At pH {ph:g} and {100 * solids:.0f} % it lies inside the window in which "
            "pectin sets"
            if good
            else f"At pH {ph:g} and {100 * solids:.0f} %: {'; '.join(verdicts)}"
        )
        + f"; a {given['jar']} stays soft in the middle for about {mine.value:.0f} "
        "min.",
        more=(
            f"Fruit pectin sets where the pH is {WINDOW_PH[0]:g} to {WINDOW_PH[3]:g} "
            f"(best {WINDOW_PH[1]:g} to {WINDOW_PH[2]:g}) and the solids about "
            f"{100 * WINDOW_SOLIDS[1]:.0f} %. Too little acid: no set. Too much: it "
            "weeps.",
            f"This pectin begins to set near {both(setting.value, 0)}. A jar on the "
            "counter cools slowly, so leave it level and alone; that it is soft after "
            "an hour says nothing yet.",
            f"In a store of {cold}: {risk.value}. About "
            f"{100 * inverted.value:.0f} % of the sugar is split by the boil, which "
            "keeps crystals off.",
        ),
        figures=(
            estimated("Begins to set at", setting, KELVIN),
            *(estimated(f"Soft in a {size}", soft[size], "min") for size in JARS),
            estimated("Sugar split by the boil", inverted, "%", scale=100),
            Figure(
                label="Water activity of the jar",
                value=float(boiling.water_activity_in_jar(solids, inverted.value)),
                unit="",
                note="yeast and mold still grow there once it is open",
            ),
            Figure(
                label="The same, were all of it sucrose",
                value=float(boiling.sucrose_water_activity(solids, 298.15)),
                unit="",
            ),
            Figure(
                label=f"Sugar that stays dissolved at {cold}",
                value=100 * float(sugars.solubility_newer(store)),
                unit="%",
            ),
        ),
        picture=Picture(
            title="Sugar that stays dissolved, by the temperature of the store",
            desc="Two published curves rise close together, in a cellar half a percent "
            "apart: about "
            f"{100 * float(newer[0]):.0f} % at freezing and "
            f"{100 * float(newer[-1]):.0f} % at 104 °F. This mix has "
            f"{100 * solids:.0f} % solids, of which {100 * inverted.value:.0f} % is "
            "split and stays dissolved.",
            x_label="store, °F",
            y_label="% by weight",
            lines=(
                line("older published curve", fahrenheit(warm_k), 100 * older),
                line("newer published curve", fahrenheit(warm_k), 100 * newer),
            ),
            marks=(
                Mark(
                    text="solids of this jar",
                    at=100 * solids,
                    upright=False,
                    published=False,
                ),
                Mark(
                    text="coldest of the store",
                    at=measures.fahrenheit(store),
                    upright=True,
                    published=False,
                ),
            ),
        ),
        table=Table(
            caption="What pH and solids make of the set",
            heads=("pH", "60 %", "65 %", "69 %"),
            rows=tuple(
                (
                    f"{sour:g}",
                    *(
                        "; ".join(gel.gel_window(sour, part))
                        for part in (0.60, 0.65, 0.69)
                    ),
                )
                for sour in (2.7, 2.9, 3.1, 3.4, 3.6)
            ),
        ),
        cautions=(NOT_A_PROMISE,),
        source=f"{setting.source}; {mine.source}; {boiling.SOURCE}; {inverted.source}",
        estimate=True,
    )
