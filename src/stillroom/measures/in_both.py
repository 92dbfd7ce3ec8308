"""One figure in both systems, US customary first, as the tables of the book have it."""

from __future__ import annotations

from stillroom.measures.words import FOOT_M, INCH_M
from stillroom.measures.write import celsius, fahrenheit, mixed_number


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


def depth(depth_in: float) -> str:
    """
    Headspace in inches, as a kitchen says them, and millimetres.

    >>> depth(0.25), depth(0.5), depth(1.0), depth(1.25)
    ('1/4 in (6 mm)', '1/2 in (13 mm)', '1 in (25 mm)', '1 1/4 in (32 mm)')
    """
    return f"{mixed_number(depth_in)} in ({depth_in * float(INCH_M) * 1000:.0f} mm)"


def height(elevation_ft: float) -> str:
    """
    Height above the sea in feet and metres.

    >>> height(2150), height(2150.4), height(7545.93)
    ('2,150 ft (655 m)', '2,150 ft (655 m)', '7,546 ft (2,300 m)')
    """
    return f"{elevation_ft:,.0f} ft ({elevation_ft * float(FOOT_M):,.0f} m)"
