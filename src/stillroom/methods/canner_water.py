"""
How long a boiling-water canner takes to heat and to come back to the boil.

These minutes place a load on the day. They never enter a process: its clock starts when
the keeper sees a full boil.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.book.jars import jar_volume_m3
from stillroom.methods.handling import spread_of, whole_min
from stillroom.methods.kitchen import Canner, CannerKind, Kitchen
from stillroom.methods.step import Spread
from stillroom.methods.today import AirToday
from stillroom.refusal import COMMON_PRACTICE, Refusal
from stillroom.science import kettle
from stillroom.science.ranges import OutOfRange

STOCKPOT_M3 = 21 * 9.46352946e-4
"""A stockpot canner of about 21 qt, where the keeper gives no volume."""
HOT_TAP_K = 273.15 + 50.0
HOT_PACK_K = 273.15 + (180.0 - 32.0) / 1.8
"""Water for hot-packed jars: 180 °F (USDA Complete Guide, Guide 1)."""
RAW_PACK_K = 273.15 + 60.0
"""Water for raw-packed jars: 140 °F (USDA Complete Guide, Guide 1)."""
RAW_JARS_AT_K = 273.15 + 45.0
"""Cold fruit under boiling liquid: an estimate."""
JARS_AT_K = 273.15 + 80.0
"""Filled jars as they go in, glass and food together: an estimate."""
WATER_HEAT = 4_190.0
JAR_HEAT = 3_000.0
"""Glass and food together: an estimate. [J/(kg K)]"""
JAR_KG_PER_M3 = 1_900.0
"""Filled jar with its glass over the volume it holds: an estimate. [kg/m3]"""
LOSS_W = 200.0
"""Lid on: an estimate. [W]"""
STAYS_HOT_MIN = 25
REST_MIN = 5
"""Heat off, lid off, then five minutes before the jars are lifted (published)."""
LOAD_S_PER_JAR = 12.0

STEAM_WATER_KG = 2.8
"""About 3 quarts, 2 to 3 inches deep in a pressure canner: published depth."""
VENT_MIN = 10
"""Steam streams so long from the open vent before that is closed (published). [min]"""
RISE_MIN = 5
"""From the vent closed to the pressure: the longer of 3 to 5 min. [min]"""
COOL_PINTS_MIN = 30
COOL_QUARTS_MIN = 45
OPEN_MIN = 10
"""Weight off, then so long before the lid: 2 min are printed, 10 advised today."""
PRESSURE_SOURCE = (
    "vent 10 min, 3 to 5 min to rise, cool by itself 30 (pints) or 45 min (quarts): "
    "Michigan State Univ. Extension leaflet 01600949; Pacific Northwest PNW 421"
)
BASIS = f"heat balance of water and jars; starting temperatures {COMMON_PRACTICE}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CannerTimes:
    """Minutes of a canner's round apart from the process. [min]"""

    first_heat_min: int
    """From hot tap water to 180 °F."""
    reheat_min: int
    """After it has stood longer than it stays hot."""
    stays_hot_min: int
    load_min: int
    come_up_min: int
    come_up_spread: Spread
    rest_min: int
    unload_min: int
    basis: str


def canner_times(
    canner: Canner,
    kitchen: Kitchen,
    air: AirToday,
    efficiency: float,
    *,
    jars: tuple[str, ...] = (),
    raw: bool = False,
) -> CannerTimes | Refusal:
    """
    Return the minutes of a canner on the fires that it covers, at a full load.

    ``jars`` are the sizes that it will hold that day; all that it takes where none is
    named. Small jars leave room for more water, large ones are more to heat: each size
    is reckoned by itself, and the longest of each minute stands for all. With ``raw``
    they are packed raw: they go into cooler water, and come up more slowly.
    """
    power = sum(b.power_w for b in kitchen.burners if b.name in canner.stands_on)
    held_m3: dict[str, float] = {}
    for jar in jars or tuple(canner.places):
        volume = jar_volume_m3(jar)
        if isinstance(volume, Refusal):
            return volume
        if canner.holds(jar):
            held_m3[jar] = volume * canner.holds(jar)
    most_m3 = max(held_m3.values(), default=0.0)
    most_jars = max((canner.holds(jar) for jar in held_m3), default=1)
    if canner.kind is not CannerKind.BOILING_WATER:
        return _under_pressure(
            canner, most_m3, most_jars, power, efficiency, air, jars, raw=raw
        )
    whole_m3 = canner.volume_m3 or max(STOCKPOT_M3, most_m3 * 1.6)
    try:
        rounds = [
            _heats(whole_m3, jars_m3, power, efficiency, air, raw=raw)
            for jars_m3 in held_m3.values() or (0.0,)
        ]
        first, again, come_up = (max(minutes) for minutes in zip(*rounds, strict=True))
    except OutOfRange:
        return Refusal(
            f"{canner.name} on {power / 1000:.1f} kW of {kitchen.heat.value} never "
            "comes to a full boil",
            instead="stand it on a stronger burner, or on two",
            source=BASIS,
        )
    return CannerTimes(
        first_heat_min=first,
        reheat_min=again,
        stays_hot_min=STAYS_HOT_MIN,
        load_min=whole_min(1 + most_jars * LOAD_S_PER_JAR / 60.0),
        come_up_min=come_up,
        come_up_spread=spread_of(come_up),
        rest_min=REST_MIN,
        unload_min=whole_min(1 + most_jars * LOAD_S_PER_JAR / 60.0),
        basis=BASIS,
    )


