"""Jelly in a jar on the counter: how long its middle stays soft, as an estimate."""

from __future__ import annotations

import numpy as np

from stillroom.science.cylinder import history_k
from stillroom.science.estimate import Estimate
from stillroom.science.jar import SOURCE, jar_in_air, with_diffusivity
from stillroom.science.ranges import OutOfRange, within


def time_to_set(
    size: str, setting: Estimate, *, filled_k: float, room_k: float = 293.15
) -> Estimate:
    """
    How long a jar on the counter stays soft in the middle.

    Parameters
    ----------
    size : str
        ``half-pint``, ``pint`` or ``quart``.
    setting : Estimate
        From `gel.setting_temperature`. [K]
    filled_k : float
        The whole jar as it is set down, 323.15 to 383.15. [K]
    room_k : float
        278.15 to 308.15. [K]

    Returns
    -------
    Estimate
        Minutes; 0 where it sets at once.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or the room is too warm for it to set.

    Examples
    --------
    >>> from stillroom.science.gel import setting_temperature
    >>> print(time_to_set("half-pint", setting_temperature(0.62), filled_k=358.15))
    73 min (53 to 101; an estimate: a half-pint cooling in air at 20 °C)
    """
    jar = jar_in_air(size)
    filled = within(
        "filled_k",
        filled_k,
        323.15,
        383.15,
        source="jars just filled or lifted",
        hint="Give kelvin: °C + 273.15.",
    )
    room = within(
        "room_k",
        room_k,
        278.15,
        308.15,
        source="kitchens",
        hint="Give kelvin: °C + 273.15.",
    )
    if setting.low <= room + 1.0:
        raise OutOfRange(
            f"the room, {room - 273.15:.0f} °C, is no colder than the setting "
            f"temperature, {setting.low - 273.15:.0f} °C: cool the jars elsewhere."
        )
    time = np.arange(0.0, 24 * 3600.0, 60.0)
    ends = [0.0, time[-1]]

    def soft_min(share: int, until_k: float) -> float:
        middle = history_k(
            with_diffusivity(jar, share), ends, [room, room], filled, time
        )
        falling = middle[::-1]
        return float(np.interp(until_k, falling, time[::-1])) / 60.0

    return Estimate(
        value=soft_min(1, setting.value),
        unit="min",
        low=soft_min(2, setting.high),
        high=soft_min(0, setting.low),
        basis=f"a {size} cooling in air at {room - 273.15:.0f} °C",
        source=f"{SOURCE}; setting temperature: {setting.source}",
    )
