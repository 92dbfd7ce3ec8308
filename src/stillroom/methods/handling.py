"""
How long hands take: rules of thumb, until the keeper's own past days replace them.

Every figure in this file is common practice with no source. None of them touches a
published time; they only place the work of hands on the day.
"""

from __future__ import annotations

import math

from stillroom.methods.step import Spread
from stillroom.refusal import COMMON_PRACTICE

BASIS = f"hands: {COMMON_PRACTICE}"

WASH_JARS_MIN = (2.0, 0.35)
"""Minutes to begin with, and for each jar."""
HEAT_JARS_MIN = 15
KEEP_JARS_HOT_MIN = 45
MEASURE_SUGAR_MIN = (1.0, 0.4)
"""Minutes to begin with, and for each cup."""
SKIM_MIN = 2
FILL_MIN = (1.0, 0.45)
WIPE_AND_LID_MIN = (1.0, 0.3)
WASH_POT_MIN = 6
RINSE_POT_MIN = 2
"""In place of the wash, where the next batch in the pot is of the same product."""
CUT_FRUIT_MIN = (2.0, 3.0)
"""Minutes to begin with, and for each kilogram: wash, quarter, core."""
CRUSH_FRUIT_MIN = (2.0, 4.0)
MILL_MIN = (2.0, 2.0)
SIEVE_MIN = (2.0, 4.0)
"""By hand with a spoon, twice as slow as a mill: common practice, no source."""
WASH_MILL_MIN = 5
RINSE_MILL_MIN = 2
SIMMER_SOFT_MIN = 20
MEASURE_PULP_MIN = 3
FILL_WITHIN_MIN = 2
"""From skimming to the ladle: after that it begins to gel in the pot."""
CLOSED_WAIT_MIN = 20
"""Closed jars in hot water before they go into the canner."""
SPARE_LID_ONE_IN = 20
"""One lid to spare for so many jars."""


def whole_min(minutes: float) -> int:
    """
    Whole minutes, never less than one, never rounded down.

    >>> whole_min(3.2), whole_min(0.1), whole_min(5.0)
    (4, 1, 5)
    """
    return max(1, math.ceil(minutes - 1e-9))


def for_count(rule: tuple[float, float], count: float) -> int:
    """
    Minutes by a rule of so many to begin with and so many for each.

    >>> for_count((1.0, 0.5), 8)
    5
    """
    start, each = rule
    return whole_min(start + each * count)


def spread_of(minutes: int, low: float = 0.8, high: float = 1.5) -> Spread:
    """
    The usual spread of a kitchen duration about its likely value.

    >>> spread_of(10)
    Spread(low=8, likely=10, high=15)
    """
    return Spread(
        low=max(1, math.floor(minutes * low)),
        likely=minutes,
        high=math.ceil(minutes * high),
    )
