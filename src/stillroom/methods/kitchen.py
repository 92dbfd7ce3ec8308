"""What one works with: air, fires, pots, canners, and where jars cool."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class Heat(StrEnum):
    """What a stove heats with; each loses a different share of its rated power."""

    GAS = "gas"
    COIL = "coil"
    GLASS_TOP = "glass-top"
    INDUCTION = "induction"


class CannerKind(StrEnum):
    """What holds the jars while they are processed."""

    BOILING_WATER = "boiling-water"
    DIAL_GAUGE = "dial-gauge"
    WEIGHTED_GAUGE = "weighted-gauge"


@dataclass(frozen=True, slots=True, kw_only=True)
class Burner:
    """One fire of the stove."""

    name: str
    power_w: float
    """Rated power, as on the plate. [W]"""
    largest_pot_m3: float | None = None
    """Largest pot that it bears. [m3]"""
    taken: tuple[tuple[dt.time, dt.time], ...] = ()
    """When it is somebody else's that day: the family's supper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """One pot."""

    name: str
    volume_m3: float
    """To the brim. [m3]"""
    material: str = "stainless"


@dataclass(frozen=True, slots=True, kw_only=True)
class Canner:
    """One canner, and the fires that it covers."""

    name: str
    kind: CannerKind
    stands_on: tuple[str, ...]
    """Names of the burners that it covers."""
    places: Mapping[str, int]
    """Jars of each size in one layer."""
    layers: Mapping[str, int] = field(default_factory=dict)
    """Layers it takes of a jar size; one where nothing is said."""
    volume_m3: float | None = None

    def holds(self, jar: str) -> int:
        """Jars of a size that it takes at once, all layers together."""
        return self.places.get(jar, 0) * self.layers.get(jar, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kitchen:
    """
    A kitchen. At least one of ``elevation_m`` and ``pressure_pa`` is known.

    The elevation chooses the band of a published process; a barometer tells today's
    air, and so where water boils today.
    """

    name: str
    elevation_m: float | None
    pressure_pa: float | None
    heat: Heat
    burners: tuple[Burner, ...]
    pots: tuple[Pot, ...]
    canners: tuple[Canner, ...]
    mills: int = 0
    sieves: int = 0
    """Sieves that soft fruit is put through by hand, where there is no mill."""
    counter_places: int = 0
    """Jars that can stand and cool at once."""
    cooling_min: int = 24 * 60
    """Minutes that a jar keeps its place on the counter."""
    boils_reading_k: float | None = None
    """What her thermometer reads in boiling water there, today. [K]"""
    ice_reading_k: float | None = None
    """What it reads in crushed ice with a little water. [K]"""
    metric: bool = False
    """She writes litres or metres of it: what she measures is said in litres and grams
    (docs/decisions/0111)."""
