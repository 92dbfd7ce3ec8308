"""The kitchen of a day file: air, fires, pots, canners, and where jars cool."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.measures import writes_metric
from stillroom.methods.kitchen import (
    Burner,
    Canner,
    CannerKind,
    Heat,
    Kitchen,
    Pot,
)
from stillroom.methods.thermometer import calibrated
from stillroom.methods.today import air_today
from stillroom.planning.day import Span
from stillroom.planning.day_file.dayfile_fields import (
    FAHRENHEIT,
    FEET,
    HECTOPASCAL,
    HOUR,
    LITRE,
    WATT,
    Table,
    all_different,
    nearest,
)
from stillroom.planning.day_file.dayfile_spans import minutes_left, spans_of
from stillroom.planning.day_file.dayschema import (
    BAROMETERS,
    BOILS_READING_F,
    BURNER_W,
    CANNER_KINDS,
    COOLING_H,
    COUNTER,
    ELEVATION_FT,
    HEATS,
    ICE_READING_F,
    JARS,
    LAYERS,
    MILLS,
    PLACES,
    POT_L,
    PRESSURE_HPA,
)
from stillroom.refusal import Refusal
from stillroom.science.air import station_pressure_pa
from stillroom.toml_text import shown

_TWO_READINGS = (
    '"station" where the barometer hangs in the kitchen and is not set to sea level,'
    ' "sea-level" for what a weather report says'
)


def kitchen_of(table: Table, day: Span | None) -> Kitchen:
    """
    Read the kitchen; faults are noted in its tables.

    ``day`` is from when to when the day goes, where that is known.
    """
    elevation_m = table.measure("elevation", FEET, ELEVATION_FT)
    pressure_pa = _pressure_pa(table, elevation_m)
    if table.sound("elevation", "barometer", "barometer_is"):
        _check_air(table, elevation_m, pressure_pa)
    boils_k, ice_k = _thermometer(table, elevation_m, pressure_pa)
    burners = table.tables("burners", "kitchen.burners", "burner")
    pots = table.tables("pots", "kitchen.pots", "pot")
    canners = table.tables("canners", "kitchen.canners", "canner")
    fires = _burners(burners, day)
    cooling_min = table.measure("cooling", HOUR, COOLING_H)
    return Kitchen(
        name=table.text("name"),
        elevation_m=elevation_m,
        pressure_pa=pressure_pa,
        heat=Heat(table.choice("stove", HEATS, HEATS[0])),
        burners=fires,
        pots=_pots(pots),
        canners=_canners(canners, tuple(burner.name for burner in fires)),
        mills=table.whole("mills", MILLS, 0),
        sieves=table.whole("sieves", MILLS, 0),
        counter_places=table.whole("counter", COUNTER, 0),
        cooling_min=24 * 60 if cooling_min is None else int(cooling_min),
        boils_reading_k=boils_k,
        ice_reading_k=ice_k,
        metric=_writes_metric(table, *burners, *pots, *canners),
    )


def _writes_metric(*tables: Table) -> bool:
    """Whether the height, or what a pot or a canner holds, is in litres or metres."""
    keys = ("elevation", "volume", "largest_pot")
    typed = (table.raw(key) for table in tables for key in keys if table.has(key))
    return writes_metric(*map(str, typed))


def _pressure_pa(table: Table, elevation_m: float | None) -> float | None:
    """Return the pressure in the kitchen itself. [Pa]"""
    pressure_pa = table.measure("barometer", HECTOPASCAL, PRESSURE_HPA)
    which = table.choice("barometer_is", BAROMETERS, "station")
    if not table.has("barometer"):
        if table.has("barometer_is") and table.sound("barometer"):
            table.fault(
                "barometer_is", "there is no barometer reading that it is about"
            )
        return None
    if not table.has("barometer_is") and table.sound("barometer_is"):
        table.fault("barometer_is", f"say what the barometer shows: {_TWO_READINGS}")
    if which == "station" or pressure_pa is None:
        return pressure_pa
    if elevation_m is None:
        if table.sound("elevation"):
            what = "a sea-level reading tells the air here only with the elevation"
            table.fault("barometer", f'{what}; add elevation = "2150 ft"')
        return None
    if pressure_pa < 90_000.0:
        what = (
            f"{shown(table.raw('barometer'))} is no sea-level reading: none is so low"
        )
        table.fault("barometer", f"{what}; it may be {_TWO_READINGS}")
        return None
    return float(station_pressure_pa(pressure_pa, elevation_m))


def _check_air(
    table: Table, elevation_m: float | None, pressure_pa: float | None
) -> None:
    """Note a fault where the air is not known, or elevation and barometer disagree."""
    answer = air_today(elevation_m=elevation_m, pressure_pa=pressure_pa)
    if isinstance(answer, Refusal):
        key = "elevation" if pressure_pa is None else "barometer"
        table.fault(key, f"{answer.reason}; {answer.instead}")


def _thermometer(
    table: Table, elevation_m: float | None, pressure_pa: float | None
) -> tuple[float | None, float | None]:
    """Return what her thermometer reads in boiling water and in ice. [K]"""
    boils_k = table.measure("thermometer_boils", FAHRENHEIT, BOILS_READING_F)
    ice_k = table.measure("thermometer_ice", FAHRENHEIT, ICE_READING_F)
    if boils_k is None:
        if ice_k is not None and table.sound("thermometer_boils"):
            what = "ice alone does not set a thermometer right near the boil"
            table.fault("thermometer_ice", f"{what}; add thermometer_boils")
        return None, None
    if table.sound("elevation", "barometer", "barometer_is", "thermometer_ice"):
        air = air_today(elevation_m=elevation_m, pressure_pa=pressure_pa)
        own = air if isinstance(air, Refusal) else calibrated(boils_k, air, ice_k)
        if isinstance(own, Refusal) and not isinstance(air, Refusal):
            table.fault("thermometer_boils", f"{own.reason}; {own.instead}")
    return boils_k, ice_k


def _burners(tables: Sequence[Table], day: Span | None) -> tuple[Burner, ...]:
    burners = tuple(
        Burner(
            name=burner.text("name"),
            power_w=burner.measure("power", WATT, BURNER_W) or 1.0,
            largest_pot_m3=burner.measure("largest_pot", LITRE, POT_L),
            taken=_taken(burner, day),
        )
        for burner in tables
    )
    all_different(tables, [burner.name for burner in burners], "burners")
    return burners


def _taken(table: Table, day: Span | None) -> tuple[Span, ...]:
    """Read when a burner is somebody else's: within the day, and not all of it."""
    spans = spans_of(table, "taken")
    if day is None or not table.sound("taken"):
        return spans
    hours = f"the day, {day[0]:%H:%M} to {day[1]:%H:%M}"
    for start, end in spans:
        if end <= day[0] or start >= day[1]:
            what = f"{start:%H:%M} to {end:%H:%M} lies outside {hours}"
            table.fault("taken", f"{what}; give hours of the day, or take it out")
    if not minutes_left(day, spans):
        what = f"no minute of {hours}, is left beside it"
        table.fault("taken", f"{what}; leave the burner out, here and in `stands_on`")
    return spans


