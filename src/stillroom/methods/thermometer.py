"""
Her own thermometer: where to stop a boiled-down jelly on it, whatever it reads.

What counts is eight degrees Fahrenheit above boiling water *on the same thermometer*,
the same day: then neither its error nor the weather matters.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stillroom.measures import apart
from stillroom.refusal import COMMON_PRACTICE, Refusal, Source
from stillroom.science.thermometer import (
    ICE_K,
    MOST_APART_K,
    Calibration,
    calibration,
)

if TYPE_CHECKING:  # the air of a kitchen holds its thermometer
    from stillroom.methods.today import AirToday

MOST_SET_RIGHT_K = 10.0
"""A thermometer further off than this is not set right: common practice."""
SHEET_TEST_BEFORE_K = 3.5 / 1.8
"""The sheet test is asked for so long before: a rich juice is there early."""
SOURCE = Source(
    "USDA Complete Guide, Guide 7: 8 °F above the boiling point of water", "looked_up"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoPoints:
    """A thermometer set right by boiling water, and by ice where it was read too."""

    line: Calibration
    """From readings to temperatures and back."""
    stop_reading_k: float
    """Where to stop a boiled-down jelly on it. [K]"""
    sheet_test_from_k: float
    boil_off_k: float
    """What it reads too high in boiling water. [K]"""
    ice_off_k: float | None
    source: Source


def calibrated(
    boils_reading_k: float, air: AirToday, ice_reading_k: float | None = None
) -> TwoPoints | Refusal:
    """
    Set a thermometer right by two points: ice, and water boiling here today.

    Parameters
    ----------
    boils_reading_k : float
        What it reads in water at a full boil. [K]
    air : AirToday
        Today's air: it says where water boils.
    ice_reading_k : float, optional
        What it reads in crushed ice with a little water. [K]

    Returns
    -------
    TwoPoints or Refusal
        A refusal where it is more than 10 K off, or its two errors lie more than 3 K
        apart: a straight line no longer sets it right.
    """
    pairs = [("boiling water", boils_reading_k, air.water_boils_k)]
    wet = ""
    if ice_reading_k is not None:
        pairs.append(("ice", ice_reading_k, ICE_K))
        wet = ", the ice crushed and wet"
    offs = {where: reads - true for where, reads, true in pairs}
    told = ", ".join(
        f"{apart(off, signed=True)} in {where}" for where, off in offs.items()
    )
    if any(abs(off) > MOST_SET_RIGHT_K for off in offs.values()):
        return Refusal(
            f"this thermometer is off by {told}: more than "
            f"{apart(MOST_SET_RIGHT_K)} is not set right any more",
            instead="check that each reading is in the right unit (°F or °C) and the "
            f"water was at a full boil{wet}; else take another thermometer",
            source=COMMON_PRACTICE,
        )
    if max(offs.values()) - min(offs.values()) > MOST_APART_K:
        return Refusal(
            f"this thermometer is off by {told}: more than {apart(MOST_APART_K)} "
            "apart, so it is no straight line",
            instead="repeat both readings, the bulb clear of the bottom; if they "
            "stand, "
            "take another thermometer",
            source=COMMON_PRACTICE,
        )
    line = calibration(
        boil_reading_k=boils_reading_k,
        water_boils_k=air.water_boils_k,
        ice_reading_k=ice_reading_k,
    )
    stop = float(line.reading_k(air.jelly_point_k))
    return TwoPoints(
        line=line,
        stop_reading_k=stop,
        sheet_test_from_k=stop - SHEET_TEST_BEFORE_K,
        boil_off_k=line.boil_off_k,
        ice_off_k=line.ice_off_k,
        source=SOURCE,
    )
