"""The glass of a jar: what it lets through, and what it cannot stand."""

from __future__ import annotations

from stillroom.science.ranges import Floats, within

CONDUCTIVITY_W_PER_M_K = 1.0
"""Of soda-lime glass: from memory."""
BOILING_WATER_W_M2_K = 1_000.0
"""Film of boiling water on a jar, 800 to 1 500: from memory."""
STILL_AIR_W_M2_K = 10.0
"""Film of still air on a warm jar, radiation counted: from memory."""
SHOCK_LIMIT_K = 40.0
"""
Warn above it. Soda-lime glass, a test laboratory's page; new commercial jars are tested
hot to cold at 42 K (ASTM C149 as described by a test laboratory), scratched ones bear
less.
"""


def wall_w_m2_k(
    film_w_m2_k: Floats,
    thickness_m: Floats = 0.003,  # type: ignore[assignment]
    conductivity_w_per_m_k: float = CONDUCTIVITY_W_PER_M_K,
) -> Floats:
    """
    Coefficient from the medium to the food: film and glass one behind the other.

    Parameters
    ----------
    film_w_m2_k : float or ndarray
        Of the medium on the glass, 1 to 20 000. [W/(m² K)]
    thickness_m : float or ndarray
        Of the glass, 0 to 0.02. [m]
    conductivity_w_per_m_k : float
        Of the glass, 0.5 to 2. [W/(m K)]

    Returns
    -------
    float or ndarray
        Coefficient; what the glass itself holds is left out (0.2 K). [W/(m² K)]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> print(f"{wall_w_m2_k(1500.0):.1f} W/(m² K) through 3 mm in boiling water")
    272.7 W/(m² K) through 3 mm in boiling water
    """
    film = within(
        "film_w_m2_k",
        film_w_m2_k,
        1.0,
        20_000.0,
        source="air to condensing steam",
        hint="Give W/(m² K): boiling water is about 1000.",
    )
    thick = within(
        "thickness_m",
        thickness_m,
        0.0,
        0.02,
        source="jars",
        hint="Give metres: 3 mm is 0.003.",
    )
    glass = within(
        "conductivity_w_per_m_k",
        conductivity_w_per_m_k,
        0.5,
        2.0,
        source="glass",
        hint="Soda-lime glass is about 1.",
    )
    return 1.0 / (1.0 / film + thick / glass)


def shock_k(jar_k: Floats, meets_k: Floats) -> Floats:
    """
    Difference that a jar meets, whichever way: warn above `SHOCK_LIMIT_K`.

    Parameters
    ----------
    jar_k, meets_k : float or ndarray
        The jar, and the filling, bath or shelf that it meets, 233.15 to 423.15. [K]

    Returns
    -------
    float or ndarray
        Difference. The published bath temperatures (60 °C for a raw pack, 82 °C for a
        hot pack) hold whatever it is. [K]

    Raises
    ------
    OutOfRange
        If either lies outside its range.

    Examples
    --------
    >>> shock_k(293.15, 373.15) > SHOCK_LIMIT_K  # boiling jelly into a cold jar
    True
    """
    ends = [
        within(
            name,
            value,
            233.15,
            423.15,
            source="kitchens, -40 to 150 °C",
            hint="Give kelvin: °C + 273.15.",
        )
        for name, value in (("jar_k", jar_k), ("meets_k", meets_k))
    ]
    return abs(ends[0] - ends[1])