def _heats(
    whole_m3: float,
    jars_m3: float,
    power_w: float,
    efficiency: float,
    air: AirToday,
    *,
    raw: bool,
) -> tuple[int, int, int]:
    """Minutes of first heating, of heating again and up to the boil, for one size."""
    water_kg = max(0.3 * whole_m3, 0.92 * whole_m3 - 1.3 * jars_m3) * 1000.0
    first = _minutes(water_kg, HOT_TAP_K, HOT_PACK_K, power_w, efficiency)
    again = _minutes(water_kg, HOT_PACK_K - 20.0, HOT_PACK_K, power_w, efficiency)
    jars_kg = jars_m3 * JAR_KG_PER_M3
    mass = water_kg + jars_kg * JAR_HEAT / WATER_HEAT
    water_k, jars_k = (RAW_PACK_K, RAW_JARS_AT_K) if raw else (HOT_PACK_K, JARS_AT_K)
    start = (water_kg * water_k + jars_kg * JAR_HEAT / WATER_HEAT * jars_k) / mass
    come_up = _minutes(mass, start, air.water_boils_k, power_w, efficiency)
    return first, again, come_up


def _under_pressure(
    canner: Canner,
    most_m3: float,
    most_jars: int,
    power_w: float,
    efficiency: float,
    air: AirToday,
    jars: tuple[str, ...],
    *,
    raw: bool,
) -> CannerTimes | Refusal:
    """
    Minutes of a pressure canner: little water, venting, the rise, and cooling by
    itself.

    Cooling is never hurried, so it is taken for the largest jars that it holds.
    """
    jars_kg = most_m3 * JAR_KG_PER_M3
    try:
        first = _minutes(STEAM_WATER_KG, HOT_TAP_K, HOT_PACK_K, power_w, efficiency)
        to_steam = _minutes(
            STEAM_WATER_KG + jars_kg * JAR_HEAT / WATER_HEAT,
            RAW_JARS_AT_K if raw else JARS_AT_K,
            air.water_boils_k,
            power_w,
            efficiency,
        )
    except OutOfRange:
        return Refusal(
            f"{canner.name} on {power_w / 1000:.1f} kW never comes to steam",
            instead="stand it on a stronger burner",
            source=BASIS,
        )
    quarts = any(jar in ("quart", "half-gallon") for jar in jars or canner.places)
    come_up = to_steam + VENT_MIN + RISE_MIN
    return CannerTimes(
        first_heat_min=first,
        reheat_min=first,
        stays_hot_min=STAYS_HOT_MIN,
        load_min=whole_min(1 + most_jars * LOAD_S_PER_JAR / 60.0),
        come_up_min=come_up,
        come_up_spread=spread_of(come_up),
        rest_min=(COOL_QUARTS_MIN if quarts else COOL_PINTS_MIN) + OPEN_MIN,
        unload_min=whole_min(1 + most_jars * LOAD_S_PER_JAR / 60.0),
        basis=f"{BASIS}; {PRESSURE_SOURCE}",
    )


def _minutes(
    mass_kg: float, from_k: float, to_k: float, power_w: float, efficiency: float
) -> int:
    seconds = kettle.heating_s(
        mass_kg, WATER_HEAT, from_k, to_k, power_w, efficiency, LOSS_W
    )
    return whole_min(float(seconds) / 60.0)
