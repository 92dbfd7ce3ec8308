"""What counts as good in a plan, and in which order, unless the keeper says another."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum


class Goal(StrEnum):
    """One thing that a plan is judged by; its words are those of the day file."""

    ON_TIME = "nothing late"
    """What was promised for an hour is there by then."""
    BY_THE_HOUR = "done by the hour"
    """The day is over by the hour that she names; as soon as can be where she names
    none."""
    ONE_MOMENT = "one moment at a time"
    """No two moments that cannot wait come together in one person's hands."""
    FEW_RUNS = "few canner runs"
    EARLY = "done early"
    CALM = "free time in one piece"
    """Who helps is free in one piece, not in many small ones."""


USUAL = tuple(Goal)
"""The order in which goals are weighed where the keeper says nothing."""
MAY_END_LATER_MIN = 30
"""With the hour she named far off, a day may end so much later for a goal that comes
before ending early: about what one more canner run takes. A choice of ours. [min]"""


def in_order(first: Iterable[Goal] = ()) -> tuple[Goal, ...]:
    """
    Every goal once: those named first, the others behind them as usual.

    Examples
    --------
    >>> in_order([Goal.EARLY])[:2]
    (<Goal.EARLY: 'done early'>, <Goal.ON_TIME: 'nothing late'>)
    """
    named = tuple(dict.fromkeys(first))
    return (*named, *(goal for goal in USUAL if goal not in named))