def _pots(tables: Sequence[Table]) -> tuple[Pot, ...]:
    pots = tuple(
        Pot(
            name=pot.text("name"),
            volume_m3=pot.measure("volume", LITRE, POT_L) or 1.0,
            material=pot.text("material", "stainless"),
        )
        for pot in tables
    )
    all_different(tables, [pot.name for pot in pots], "pots")
    return pots


def _canners(tables: Sequence[Table], burners: tuple[str, ...]) -> tuple[Canner, ...]:
    canners = tuple(_canner(canner, burners) for canner in tables)
    all_different(tables, [canner.name for canner in canners], "canners")
    return canners


def _canner(table: Table, burners: tuple[str, ...]) -> Canner:
    holds = _per_jar(table, "holds", PLACES, JARS)
    layers = _per_jar(table, "layers", LAYERS, tuple(holds))
    return Canner(
        name=table.text("name"),
        kind=CannerKind(table.choice("kind", CANNER_KINDS, CANNER_KINDS[0])),
        stands_on=table.words("stands_on", burners, "burners"),
        places=holds,
        layers=layers,
        volume_m3=table.measure("volume", LITRE, POT_L),
    )


def _per_jar(
    table: Table, key: str, limits: tuple[int, int], jars: tuple[str, ...]
) -> dict[str, int]:
    """Read a whole number for each jar size, ``{ pint = 9, quart = 7 }``."""
    if not table.has(key):
        return {}
    value = table.raw(key)
    if not isinstance(value, dict) or not value:
        form = f"{key} = {{ pint = {max(1, limits[0])} }}"
        table.fault(key, f"{shown(value)} stands here; write for each jar size: {form}")
        return {}
    counts: dict[str, int] = {}
    for jar, count in value.items():
        if jar in jars:
            counts[jar] = table.whole_value(key, count, limits, limits[0])
        else:
            near = nearest(jar, jars)
            known = ", ".join(jars) or "none"
            table.fault(key, f"{shown(jar)} is no jar size here{near} Allowed: {known}")
    return counts
