"""
Her own thermometer: where to stop a boiled-down jelly on it, whatever it reads.

What counts is eight degrees Fahrenheit above boiling water *on the same thermometer*,
the same day: then neither its error nor the weather matters.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.methods.today import AirToday
from stillroom.refusal import Refusal, Source
from stillroom.science import gel

MOST_OFF_K = 3.0
"""A thermometer further off than this in boiling water is broken: common practice."""
SHEET_TEST_BEFORE_K = 3.5 / 1.8
"""The sheet test is asked for so long before: a rich juice is there early."""
SOURCE = Source(
    "USDA Complete Guide, Guide 7: 8 °F above the boiling point of water", "looked_up"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnThermometer:
    """Readings on the keeper's thermometer, and how far it is off. [K]"""

    boils_reading_k: float
    stop_reading_k: float
    sheet_test_from_k: float
    reads_high_k: float
    """Positive where it reads too high."""
    source: Source


def own_thermometer(boils_reading_k: float, air: AirToday) -> OwnThermometer | Refusal:
    """
    Return where to stop on a thermometer that was read in boiling water today.

    Parameters
    ----------
    boils_reading_k : float
        What it reads in water at a full boil, here and today. [K]
    air : AirToday
        Today's air, to say how far it is off.

    Returns
    -------
    OwnThermometer or Refusal
        A refusal where it is so far off that it cannot be trusted.
    """
    off = boils_reading_k - air.water_boils_k
    if abs(off) > MOST_OFF_K:
        return Refusal(
            f"this thermometer reads {abs(off) * 1.8:.1f} °F "
            f"{'above' if off > 0 else 'below'} what boiling water has here today",
            instead="check that the water was at a full boil, the bulb off the bottom "
            "and the reading in the right unit; else use another thermometer, and the "
            "sheet test",
            source="IAPWS R7-97 at today's air; a weather swing is under 2 °F",
        )
    stop = float(gel.jelly_point_k(boils_reading_k))
    return OwnThermometer(
        boils_reading_k=boils_reading_k,
        stop_reading_k=stop,
        sheet_test_from_k=stop - SHEET_TEST_BEFORE_K,
        reads_high_k=off,
        source=SOURCE,
    )
