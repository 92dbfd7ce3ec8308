"""How long frozen bags thaw: told the evening before, and never more than told."""

from __future__ import annotations

from stillroom.science.cold import Shape, estimated_thawing

FLAT_BAG_M2 = 0.04
"""A freezer bag lying flat, 20 by 20 cm: an estimate. [m²]"""
THINNEST_M, THICKEST_M = 0.015, 0.08
FRUIT_WATER = 0.87
"""Share of water in juice and in most fruit: an estimate. [1]"""
FRIDGE_K, COLD_TAP_K = 277.15, 288.15


def thawing_words(bag_m3: float) -> str:
    """
    Say how long a frozen bag thaws, in the refrigerator and in cold water.

    Parameters
    ----------
    bag_m3 : float
        What one bag holds. [m³]

    Examples
    --------
    >>> print(thawing_words(5 * 2.365882365e-4).partition(";")[0])
    A bag lying flat, 1.2 in thick, takes 21 to 49 h there (an estimate)
    """
    thick = _thick_m(bag_m3)
    there = estimated_thawing(
        Shape.SLAB, thick, water_share=FRUIT_WATER, around_k=FRIDGE_K, in_water=False
    )
    longest_h = longest_in_water_h(bag_m3)
    return (
        f"A bag lying flat, {thick / 0.0254:.1f} in thick, takes {there.low:.0f} to "
        f"{there.high:.0f} h there (an estimate); what is still hard in the morning "
        f"thaws closed in cold water, changed now and then, within {longest_h} h."
    )


def longest_in_water_h(bag_m3: float | None) -> int:
    """
    How long a frozen bag thaws in cold water at most, an estimate; whole hours. [h]

    What is frozen in no bag, fruit by its mass, is taken for the thickest one.

    >>> longest_in_water_h(5 * 2.365882365e-4)
    2
    """
    water = estimated_thawing(
        Shape.SLAB,
        THICKEST_M if bag_m3 is None else _thick_m(bag_m3),
        water_share=FRUIT_WATER,
        around_k=COLD_TAP_K,
        in_water=True,
    )
    return max(1, round(water.high))


def _thick_m(bag_m3: float) -> float:
    return min(THICKEST_M, max(THINNEST_M, bag_m3 / FLAT_BAG_M2))
