"""How strong a pickle is once jar and brine have come to rest."""

from __future__ import annotations

import numpy as np

from stillroom.explaining.asking import FIELDS, Given
from stillroom.explaining.explanation import (
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    line,
)
from stillroom.measures import kitchen_mass
from stillroom.refusal import Caution, Fault, Refusal, Unreadable
from stillroom.science import acid, solutions
from stillroom.science.pickle import pack_at_rest

ASKS = ("vegetables", "vinegar", "water_in", "salt", "strength")
TESTED_ONLY = Caution(
    "this shows why a pickle may not be thinned. Only a tested recipe says how much "
    "vinegar is enough: never less, and never weaker than 5 %",
    "USDA Complete Guide, Guide 6",
)
HALF = Caution(
    "published quick-process pickles have at least as much 5 % vinegar as water; this "
    "brine has less",
    "Penn State Extension, quick process pickles",
)
ACETIC_G_MOL = 60.052


def explain(given: Given) -> Explanation | Refusal:
    """Say how salt and acid spread through the pack."""
    vinegar, water = given["vinegar"], given["water_in"]
    if vinegar + water <= 0.0:
        raise Unreadable(
            Fault(
                "no brine came: give vinegar, water or both",
                key=FIELDS["vinegar"].option,
            )
        )
    vegetables, salt = given["vegetables"], given["salt"]
    strength = given["strength"] / 100.0
    pack = pack_at_rest(
        vegetables_kg=vegetables,
        vinegar_m3=vinegar,
        water_m3=water,
        salt_kg=salt,
        vinegar_acidity=strength,
    )
    share = np.linspace(0.25, 2.5, 40) * vegetables
    acids = [
        100
        * pack_at_rest(
            vegetables_kg=float(kg),
            vinegar_m3=vinegar,
            water_m3=water,
            salt_kg=salt,
            vinegar_acidity=strength,
        ).acetic_acid
        for kg in share
    ]
    bare = {
        words: acid.ph_of(
            acid.Sour(acids={"acetic": max(1e-6, 10_000 * w / 10 / ACETIC_G_MOL)})
        )
        for words, w in (("brine", pack.cover_acetic_acid), ("pack", pack.acetic_acid))
    }
    in_water = float(solutions.salt_share(salt, max(0.001, 1000 * (vinegar + water))))
    heavy = float(solutions.density_at_20_c_kg_m3("salt", min(0.2, pack.cover_salt)))
    weak = strength < 0.05 - 1e-9
    cautions = [TESTED_ONLY]
    if weak or vinegar < water - 1e-9:
        cautions.insert(0, HALF)
    return Explanation(
        topic="brine",
        title="How strong a pickle is at rest",
        sentence=f"The brine goes in with {100 * pack.cover_acetic_acid:.1f} % of "
        "acetic "
        f"acid and {100 * pack.cover_salt:.1f} % of salt; with "
        f"{kitchen_mass(vegetables)} of vegetables it comes to rest at "
        f"{100 * pack.acetic_acid:.1f} % and {100 * pack.salt:.1f} %.",
        more=(
            "Vegetables are mostly water, and acid and salt spread through all of it: "
            "the more is packed into the jar, the weaker the pickle. That is why a "
            "tested recipe says how much brine goes to how many vegetables.",
            f"The pure brine has a pH near {bare['brine']:.1f}, the same acid in all "
            "that "
            f"water near {bare['pack']:.1f}; vegetables buffer it and bring it higher, "
            "which no reckoning replaces: a tested recipe was measured.",
            "Books mean two things by a brine's strength: by weight of the whole, as "
            "here, or of the water; the second number is larger.",
        ),
        figures=(
            Figure(label="Acetic acid at rest", value=100 * pack.acetic_acid, unit="%"),
            Figure(label="Salt at rest", value=100 * pack.salt, unit="%"),
            Figure(
                label="Acetic acid as poured",
                value=100 * pack.cover_acetic_acid,
                unit="%",
            ),
            Figure(label="Salt as poured", value=100 * pack.cover_salt, unit="%"),
            Figure(label="Salt on the liquid alone", value=100 * in_water, unit="%"),
            Figure(label="Weight of that brine", value=heavy, unit="kg/m³"),
            Figure(label="All the liquid in the end", value=pack.liquid_kg, unit="kg"),
        ),
        picture=Picture(
            title="Acetic acid at rest by the vegetables in the pack",
            desc="The more vegetables go to the same brine, the weaker the pack: from "
            f"{acids[0]:.1f} % with a quarter of these vegetables to {acids[-1]:.1f} % "
            f"with two and a half times as many; {100 * pack.acetic_acid:.1f} % here.",
            x_label="vegetables, kg",
            y_label="% of acetic acid",
            lines=(line("acetic acid at rest", share, acids),),
            marks=(
                Mark(text="this pack", at=vegetables, upright=True, published=False),
                Mark(
                    text="brine as poured",
                    at=100 * pack.cover_acetic_acid,
                    upright=False,
                    published=False,
                ),
            ),
        ),
        table=Table(
            caption="The same brine on more vegetables",
            heads=("vegetables", "acetic acid at rest", "salt at rest"),
            rows=tuple(
                _row(part * vegetables, vinegar, water, salt, strength)
                for part in (0.5, 1.0, 1.5, 2.0)
            ),
        ),
        cautions=tuple(cautions),
        source="balance of acid and salt; densities of the CRC Handbook, 102nd ed.; pH "
        "by charge balance with Davies' activities",
        estimate=True,
    )


def _row(
    vegetables: float, vinegar: float, water: float, salt: float, strength: float
) -> tuple[str, ...]:
    pack = pack_at_rest(
        vegetables_kg=vegetables,
        vinegar_m3=vinegar,
        water_m3=water,
        salt_kg=salt,
        vinegar_acidity=strength,
    )
    return (
        kitchen_mass(vegetables),
        f"{100 * pack.acetic_acid:.2f} %",
        f"{100 * pack.salt:.2f} %",
    )
