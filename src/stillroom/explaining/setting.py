"""Whether a jelly sets, when, and what becomes of its sugar in the store."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from stillroom import measures
from stillroom.explaining.asking import JARS, Given
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
from stillroom.measures import both
from stillroom.refusal import Caution, Refusal
from stillroom.science import boiling, gel, sugars
from stillroom.science.estimate import Estimate
from stillroom.science.gel import WINDOW_PH, WINDOW_SOLIDS, Gel
from stillroom.science.setting import time_to_set

ASKS = ("ph", "solids", "pectin", "jar", "filled", "room", "boil", "store")
NOT_A_PROMISE = Caution(
    "pectin differs from fruit to fruit: the sheet test and the look after a day "
    "decide, not this",
    "how Stillroom explains",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Mix:
    """A mix and its store, and what becomes of them."""

    ph: float
    solids: float
    store_k: float
    verdicts: tuple[Gel, ...]
    setting: Estimate
    """Where it begins to set. [K]"""
    soft_for: Mapping[str, Estimate]
    """How long the middle of a jar stays soft, by its size. [min]"""
    inverted: Estimate
    """Share of the sugar that the boil splits. [1]"""


def explain(given: Given) -> Explanation | Refusal:
    """Hold a mix against the window of pectin, and say when the jar sets."""
    mix = _looked_at(given)
    mine = mix.soft_for[given["jar"]]
    at = f"At pH {mix.ph:g} and {100 * mix.solids:.0f} %"
    verdict = (
        f"{at} it lies inside the window in which pectin sets"
        if mix.verdicts == (Gel.INSIDE,)
        else f"{at}: {'; '.join(mix.verdicts)}"
    )
    return Explanation(
        topic="set",
        title="Whether it sets, and when",
        sentence=f"{verdict}; a {given['jar']} stays soft in the middle for about "
        f"{mine.value:.0f} min.",
        more=_more(mix),
        figures=_figures(mix),
        picture=_picture(mix),
        table=_table(),
        cautions=(NOT_A_PROMISE,),
        source=f"{mix.setting.source}; {mine.source}; {boiling.SOURCE}; "
        f"{mix.inverted.source}",
        estimate=True,
    )


def _looked_at(given: Given) -> _Mix:
    ph, solids = given["ph"], given["solids"] / 100.0
    ester = given["pectin"] / 100.0
    setting = gel.setting_temperature(ester)
    boils = 373.15 + gel.RISE_K
    return _Mix(
        ph=ph,
        solids=solids,
        store_k=float(given["store"]),
        verdicts=gel.gel_window(ph, solids, ester),
        setting=setting,
        soft_for={
            size: time_to_set(
                size, setting, filled_k=given["filled"], room_k=given["room"]
            )
            for size in JARS
        },
        inverted=sugars.estimated_inversion(
            [0.0, 60.0 * given["boil"]], [boils] * 2, ph
        ),
    )


def _more(mix: _Mix) -> tuple[str, ...]:
    split = mix.inverted.value
    risk = sugars.crystal_risk(mix.solids, split, mix.store_k)
    return (
        f"Fruit pectin sets where the pH is {WINDOW_PH[0]:g} to {WINDOW_PH[3]:g} (best "
        f"{WINDOW_PH[1]:g} to {WINDOW_PH[2]:g}) and the solids about "
        f"{100 * WINDOW_SOLIDS[1]:.0f} %. Too little acid: no set. Too much: it weeps.",
        f"This pectin begins to set near {both(mix.setting.value, 0)}. A jar on the "
        "counter cools slowly, so leave it level and alone; that it is soft after an "
        "hour says nothing yet.",
        f"In a store of {both(mix.store_k, 0)}: {risk.value}. About "
        f"{100 * split:.0f} % of the sugar is split by the boil, which keeps crystals "
        "off.",
    )


def _figures(mix: _Mix) -> tuple[Figure, ...]:
    active = boiling.water_activity_in_jar(mix.solids, mix.inverted.value)
    return (
        estimated("Begins to set at", mix.setting, KELVIN),
        *(estimated(f"Soft in a {size}", mix.soft_for[size], "min") for size in JARS),
        estimated("Sugar split by the boil", mix.inverted, "%", scale=100),
        Figure(
            label="Water activity of the jar",
            value=float(active),
            unit="",
            note="yeast and mold still grow there once it is open",
        ),
        Figure(
            label="The same, were all of it sucrose",
            value=float(boiling.sucrose_water_activity(mix.solids, 298.15)),
            unit="",
        ),
        Figure(
            label=f"Sugar that stays dissolved at {both(mix.store_k, 0)}",
            value=100 * float(sugars.solubility_newer(mix.store_k)),
            unit="%",
        ),
    )


def _picture(mix: _Mix) -> Picture:
    warm_k = np.linspace(273.15, 313.15, 41)
    older, newer = sugars.solubility(warm_k), sugars.solubility_newer(warm_k)
    solids = 100 * mix.solids
    return Picture(
        title="Sugar that stays dissolved, by the temperature of the store",
        desc="Two published curves rise close together, in a cellar half a percent "
        f"apart: about {100 * float(newer[0]):.0f} % at freezing and "
        f"{100 * float(newer[-1]):.0f} % at {both(warm_k[-1], 0)}. This mix has "
        f"{solids:.0f} % solids, of which {100 * mix.inverted.value:.0f} % is split "
        "and stays dissolved.",
        x_label="store, °F",
        x_also=CELSIUS,
        y_label="% by weight",
        lines=(
            line("older published curve", fahrenheit(warm_k), 100 * older),
            line("newer published curve", fahrenheit(warm_k), 100 * newer),
        ),
        marks=(
            Mark(text="solids of this jar", at=solids, upright=False, published=False),
            Mark(
                text="coldest of the store",
                at=measures.fahrenheit(mix.store_k),
                upright=True,
                published=False,
            ),
        ),
    )


def _table() -> Table:
    shares = (0.60, 0.65, 0.69)
    return Table(
        caption="What pH and solids make of the set",
        heads=("pH", *(f"{100 * share:.0f} %" for share in shares)),
        rows=tuple(
            (f"{sour:g}", *("; ".join(gel.gel_window(sour, part)) for part in shares))
            for sour in (2.7, 2.9, 3.1, 3.4, 3.6)
        ),
    )
