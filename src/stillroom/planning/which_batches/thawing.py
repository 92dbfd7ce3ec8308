"""How long frozen bags thaw: told the evening before, and never more than told."""

from __future__ import annotations

import datetime as dt

from stillroom.measures import inches
from stillroom.planning.which_batches.around import EVENING
from stillroom.science.cold import Shape, estimated_thawing
from stillroom.science.estimate import Estimate

FLAT_BAG_M2 = 0.04
"""A freezer bag lying flat, 20 by 20 cm: an estimate. [m²]"""
THINNEST_M, THICKEST_M = 0.015, 0.08
FLAT_M = 0.03
"""Fruit that was frozen loose or in a flat bag lies so thick: an estimate. [m]"""
FRUIT_WATER = 0.87
"""Share of water in juice and in most fruit: an estimate. [1]"""
FRIDGE_K, COLD_TAP_K = 277.15, 288.15


def thawing_words(bag_m3: float, wanted: dt.datetime | None = None) -> str:
    """
    Say how long a frozen bag thaws, in the refrigerator and in cold water.

    Parameters
    ----------
    bag_m3 : float
        What one bag holds. [m³]
    wanted : datetime, optional
        When the first of it goes into the pot, for when cold water is begun with.

    Examples
    --------
    >>> five_cups = 5 * 2.365882365e-4
    >>> said = thawing_words(five_cups, dt.datetime(2026, 9, 5, 7, 9))
    >>> print(said.partition(", and ")[0])
    A bag lying flat, 1.2 in thick, takes 21 to 49 h there (an estimate)
    >>> print(said.partition("What ")[2])
    is still hard thaws closed in cold water, changed now and then, within 2 h: begun \
by 5:09.
    """
    thick = _thick_m(bag_m3)
    there = _in_the_refrigerator(thick)
    longest_h = longest_in_water_h(bag_m3)
    takes = (
        f"A bag lying flat, {inches(thick):.1f} in thick, takes {there.low:.0f} to "
        f"{there.high:.0f} h there (an estimate)"
    )
    water = f"thaws closed in cold water, changed now and then, within {longest_h} h"
    if wanted is None:
        return f"{takes}; what is still hard in the morning {water}."
    begin = wanted - dt.timedelta(hours=longest_h)
    return (
        f"{takes}, and the first is wanted at {wanted:%-H:%M}. What is still "
        f"hard {water}: begun by {begin:%-H:%M}."
    )


def loose_words(wanted: dt.datetime | None = None) -> str:
    """
    Say how long fruit thaws that was frozen in no measured bag: flat, and as a lump.

    >>> print(loose_words(dt.datetime(2026, 9, 5, 7, 9)))
    Lying loose or flat, 1.2 in thick, it takes 21 to 50 h there, as a lump 3.1 in \
thick 63 to 149 h (estimates): move it on an evening so long before it is wanted, \
Saturday 5 September at 7:09. What is still hard thaws closed in cold water, changed \
now and then: flat within 2 h, a lump within 10 h.
    """
    flat, lump = _in_the_refrigerator(FLAT_M), _in_the_refrigerator(THICKEST_M)
    by = (
        f", {wanted:%A} {wanted.day} {wanted:%B} at {wanted:%-H:%M}"
        if wanted is not None
        else ""
    )
    return (
        f"Lying loose or flat, {inches(FLAT_M):.1f} in thick, it takes {flat.low:.0f} "
        f"to {flat.high:.0f} h there, as a lump {inches(THICKEST_M):.1f} in thick "
        f"{lump.low:.0f} to {lump.high:.0f} h (estimates): move it on an evening so "
        f"long before it is wanted{by}. What is still hard thaws closed in cold water, "
        "changed now and then: flat within "
        f"{longest_in_water_h(FLAT_M * FLAT_BAG_M2)} h, a lump within "
        f"{longest_in_water_h(None)} h."
    )


def last_evening(bag_m3: float, wanted: dt.datetime) -> dt.date:
    """
    The last day on whose evening a bag is moved soon enough, by the longest estimate.

    >>> last_evening(5 * 2.365882365e-4, dt.datetime(2026, 9, 5, 7, 9))
    datetime.date(2026, 9, 2)
    """
    longest = round(_in_the_refrigerator(_thick_m(bag_m3)).high)
    return _evening_by(wanted - dt.timedelta(hours=longest))


def _evening_by(when: dt.datetime) -> dt.date:
    """The last day whose evening is not after a moment."""
    return when.date() - dt.timedelta(days=when.time() < EVENING)


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


def _in_the_refrigerator(thick_m: float) -> Estimate:
    return estimated_thawing(
        Shape.SLAB, thick_m, water_share=FRUIT_WATER, around_k=FRIDGE_K, in_water=False
    )
