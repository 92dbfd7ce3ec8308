"""How long a day takes to plan, said before it is planned."""

from __future__ import annotations

import math

TIMES_AS_LONG = 3
"""A day that does not fit takes so many times the seconds asked for, to choose what
does and to find ways out; a what-if day too.

`whole_day.plan_the_day` gives it twice the work; a cut day of eighty jars took 24 s by
the clock for the 8 asked for, on two cores that did little else.
"""


def longest_s(seconds: float) -> float:
    """How long a plan may take where the search may take so long. [s]"""
    return TIMES_AS_LONG * seconds


def how_long_words(seconds: float) -> str:
    """
    Say how long a plan takes.

    >>> how_long_words(8.0)
    'about 8 s, or up to 24 s where not all of it fits'
    """
    return (
        f"about {seconds:.0f} s, or up to {longest_s(seconds):.0f} s where not all "
        "of it fits"
    )


def one_more_s(seconds: float, *, left_out: bool) -> float:
    """
    Say how long what one more would bring takes, at so many seconds a plan. [s]

    The day as it is and four with one more; where batches are left out three more,
    each of which may not fit either.

    >>> one_more_s(2.0, left_out=False), one_more_s(2.0, left_out=True)
    (10.0, 28.0)
    """
    return seconds * (5 + (3 * TIMES_AS_LONG if left_out else 0))


def what_if_words(days: int, at_once: int, seconds: float) -> str:
    """
    Say how long so many what-if days take, of which some are planned at once.

    >>> what_if_words(3, 2, 3.0)
    'about 6 s, or up to 18 s where not all of a day fits'
    """
    turns = math.ceil(days / max(1, at_once))
    return (
        f"about {turns * seconds:.0f} s, or up to "
        f"{TIMES_AS_LONG * turns * seconds:.0f} s where not all of a day fits"
    )
