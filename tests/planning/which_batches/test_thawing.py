"""How long frozen bags thaw, where they are thin, thick, or no bags at all."""

from __future__ import annotations

import datetime as dt

from stillroom.planning.which_batches.thawing import (
    FLAT_BAG_M2,
    THICKEST_M,
    THINNEST_M,
    last_evening,
    longest_in_water_h,
    thawing_words,
)
from tests.kitchens import CUP

THICKEST_BAG = THICKEST_M * FLAT_BAG_M2
"""About fourteen cups. [m³]"""


def test_what_is_frozen_in_no_bag_is_taken_for_the_thickest_one():
    """Nobody knows how thick a lump of fruit is: it gets the longest time."""
    assert longest_in_water_h(None) == longest_in_water_h(THICKEST_BAG)
    assert longest_in_water_h(None) > longest_in_water_h(5 * CUP)


def test_no_bag_is_thinner_than_the_thinnest_nor_thicker_than_the_thickest():
    """A cup does not spread to a leaf in its bag, nor do forty stand as a cube."""
    thin, thick = thawing_words(0.1 * CUP), thawing_words(40 * CUP)
    assert f"{THINNEST_M / 0.0254:.1f} in thick" in thin
    assert f"{THICKEST_M / 0.0254:.1f} in thick" in thick
    assert thick == thawing_words(THICKEST_BAG)
    wanted = dt.datetime.combine(dt.date(2026, 9, 5), dt.time(7, 9))
    assert last_evening(40 * CUP, wanted) == last_evening(THICKEST_BAG, wanted)
