"""How much is left after drying, and how the scale tells when it is done."""

from __future__ import annotations

import numpy as np

from stillroom.explaining.asking import Given
from stillroom.explaining.explanation import (
    POUNDS,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    line,
)
from stillroom.measures import kitchen_mass
from stillroom.refusal import Refusal
from stillroom.science.dry import dried_mass_kg

ASKS = ("fresh", "moisture", "dry_water")


def explain(given: Given) -> Explanation | Refusal:
    """Say what the scale shows when the food is dry."""
    fresh, before = given["fresh"], given["moisture"] / 100.0
    after = given["dry_water"] / 100.0
    if after >= before:
        return Refusal(
            f"it is to hold {100 * after:.0f} % of water and holds {100 * before:.0f} "
            "% "
            "already",
            instead="give the water of the fresh food first, such as 85 %, and less "
            "for "
            "the dry",
            source="the balance of dry matter",
        )
    left = float(dried_mass_kg(fresh, before, after))
    share = np.linspace(min(before, 0.9), 0.03, 40)
    curve = dried_mass_kg(fresh, before, share)
    return Explanation(
        topic="drying",
        title="What is left after drying",
        sentence=f"{kitchen_mass(fresh)} on the trays are {kitchen_mass(left)} when "
        f"they are down to {100 * after:.0f} % of water: weigh a tray, and you know.",
        more=(
            "Dry matter neither comes nor goes; only water leaves. So the weight says "
            "how far it is, whatever the weather did to the hours.",
            "The last water leaves slowest. That is why the look and the feel decide "
            "in "
            "the end, and why dried food is conditioned in closed jars.",
        ),
        figures=(
            Figure(label="Left when dry", value=left, unit="kg"),
            Figure(label="Water gone", value=fresh - left, unit="kg"),
            Figure(label="Left of each kilogram", value=left / fresh, unit="kg"),
        ),
        picture=Picture(
            title="Weight left by the water in it",
            desc=f"The weight falls from {fresh:.2f} kg steeply at first, then more "
            f"slowly, to {left:.2f} kg at {100 * after:.0f} % of water.",
            x_label="water in the food, %",
            y_label="kg",
            y_also=POUNDS,
            lines=(line("weight", 100 * share, curve),),
            marks=(Mark(text="dry", at=100 * after, upright=True, published=False),),
        ),
        table=Table(
            caption="Weight by the water left",
            heads=("water", "weight", "left of the fresh"),
            rows=tuple(
                (
                    f"{100 * water:.0f} %",
                    kitchen_mass(float(dried_mass_kg(fresh, before, water))),
                    f"{100 * float(dried_mass_kg(1.0, before, water)):.0f} %",
                )
                for water in (0.6, 0.4, 0.2, 0.1, 0.06)
                if water < before
            ),
        ),
        source="balance of dry matter; the waters of fresh and dry food are yours",
        estimate=False,
    )
