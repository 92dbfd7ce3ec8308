"""Drying: what is left of it. "Dry enough" is the published test, not a figure."""

from __future__ import annotations

from stillroom.science.ranges import Floats, within


def dried_mass_kg(
    fresh_kg: Floats, water_before: Floats, water_after: Floats
) -> Floats:
    """
    Mass that is left after drying.

    Parameters
    ----------
    fresh_kg : float or ndarray
        Prepared and ready for the trays, 0 to 1 000. [kg]
    water_before, water_after : float or ndarray
        Water as a share of the whole, before and after, 0 to 0.99. [1]

    Returns
    -------
    float or ndarray
        Dried mass. [kg]

    Raises
    ------
    OutOfRange
        If a figure lies outside its range, or drying would add water.

    Examples
    --------
    >>> print(f"{dried_mass_kg(1.0, 0.85, 0.20):.4f} kg")
    0.1875 kg

    References
    ----------
    .. [1] What is not water neither comes nor goes: m1 = m0 (1 - w0)/(1 - w1).
    """
    fresh = within(
        "fresh_kg", fresh_kg, 0.0, 1000.0, source="kitchens", hint="Give kilograms."
    )
    before, after = (
        within(
            name,
            share,
            0.0,
            0.99,
            source="shares of water, wet basis",
            hint="Give a share of the whole: 85 % is 0.85.",
        )
        for name, share in (
            ("water_before", water_before),
            ("water_after", water_after),
        )
    )
    left = within(
        "dried over fresh mass",
        (1.0 - before) / (1.0 - after),
        0.0,
        1.0,
        source="drying, which never adds water",
        hint="Give the wetter share as water_before.",
    )
    return fresh * left
