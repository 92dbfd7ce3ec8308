"""
In which order one pair of hands is shown what begins at the same minute. Pure.

What waits least comes first: open hot jars are closed before water is put on.
"""

from __future__ import annotations

from collections.abc import Callable

from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedStep

LONG_MIN = 24 * 60
"""For what may wait; no limit of a plan is so long. [min]"""


def card_order(problem: Problem) -> Callable[[PlacedStep], tuple[int, int, int]]:
    """
    Return the key to sort one person's placed steps by.

    The start first, then how soon it has to follow what comes before it in its batch,
    then the end, as on the sheet.
    """
    least: dict[tuple[str, str], int] = {}
    for batch in problem.batches:
        for link in batch.links:
            if link.at_most_min is not None:
                key = (batch.id, link.after)
                least[key] = min(link.at_most_min, least.get(key, LONG_MIN))

    def order(placed: PlacedStep) -> tuple[int, int, int]:
        waits_min = least.get((placed.batch, placed.step), LONG_MIN)
        return placed.start_min, waits_min, placed.end_min

    return order
