"""
A pack of vegetables in brine, once jar and brine have come to rest.

Salt and acid spread through all that is water, by mass balance alone. The figures
describe a recipe; they never approve one, and never a change to one.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.science.ranges import OutOfRange, within
from stillroom.science.solutions import density_at_20_c_kg_m3


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """What a pack holds in the end, as shares of its water-like mass. [1]"""

    liquid_kg: float
    """Brine and the juice of the vegetables together. [kg]"""
    acetic_acid: float
    salt: float
    cover_acetic_acid: float
    """Of the brine as it was poured on. [1]"""
    cover_salt: float


def pack_at_rest(
    *,
    vegetables_kg: float,
    vinegar_m3: float,
    water_m3: float = 0.0,
    salt_kg: float = 0.0,
    vinegar_acidity: float = 0.05,
    vegetables_water: float = 1.0,
) -> Pack:
    """
    Salt and acetic acid of a pack at equilibrium.

    Parameters
    ----------
    vegetables_kg : float
        Trimmed, 0.001 to 100. [kg]
    vinegar_m3, water_m3 : float
        Cover brine, 0 to 0.1 each, not both 0. [m³]
    salt_kg : float
        0 to 10. [kg]
    vinegar_acidity : float
        Grams of acetic acid in a millilitre, 0.03 to 0.10; 5 % is 0.05. [kg/L]
    vegetables_water : float
        Share of the vegetables that salt and acid spread through, 0.5 to 1. [1]

    Returns
    -------
    Pack
        Strengths before and after.

    Raises
    ------
    OutOfRange
        If a figure lies outside its range.

    Examples
    --------
    >>> pack = pack_at_rest(vegetables_kg=1.0, vinegar_m3=0.5e-3, water_m3=0.5e-3)
    >>> print(f"{100 * pack.acetic_acid:.2f} %")
    1.25 %

    References
    ----------
    .. [1] Mass balance.
    """
    food = _in("vegetables_kg", vegetables_kg, 0.001, 100.0, "Give kilograms.")
    vinegar = _in("vinegar_m3", vinegar_m3, 0.0, 0.1, "Give m³: a litre is 0.001.")
    water = _in("water_m3", water_m3, 0.0, 0.1, "Give m³: a litre is 0.001.")
    salt = _in("salt_kg", salt_kg, 0.0, 10.0, "Give kilograms.")
    acidity = _in("vinegar_acidity", vinegar_acidity, 0.03, 0.10, "5 % is 0.05.")
    wet = _in("vegetables_water", vegetables_water, 0.5, 1.0, "95 % is 0.95.")
    if vinegar + water == 0.0:
        raise OutOfRange("a pack needs brine: give vinegar_m3, water_m3 or both.")
    acid = 1000.0 * acidity * vinegar
    # A 5 % vinegar by volume is 4.97 % by mass: the difference drowns here.
    cover = (
        vinegar * density_at_20_c_kg_m3("acetic acid", acidity)
        + water * density_at_20_c_kg_m3("salt", 0.0)
        + salt
    )
    whole = cover + wet * food
    return Pack(
        liquid_kg=whole,
        acetic_acid=acid / whole,
        salt=salt / whole,
        cover_acetic_acid=acid / cover,
        cover_salt=salt / cover,
    )


def _in(name: str, value: float, low: float, high: float, hint: str) -> float:
    return within(name, value, low, high, source="kitchen batches", hint=hint)
