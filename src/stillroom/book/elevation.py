"""How high a kitchen may lie: from where to where the published tables go."""

from __future__ import annotations

from stillroom.measures import feet, height, read_height_m
from stillroom.refusal import Unreadable

LOWEST_ELEVATION_FT = -500.0
HIGHEST_ELEVATION_FT = 10_000.0
"""Where the tables of boiling water end; rows "above" an elevation reach no further."""
_HAIR_FT = 1e-6
"""So that 10000 ft typed in metres does not fall off the end by rounding. [ft]"""


def read_elevation_m(text: str) -> float:
    """
    Read the height of a kitchen, within what the tables know. [m]

    Raises
    ------
    Unreadable
        If it is no height, or one beyond the tables.
    """
    metres = read_height_m(text)
    low, high = LOWEST_ELEVATION_FT - _HAIR_FT, HIGHEST_ELEVATION_FT + _HAIR_FT
    if not low <= feet(metres) <= high:
        raise Unreadable(
            f"{text} is outside {height(LOWEST_ELEVATION_FT)} to "
            f"{height(HIGHEST_ELEVATION_FT)}, where published tables end; give the "
            "height of the kitchen above the sea"
        )
    return metres
