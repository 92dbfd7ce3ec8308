"""How strong a pickle is once jar and brine have come to rest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.explaining.asking import FIELDS, Given
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
from stillroom.refusal import Caution, Fault, Refusal, Unreadable
from stillroom.science import acid, solutions
from stillroom.science.acid import ACIDS
from stillroom.science.pickle import Pack, pack_at_rest

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
GRAMS_IN_A_LITRE = 1000.0
"""Of a thin brine or of water; and so many kilograms in a cubic metre. [g/L]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Brine:
    """What goes into the pack, the vegetables apart."""

    vinegar_m3: float
    water_m3: float
    salt_kg: float
    strength: float
    """Acetic acid of the vinegar. [kg/L]"""

    def on(self, vegetables_kg: float) -> Pack:
        """Return the pack with so many vegetables, once it has come to rest."""
        return pack_at_rest(
            vegetables_kg=vegetables_kg,
            vinegar_m3=self.vinegar_m3,
            water_m3=self.water_m3,
            salt_kg=self.salt_kg,
            vinegar_acidity=self.strength,
        )

    @property
    def is_weak(self) -> bool:
        """Whether it has less 5 % vinegar than water, or a weaker one."""
        return self.strength < 0.05 - 1e-9 or self.vinegar_m3 < self.water_m3 - 1e-9


def explain(given: Given) -> Explanation | Refusal:
    """Say how salt and acid spread through the pack."""
    brine = _Brine(
        vinegar_m3=given["vinegar"],
        water_m3=given["water_in"],
        salt_kg=given["salt"],
        strength=given["strength"] / 100.0,
    )
    if brine.vinegar_m3 + brine.water_m3 <= 0.0:
        raise Unreadable(
            Fault(
                "no brine came: give vinegar, water or both",
                key=FIELDS["vinegar"].option,
            )
        )
    vegetables = given["vegetables"]
    pack = brine.on(vegetables)
    return Explanation(
        topic="brine",
        title="How strong a pickle is at rest",
        sentence=f"The brine goes in with {100 * pack.cover_acetic_acid:.1f} % of "
        f"acetic acid and {100 * pack.cover_salt:.1f} % of salt; with "
        f"{kitchen_mass(vegetables)} of vegetables it comes to rest at "
        f"{100 * pack.acetic_acid:.1f} % and {100 * pack.salt:.1f} %.",
        more=_more(pack),
        figures=_figures(brine, pack),
        picture=_picture(brine, vegetables),
        table=Table(
            caption="The same brine on more vegetables",
            heads=("vegetables", "acetic acid at rest", "salt at rest"),
            rows=tuple(_row(brine, part * vegetables) for part in (0.5, 1.0, 1.5, 2.0)),
        ),
        cautions=(HALF, TESTED_ONLY) if brine.is_weak else (TESTED_ONLY,),
        source="balance of acid and salt; densities of the CRC Handbook, 102nd ed.; pH "
        "by charge balance with Davies' activities",
        estimate=True,
    )


def _more(pack: Pack) -> tuple[str, ...]:
    in_brine, in_pack = _bare_ph(pack.cover_acetic_acid), _bare_ph(pack.acetic_acid)
    return (
        "Vegetables are mostly water, and acid and salt spread through all of it: the "
        "more is packed into the jar, the weaker the pickle. That is why a tested "
        "recipe says how much brine goes to how many vegetables.",
        f"The pure brine has a pH near {in_brine:.1f}, the same acid in all that water "
        f"near {in_pack:.1f}; vegetables buffer it and bring it higher, which no "
        "reckoning replaces: a tested recipe was measured.",
        "Books mean two things by a brine's strength: by weight of the whole, as here, "
        "or of the water; the second number is larger.",
    )


def _bare_ph(acetic_share: float) -> float:
    """The pH of so much acetic acid in water, without anything that buffers it."""
    mol_per_l = GRAMS_IN_A_LITRE * acetic_share / ACIDS["acetic"].molar_mass_g
    return acid.ph_of(acid.Sour(acids={"acetic": max(1e-6, mol_per_l)}))


def _figures(brine: _Brine, pack: Pack) -> tuple[Figure, ...]:
    liquid_kg = GRAMS_IN_A_LITRE * (brine.vinegar_m3 + brine.water_m3)
    on_liquid = float(solutions.salt_share(brine.salt_kg, max(0.001, liquid_kg)))
    heavy = solutions.density_at_20_c_kg_m3("salt", min(0.2, pack.cover_salt))
    return (
        Figure(label="Acetic acid at rest", value=100 * pack.acetic_acid, unit="%"),
        Figure(label="Salt at rest", value=100 * pack.salt, unit="%"),
        Figure(
            label="Acetic acid as poured", value=100 * pack.cover_acetic_acid, unit="%"
        ),
        Figure(label="Salt as poured", value=100 * pack.cover_salt, unit="%"),
        Figure(label="Salt on the liquid alone", value=100 * on_liquid, unit="%"),
        Figure(label="Weight of that brine", value=float(heavy), unit="kg/m³"),
        Figure(label="All the liquid in the end", value=pack.liquid_kg, unit="kg"),
    )


def _picture(brine: _Brine, vegetables_kg: float) -> Picture:
    pack = brine.on(vegetables_kg)
    share = np.linspace(0.25, 2.5, 40) * vegetables_kg
    acids = [100 * brine.on(float(kg)).acetic_acid for kg in share]
    return Picture(
        title="Acetic acid at rest by the vegetables in the pack",
        desc="The more vegetables go to the same brine, the weaker the pack: from "
        f"{acids[0]:.1f} % with a quarter of these vegetables to {acids[-1]:.1f} % "
        f"with two and a half times as many; {100 * pack.acetic_acid:.1f} % here.",
        x_label="vegetables, kg",
        x_also=POUNDS,
        y_label="% of acetic acid",
        lines=(line("acetic acid at rest", share, acids),),
        marks=(
            Mark(text="this pack", at=vegetables_kg, upright=True, published=False),
            Mark(
                text="brine as poured",
                at=100 * pack.cover_acetic_acid,
                upright=False,
                published=False,
            ),
        ),
    )


def _row(brine: _Brine, vegetables_kg: float) -> tuple[str, ...]:
    pack = brine.on(vegetables_kg)
    return (
        kitchen_mass(vegetables_kg),
        f"{100 * pack.acetic_acid:.2f} %",
        f"{100 * pack.salt:.2f} %",
    )
