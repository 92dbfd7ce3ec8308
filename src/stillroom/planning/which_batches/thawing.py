"""How long frozen bags thaw: told the evening before, and never more than told."""

from __future__ import annotations

import datetime as dt

from stillroom.measures import inches
from stillroom.planning.day import Lot
from stillroom.planning.which_batches.around import EVENING
from stillroom.science.cold import Shape, estimated_thawing
from stillroom.science.estimate import Estimate

FLAT_BAG_M2 = 0.04
"""A freezer bag lying flat, 20 by 20 cm: an estimate. [m²]"""
THINNEST_M, THICKEST_M = 0.015, 0.08
FRUIT_WATER = 0.87
"""Share of water in juice and in most fruit: an estimate. [1]"""
FRUIT_KG_M3 = 600.0
"""Frozen fruit in its bag, with the air between: a cup weighs 140 g, an estimate."""
FRIDGE_K, COLD_TAP_K = 277.15, 288.15


def frozen_piece_m3(lot: Lot) -> float | None:
    """
    What one bag of a lot holds; `None` where it is in no bag of a known size. [m³]

    >>> frozen_piece_m3(Lot(name="plums", what="plums", mass_kg=4.0, bag_kg=0.6))
    0.001
    """
    if lot.bag_m3 is not None:
        return lot.bag_m3
    return None if lot.bag_kg is None else lot.bag_kg / FRUIT_KG_M3


def thawing_words(bag_m3: float | None, wanted: dt.datetime | None = None) -> str:
    """
    Say how long a frozen bag thaws, in the refrigerator and in cold water.

    Parameters
    ----------
    bag_m3 : float, optional
        What one bag holds; without it the thinnest and the thickest are told. [m³]
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
    if bag_m3 is None:
        return _however_thick(wanted)
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


def _however_thick(wanted: dt.datetime | None) -> str:
    """What is said where nobody knows how thick it lies."""
    thin, thick = (_in_the_refrigerator(m) for m in (THINNEST_M, THICKEST_M))
    first = f"; the first is wanted at {wanted:%-H:%M}" if wanted else ""
    soonest, longest = (
        longest_in_water_h(m * FLAT_BAG_M2) for m in (THINNEST_M, THICKEST_M)
    )
    return (
        "How long it takes there hangs on how thick it lies: "
        f"{inches(THINNEST_M):.1f} in thick {thin.low:.0f} to {thin.high:.0f} h, "
        f"{inches(THICKEST_M):.1f} in thick {thick.low:.0f} to {thick.high:.0f} h "
        f"(estimates){first}. What is still hard thaws closed in cold "
        f"water, changed now and then, within {soonest} to {longest} h."
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
