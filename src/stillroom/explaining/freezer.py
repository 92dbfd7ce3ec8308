"""How long packets take to freeze and to thaw, and how much a freezer bears a day."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stillroom.book.freezing_packs import freezer_load_rule_kg_m3, freezing_rules
from stillroom.explaining.asking import Given
from stillroom.explaining.explanation import (
    INCHES,
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
from stillroom.science.estimate import Estimate

ASKS = ("thick", "moisture", "room", "freezes_at", "freezer")
FRIDGE_K, COLD_WATER_K = 277.15, 288.15
FREEZES_K = 271.95
"""Where fruit and juice begin to freeze, -1.2 °C: as `cold` takes it. [K]"""
ICE_J_PER_KG = 334e3
"""Latent heat of water. [J/kg]"""
THAW_COLD = Caution(
    "thaw in the refrigerator, or wrapped in cold water that is changed; not on the "
    "counter overnight",
    "from memory, unconfirmed",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Packet:
    """A packet as it was asked about."""

    thick_m: float
    water_share: float
    start_k: float
    around_k: float
    """Of the freezer. [K]"""

    def freezing(self, thick_m: float) -> Estimate:
        """Hours to freeze a packet like this of another thickness. [h]"""
        return cold.estimated_freezing(
            Shape.SLAB,
            thick_m,
            water_share=self.water_share,
            start_k=self.start_k,
            around_k=self.around_k,
        )

    def thawing(self, thick_m: float) -> tuple[Estimate, Estimate]:
        """Hours to thaw it in a refrigerator, and in cold water. [h]"""
        fridge, in_water = (
            cold.estimated_thawing(
                Shape.SLAB,
                thick_m,
                water_share=self.water_share,
                around_k=around_k,
                in_water=wet,
            )
            for around_k, wet in ((FRIDGE_K, False), (COLD_WATER_K, True))
        )
        return fridge, in_water


def explain(given: Given) -> Explanation | Refusal:
    """Say how long a packet of this thickness freezes and thaws."""
    packet = _Packet(
        thick_m=float(given["thick"]),
        water_share=given["moisture"] / 100.0,
        start_k=float(given["room"]),
        around_k=float(given["freezes_at"]),
    )
    size = packet.thick_m
    hours = packet.freezing(size)
    fridge, _ = packet.thawing(size)
    load = cold.freezer_load_kg(given["freezer"], freezer_load_rule_kg_m3())
    return Explanation(
        topic="freezer",
        title="How long it freezes, and how long it thaws",
        sentence=f"A packet {inches(size):.1f} in ({100 * size:.1f} cm) thick, with "
        f"air on both sides, is frozen through in about {hours.value:.0f} h "
        f"({hours.low:.0f} to {hours.high:.0f}) and thaws in the refrigerator in about "
        f"{fridge.value:.0f} h.",
        more=_more(given["freezer"], load),
        figures=_figures(packet, load),
        picture=_picture(packet),
        table=Table(
            caption="Hours by thickness",
            heads=("thickness", "freezes", "thaws, refrigerator", "thaws, cold water"),
            rows=tuple(_row(packet, thick_in) for thick_in in (0.5, 1, 2, 3, 4)),
        ),
        cautions=(THAW_COLD,),
        source=f"{hours.source}; load: {freezing_rules()['load low'][1]}; freezing "
        "points: CRC Handbook, 102nd ed.",
        estimate=True,
    )


def _more(freezer_m3: float, load: tuple[float, float]) -> tuple[str, ...]:
    careful, utmost = load
    return (
        "Flat packets freeze fast: twice as thick takes more than twice as long. "
        "Stacked they are one thick packet, so spread them until they are hard.",
        f"A freezer of {1000 * freezer_m3:.0f} L takes {kitchen_mass(float(careful))} "
        f"to {kitchen_mass(float(utmost))} of unfrozen food in a day (published: 2 to "
        "3 lb for each cubic foot); more warms what is in it.",
        "A bag that thaws gives its heat through what has thawed already, which leads "
        "heat badly: that is why thawing is slower than freezing.",
    )


def _figures(packet: _Packet, load: tuple[float, float]) -> tuple[Figure, ...]:
    careful, utmost = load
    fridge, in_water = packet.thawing(packet.thick_m)
    sweet = float(syrup.freezing_point_k(min(0.42, 1.0 - packet.water_share)))
    return (
        estimated("Frozen through", packet.freezing(packet.thick_m), "h"),
        Figure(
            label="of it for the freezing alone",
            value=_freezing_alone_s(packet) / 3600.0,
            unit="h",
        ),
        estimated("Thaws in the refrigerator", fridge, "h"),
        estimated("Thaws in cold water", in_water, "h"),
        Figure(
            label="Freezer takes in a day, careful", value=float(careful), unit="kg"
        ),
        Figure(label="at the utmost", value=float(utmost), unit="kg"),
        Figure(
            label="Sweet juice of that water begins to freeze at",
            value=sweet,
            unit=KELVIN,
        ),
        Figure(
            label="A 5 % brine begins to freeze at",
            value=float(solutions.brine_freezing_point_k(0.05)),
            unit=KELVIN,
        ),
        Figure(
            label="Heat to take out of each kg",
            value=_heat_j_per_kg(packet) / 1000.0,
            unit="kJ",
        ),
    )


def _heat_j_per_kg(packet: _Packet) -> float:
    """Heat to take out, with food taken as water and dry matter side by side. [J/kg]"""
    wet = packet.water_share
    return float(
        cold.heat_to_freeze_j_per_kg(
            above_j_per_kg_k=1_400.0 + 2_800.0 * wet,
            start_k=packet.start_k,
            freezes_k=FREEZES_K,
            latent_heat_j_per_kg=ICE_J_PER_KG * wet,
            below_j_per_kg_k=1_100.0 + 1_000.0 * wet,
            end_k=packet.around_k,
        )
    )


def _freezing_alone_s(packet: _Packet) -> float:
    """Time for the latent heat, chilling before and after left out. [s]"""
    return float(
        cold.plank_s(
            Shape.SLAB,
            packet.thick_m,
            density_kg_m3=1000.0,
            latent_heat_j_per_kg=ICE_J_PER_KG * packet.water_share,
            freezes_k=FREEZES_K,
            around_k=packet.around_k,
            surface_w_m2_k=8.0,
            conductivity_w_per_m_k=1.5,
        )
    )


def _picture(packet: _Packet) -> Picture:
    thick = np.linspace(0.01, max(0.1, 1.5 * packet.thick_m), 30)
    many = [packet.freezing(float(thick_m)) for thick_m in thick]
    hours = packet.freezing(packet.thick_m)
    return Picture(
        title="Hours to freeze by the thickness of the packet",
        desc="The hours climb faster than the thickness; the band is the spread of "
        f"home freezers. This packet takes about {hours.value:.0f} h. Published advice "
        "is a day's load that is hard within 24 h.",
        x_label="thickness, cm",
        x_also=INCHES,
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
            Mark(
                text="this packet",
                at=100 * packet.thick_m,
                upright=True,
                published=False,
            ),
        ),
    )


def _row(packet: _Packet, thick_in: float) -> tuple[str, ...]:
    size = thick_in * float(INCH_M)
    return (
        f"{thick_in:g} in ({100 * size:.1f} cm)",
        *(
            f"{one.value:.0f} h ({one.low:.0f} to {one.high:.0f})"
            for one in (packet.freezing(size), *packet.thawing(size))
        ),
    )
