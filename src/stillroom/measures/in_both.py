"""One figure in both systems, US customary first, as the tables of the book have it."""

from __future__ import annotations

from stillroom.measures.words import FOOT_M
from stillroom.measures.write import celsius, fahrenheit


def both(temperature_k: float, places: int = 1) -> str:
    """
    Temperature in °F and °C.

    >>> both(373.15)
    '212.0 °F (100.0 °C)'
    """
    return (
        f"{fahrenheit(temperature_k):.{places}f} °F "
        f"({celsius(temperature_k):.{places}f} °C)"
    )


def apart(difference_k: float, *, signed: bool = False) -> str:
    """
    Difference of two temperatures in both scales.

    >>> apart(40 / 9), apart(-1, signed=True)
    ('8.0 °F (4.4 °C)', '-1.8 °F (-1.0 °C)')
    """
    sign = "+" if signed else ""
    return f"{difference_k * 1.8:{sign}.1f} °F ({difference_k:{sign}.1f} °C)"


def height(elevation_ft: float) -> str:
    """
    Height above the sea in feet and metres.

    >>> height(2150), height(2150.4), height(7545.93)
    ('2,150 ft (655 m)', '2,150 ft (655 m)', '7,546 ft (2,300 m)')
    """
    return f"{elevation_ft:,.0f} ft ({elevation_ft * float(FOOT_M):,.0f} m)"
