"""Today's air in this kitchen, and what it makes of boiling water."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stillroom.measures import feet, height
from stillroom.methods.kitchen import Kitchen
from stillroom.methods.thermometer import TwoPoints, calibrated
from stillroom.refusal import Caution, Refusal, Source
from stillroom.science import air, gel, water

HIGHEST_SEA_LEVEL_PA = 105_000.0
"""
Higher than a barometer reduced to sea level reads on all but the rarest days. [Pa]
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class AirToday:
    """Pressure, boiling point, jellying point, and the elevation for bands."""

    pressure_pa: float
    water_boils_k: float
    jelly_point_k: float
    elevation_ft: float
    """For published bands. Never lower than the kitchen can lie. [ft]"""
    basis: Source
    cautions: tuple[Caution, ...] = ()
    thermometer: TwoPoints | None = None
    """Hers, set right by boiling water; `None` where no reading is known."""

    def shown_k(self, temperature_k: float) -> float:
        """What her thermometer shows at a temperature; without one, the same. [K]"""
        if self.thermometer is None:
            return temperature_k
        return float(self.thermometer.line.reading_k(temperature_k))


def air_today(
    *, elevation_m: float | None = None, pressure_pa: float | None = None
) -> AirToday | Refusal:
    """
    Air of a kitchen from its elevation, a barometer in it, or both.

    The band of a published process goes by elevation. A barometer alone cannot tell
    weather from height, so the highest place at which it could read this is taken: the
    band may come out longer than need be, never shorter.

    Parameters
    ----------
    elevation_m : float, optional
        Elevation above sea level, -152 to 3,048. [m]
    pressure_pa : float, optional
        Station pressure: what a barometer in the kitchen reads, not reduced to sea
        level. [Pa]

    Returns
    -------
    AirToday or Refusal
        A refusal where neither is given, or where they cannot both be true.
    """
    if elevation_m is None and pressure_pa is None:
        return Refusal(
            "neither an elevation nor a barometer reading is known",
            instead="give the elevation of the kitchen, such as 2150ft or 655m",
            source="every published boiling-water table is banded by elevation",
        )
    if pressure_pa is None:
        assert elevation_m is not None
        pressure = float(air.pressure_pa(elevation_m))
        basis = Source(
            "US Standard Atmosphere 1976 at the kitchen's elevation; "
            "weather moves it by up to about 1 °C",
            "computed",
        )
        cautions: tuple[Caution, ...] = ()
    else:
        pressure = pressure_pa
        basis = Source("barometer in the kitchen", "keeper")
        cautions = ()
    if elevation_m is None:
        elevation_ft = feet(_highest_elevation_m(pressure))
        cautions = (
            Caution(
                f"no elevation was given: bands are taken for {height(elevation_ft)}, "
                "the highest place where this barometer could stand; give the "
                "elevation to get the band itself",
                "computed: US Standard Atmosphere 1976, on a day of high pressure",
            ),
        )
    else:
        elevation_ft = feet(elevation_m)
        standard = float(air.pressure_pa(elevation_m))
        if not 0.93 * standard <= pressure <= 1.05 * standard:
            return Refusal(
                f"a barometer at {height(elevation_ft)} does not read "
                f"{pressure / 100:,.0f} hPa; about {standard / 100:,.0f} hPa is usual "
                "there",
                instead="check the elevation, and whether the barometer is set to "
                "sea level (then say so)",
                source="US Standard Atmosphere 1976, give or take the weather",
            )
    boils = float(water.boiling_point_k(pressure))
    return AirToday(
        pressure_pa=pressure,
        water_boils_k=boils,
        jelly_point_k=float(gel.jelly_point_k(boils)),
        elevation_ft=elevation_ft,
        basis=basis,
        cautions=cautions,
    )


def air_in(kitchen: Kitchen) -> AirToday | Refusal:
    """Today's air in a kitchen, with its thermometer set right by boiling water."""
    air = air_today(elevation_m=kitchen.elevation_m, pressure_pa=kitchen.pressure_pa)
    if isinstance(air, Refusal) or kitchen.boils_reading_k is None:
        return air
    own = calibrated(kitchen.boils_reading_k, air, kitchen.ice_reading_k)
    return own if isinstance(own, Refusal) else replace(air, thermometer=own)


def _highest_elevation_m(pressure_pa: float) -> float:
    """Elevation at which a day of high pressure would still read so little."""
    usual_pa = pressure_pa * air.SEA_LEVEL_PRESSURE_PA / HIGHEST_SEA_LEVEL_PA
    return float(air.elevation_m(usual_pa))
