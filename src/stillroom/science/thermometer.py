"""
A thermometer set right by two points: crushed ice, and water boiling here today.

What it says in between follows by a straight line. With the boil alone, its error there
is taken for its error everywhere.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.science.ranges import Floats, OutOfRange, within

ICE_K = 273.15
MOST_APART_K = 3.0
"""Two errors further apart than this are no straight line: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """
    A straight line from readings to temperatures.

    ``temperature = ICE_K + slope (reading - ice_reading_k)``.
    """

    ice_reading_k: float
    slope: float
    boil_off_k: float
    """What it reads too high in boiling water. [K]"""
    ice_off_k: float | None
    """What it reads too high in ice; ``None`` where only water was boiled. [K]"""

    def temperature_k(self, reading_k: Floats) -> Floats:
        """
        True temperature behind a reading.

        Parameters
        ----------
        reading_k : float or ndarray
            What it shows, 233.15 to 573.15. [K]

        Returns
        -------
        float or ndarray
            Temperature. [K]
        """
        return ICE_K + self.slope * (_reading("reading_k", reading_k) - self._zero)

    def reading_k(self, temperature_k: Floats) -> Floats:
        """
        What this thermometer shows at a temperature: where to stop on it.

        Parameters
        ----------
        temperature_k : float or ndarray
            True temperature, 233.15 to 573.15. [K]

        Returns
        -------
        float or ndarray
            Reading. [K]
        """
        true = _reading("temperature_k", temperature_k)
        return self._zero + (true - ICE_K) / self.slope

    @property
    def _zero(self) -> float:
        return self.ice_reading_k


def calibration(
    *, boil_reading_k: float, water_boils_k: float, ice_reading_k: float | None = None
) -> Calibration:
    """
    Set a thermometer right by water boiling today, and by ice where it was read too.

    Parameters
    ----------
    boil_reading_k : float
        What it shows in water at a full boil. [K]
    water_boils_k : float
        Where water boils today in this kitchen, 353.15 to 378.15. [K]
    ice_reading_k : float, optional
        What it shows in crushed ice with a little water, after half a minute. [K]

    Returns
    -------
    Calibration
        From readings to temperatures and back.

    Raises
    ------
    OutOfRange
        If the thermometer is off by more than 10 K in either, or its two errors lie
        more than 3 K apart: then it is broken, or a reading is in the wrong unit.

    Examples
    --------
    >>> mine = calibration(boil_reading_k=371.15, water_boils_k=369.80,
    ...     ice_reading_k=274.15)
    >>> print(f"{mine.temperature_k(375.15) - 273.15:.2f} °C")
    100.64 °C

    References
    ----------
    .. [1] Straight line through the ice point, 0 °C, and the boiling point of the day.
    """
    boils = within(
        "water_boils_k",
        water_boils_k,
        353.15,
        378.15,
        source="boiling water in a kitchen, 80 to 105 °C",
        hint="Take it from today's air, in kelvin.",
    )
    boil_off = _off("boil_reading_k", boil_reading_k, boils)
    if ice_reading_k is None:
        return Calibration(
            ice_reading_k=ICE_K + boil_off,
            slope=1.0,
            boil_off_k=boil_off,
            ice_off_k=None,
        )
    ice_off = _off("ice_reading_k", ice_reading_k, ICE_K)
    if abs(boil_off - ice_off) > MOST_APART_K:
        raise OutOfRange(
            f"this thermometer is off by {ice_off:+.1f} K in ice and {boil_off:+.1f} K "
            f"in boiling water, more than {MOST_APART_K:g} K apart (common practice): "
            "repeat both readings, the bulb clear of the bottom; else take another "
            "thermometer."
        )
    slope = (boils - ICE_K) / (boil_reading_k - ice_reading_k)
    return Calibration(
        ice_reading_k=float(ice_reading_k),
        slope=slope,
        boil_off_k=boil_off,
        ice_off_k=ice_off,
    )


def _off(name: str, reading_k: float, true_k: float) -> float:
    """How far a reading is off, questioned where it cannot be."""
    reading = within(
        name,
        reading_k,
        true_k - 10.0,
        true_k + 10.0,
        source="thermometers that can be set right, 10 K either way",
        hint="Give kelvin: °C + 273.15; was it read in °F?",
    )
    return reading - true_k


def _reading(name: str, value: Floats) -> Floats:
    return within(
        name,
        value,
        233.15,
        573.15,
        source="kitchen thermometers, -40 to 300 °C",
        hint="Give kelvin: °C + 273.15.",
    )
