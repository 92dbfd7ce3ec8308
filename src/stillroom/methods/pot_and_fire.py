"""Whether this pot holds the batch, and this fire brings it back to the boil."""

from __future__ import annotations

from stillroom.methods.kitchen import Pot
from stillroom.methods.method import Recipe, Station
from stillroom.methods.solids import ROOM_K, mix_solids
from stillroom.refusal import COMMON_PRACTICE, Caution, Refusal
from stillroom.science import fire, kettle, syrup, water
from stillroom.science.ranges import OutOfRange

POT_TIMES = 4.0
"""A jelly foams up: the pot holds four times the dissolved mix."""
POT_SOURCE = (
    f"4 times the dissolved mix: {COMMON_PRACTICE}; it agrees with the 8 to 10 qt pots "
    "that published recipes name for 4 to 6 cups of juice"
)
POT_LOSS_W = 150.0
"""What an open pot at the boil loses to the room beside its steam (10 W/(m² K) over
0.2 m² of warm pot): an estimate. [W]"""
BOIL_RISE_K = 3.0
"""How far a sugared mix boils above water on its way to the set: an estimate. [K]"""
SLOW_RETURN_MIN = 8.0
WORST_RETURN_MIN = 15.0
RETURN_SOURCE = (
    f"a slow return to the boil breaks down pectin: {COMMON_PRACTICE} for the minutes"
)

_REACTIVE = ("copper", "iron", "cast iron", "galvanised", "galvanized", "brass", "zinc")
_METAL_SOURCE = "Penn State Extension, quick process pickles"


def reacts(pot: Pot) -> Refusal | None:
    """Refuse a metal that acid food dissolves."""
    if pot.material.casefold() in _REACTIVE:
        return Refusal(
            f"{pot.name} is {pot.material}: acid food takes up that metal",
            instead="use a stainless, enamel or glass-lined pot",
            source=_METAL_SOURCE,
        )
    return None


def metal_cautions(pot: Pot) -> tuple[Caution, ...]:
    """Warn of bare aluminium, which discolours and takes up a taste."""
    if pot.material.casefold() in ("aluminium", "aluminum"):
        return (
            Caution(
                f"{pot.name} is aluminium: bare aluminium and acid food do not agree; "
                "use it only if it is lined",
                "from memory, unconfirmed",
            ),
        )
    return ()


def net_w(burner_w: float, station: Station) -> float:
    """Power that an open pot on this fire takes up, over what it loses. [W]"""
    return burner_w * station.efficiency - POT_LOSS_W


def dissolved_m3(recipe: Recipe) -> float:
    """Volume of everything in the pot once the sugar is dissolved. [m3]"""
    wet = recipe.of_role("fruit", "liquid", "acid")
    volume = sum(part.volume_m3 or (part.mass_kg or 0.0) / 1000.0 for part in wet)
    sugar = sum(part.mass_kg or 0.0 for part in recipe.of_role("sugar"))
    return float(kettle.dissolved_volume_m3(volume, sugar))


def batch_words(recipe: Recipe) -> str:
    """Name what goes into one pot: "a batch of plum jelly", "9 × plum jelly"."""
    if recipe.multiple == 1:
        return f"a batch of {recipe.procedure.name}"
    return f"{recipe.multiple} × {recipe.procedure.name}"


def holds(needed_m3: float, pot: Pot, what: str, *, source: str) -> Refusal | None:
    """Refuse a pot that the batch would boil over."""
    if pot.volume_m3 + 1e-9 >= needed_m3:
        return None
    short = needed_m3 - pot.volume_m3
    return Refusal(
        f"{what} needs a pot of {litres_and_quarts(needed_m3)}; {pot.name} holds "
        f"{litres_and_quarts(pot.volume_m3)}, {short * 1000:.1f} L short",
        instead="use a larger pot, or a smaller published recipe; "
        "a tested batch is not trimmed",
        source=source,
    )


def litres_and_quarts(volume_m3: float) -> str:
    """
    A pot's size in both measures.

    >>> litres_and_quarts(0.0083)
    '8.3 L (8.8 qt)'
    """
    return f"{volume_m3 * 1000:.1f} L ({volume_m3 / 9.46352946e-4:.1f} qt)"


def heat_up_min(
    mass_kg: float, solids: float, station: Station, from_k: float
) -> float:
    """Minutes from a temperature to the boil on this fire."""
    to_k = station.air.water_boils_k
    capacity = float(syrup.heat_capacity_j_per_kg_k(solids, 0.5 * (from_k + to_k)))
    return (
        float(
            kettle.heating_s(
                mass_kg,
                capacity,
                from_k,
                to_k,
                station.burner.power_w,
                station.efficiency,
                POT_LOSS_W,
            )
        )
        / 60.0
    )


def back_to_boil_min(recipe: Recipe, station: Station) -> float | Refusal:
    """
    Minutes from the sugar going into a boiling pot to the next full boil.

    Cold sugar cools the pot; the fire then heats all of it to the boil again.
    """
    sugar = sum(part.mass_kg or 0.0 for part in recipe.of_role("sugar"))
    total, solids = mix_solids(recipe)
    rest = total - sugar
    boils = station.air.water_boils_k
    try:
        seconds = fire.back_to_boil_s(
            mix_kg=rest,
            mix_solids=min(0.6, max(0.0, (solids * total - sugar) / rest)),
            sugar_kg=sugar,
            boils_k=boils + BOIL_RISE_K,
            boiled_k=boils,
            burner_w=station.burner.power_w,
            efficiency=station.efficiency,
            sugar_k=ROOM_K,
            loss_w=POT_LOSS_W,
        )
    except OutOfRange:
        return _too_weak(station, "never brings it back to a full boil")
    minutes = float(seconds) / 60.0
    if minutes > WORST_RETURN_MIN:
        return _too_weak(station, f"takes {minutes:.0f} min back to a full boil")
    return minutes


def return_cautions(minutes: float, station: Station) -> tuple[Caution, ...]:
    """Warn where the pot is slow to boil again."""
    if minutes <= SLOW_RETURN_MIN:
        return ()
    return (
        Caution(
            f"{minutes:.0f} min back to the boil on {station.burner.name} is slow: "
            "warm the sugar, or use a stronger burner",
            RETURN_SOURCE,
        ),
    )


def latent_heat_here(station: Station) -> float:
    """Heat that a kilogram of steam takes away at this boil. [J/kg]"""
    return float(water.latent_heat_j_per_kg(station.air.water_boils_k))


def _too_weak(station: Station, what: str) -> Refusal:
    return Refusal(
        f"{station.burner.name} ({station.burner.power_w / 1000:.1f} kW, "
        f"{station.heat.value}) {what}",
        instead="use a stronger burner, or a single tested batch at a time",
        source=RETURN_SOURCE,
    )
