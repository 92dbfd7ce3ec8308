"""How long packets take to freeze and to thaw, and how much a freezer bears a day."""

from __future__ import annotations

import numpy as np

from stillroom.book.freezing_packs import freezer_load_rule_kg_m3, freezing_rules
from stillroom.explaining.asking import Given
from stillroom.explaining.explanation import (
    KELVIN,
    Explanation,
    Figure,
    Mark,
    Picture,
    Table,
    estimated,
    line,
)
from stillroom.measures import INCH_M, inches, kitchen_mass
from stillroom.refusal import Caution, Refusal
from stillroom.science import cold, solutions, syrup
from stillroom.science.cold import Shape

ASKS = ("thick", "moisture", "room", "freezes_at", "freezer")
FRIDGE_K, COLD_WATER_K = 277.15, 288.15
THAW_COLD = Caution(
    "thaw in the refrigerator, or wrapped in cold water that is changed; not on the "
    "counter overnight",
    "from memory, unconfirmed",
)


def explain(given: Given) -> Explanation | Refusal:
    """Say how long a packet of this thickness freezes and thaws."""
    size, wet = float(given["thick"]), given["moisture"] / 100.0
    start, around = float(given["room"]), float(given["freezes_at"])
    hours = cold.estimated_freezing(
        Shape.SLAB, size, water_share=wet, start_k=start, around_k=around
    )
    thaw = {
        words: cold.estimated_thawing(
            Shape.SLAB, size, water_share=wet, around_k=kelvin, in_water=in_water
        )
        for words, kelvin, in_water in (
            ("refrigerator", FRIDGE_K, False),
            ("cold water", COLD_WATER_K, True),
        )
    }
    careful, utmost = cold.freezer_load_kg(given["freezer"], freezer_load_rule_kg_m3())
    freezes = float(syrup.freezing_point_k(min(0.42, 1.0 - wet)))
    heat = float(
        cold.heat_to_freeze_j_per_kg(
            above_j_per_kg_k=1_400.0 + 2_800.0 * wet,
            start_k=start,
            freezes_k=271.95,
            latent_heat_j_per_kg=334e3 * wet,
            below_j_per_kg_k=1_100.0 + 1_000.0 * wet,
            end_k=around,
        )
    )
    thick = np.linspace(0.01, max(0.1, 1.5 * size), 30)
    many = [
        cold.estimated_freezing(
            Shape.SLAB, float(t), water_share=wet, start_k=start, around_k=around
        )
        for t in thick
    ]
    bare = float(
        cold.plank_s(
            Shape.SLAB,
            size,
            density_kg_m3=1000.0,
            latent_heat_j_per_kg=334e3 * wet,
            freezes_k=271.95,
            around_k=around,
            surface_w_m2_k=8.0,
            conductivity_w_per_m_k=1.5,
        )
    )
    rule = freezing_rules()
    return Explanation(
        topic="freezer",
        title="How long it freezes, and how long it thaws",
        sentence=f"A packet {inches(size):.1f} in ({100 * size:.1f} cm) thick, with "
        "air "
        f"on both sides, is frozen through in about {hours.value:.0f} h "
        f"({hours.low:.0f} to {hours.high:.0f}) and thaws in the refrigerator in about "
        f"{thaw['refrigerator'].value:.0f} h.",
        more=(
            "Flat packets freeze fast: twice as thick takes more than twice as long. "
            "Stacked they are one thick packet, so spread them until they are hard.",
            f"A freezer of {1000 * given['freezer']:.0f} L takes "
            f"{kitchen_mass(float(careful))} to {kitchen_mass(float(utmost))} of "
            "unfrozen "
            "food in a day (published: 2 to 3 lb for each cubic foot); more warms what "
            "is in it.",
            "A bag that thaws gives its heat through what has thawed already, which "
            "leads heat badly: that is why thawing is slower than freezing.",
        ),
        figures=(
            estimated("Frozen through", hours, "h"),
            Figure(label="of it for the freezing alone", value=bare / 3600.0, unit="h"),
            *(
                estimated(
                    f"Thaws in the {words}"
                    if words == "refrigerator"
                    else f"Thaws in {words}",
                    one,
                    "h",
                )
                for words, one in thaw.items()
            ),
            Figure(
                label="Freezer takes in a day, careful", value=float(careful), unit="kg"
            ),
            Figure(label="at the utmost", value=float(utmost), unit="kg"),
            Figure(
                label="Sweet juice of that water begins to freeze at",
                value=freezes,
                unit=KELVIN,
            ),
            Figure(
                label="A 5 % brine begins to freeze at",
                value=float(solutions.brine_freezing_point_k(0.05)),
                unit=KELVIN,
            ),
            Figure(label="Heat to take out of each kg", value=heat / 1000.0, unit="kJ"),
        ),
        picture=Picture(
            title="Hours to freeze by the thickness of the packet",
            desc="The hours climb faster than the thickness; the band is the spread of "
            f"home freezers. This packet takes about {hours.value:.0f} h. Published "
            "advice is a day's load that is hard within 24 h.",
            x_label="thickness, cm",
            y_label="h",
            lines=(
                line(
                    "frozen through, an estimate",
                    100 * thick,
                    [one.value for one in many],
                    [one.low for one in many],
                    [one.high for one in many],
                ),
            ),
            marks=(
                Mark(text="24 h: the published load rule", at=24.0, upright=False),
                Mark(text="this packet", at=100 * size, upright=True, published=False),
            ),
        ),
        table=Table(
            caption="Hours by thickness",
            heads=("thickness", "freezes", "thaws, refrigerator", "thaws, cold water"),
            rows=tuple(
                _row(inches, wet, start, around) for inches in (0.5, 1, 2, 3, 4)
            ),
        ),
        cautions=(THAW_COLD,),
        source=f"{hours.source}; load: {rule['load low'][1]}; freezing points: CRC "
        "Handbook, 102nd ed.",
        estimate=True,
    )


def _row(thick_in: float, wet: float, start: float, around: float) -> tuple[str, ...]:
    size = thick_in * float(INCH_M)
    freeze = cold.estimated_freezing(
        Shape.SLAB, size, water_share=wet, start_k=start, around_k=around
    )
    fridge, water = (
        cold.estimated_thawing(
            Shape.SLAB, size, water_share=wet, around_k=kelvin, in_water=in_water
        )
        for kelvin, in_water in ((FRIDGE_K, False), (COLD_WATER_K, True))
    )
    return (
        f"{thick_in:g} in ({100 * size:.1f} cm)",
        *(
            f"{one.value:.0f} h ({one.low:.0f} to {one.high:.0f})"
            for one in (freeze, fridge, water)
        ),
    )
