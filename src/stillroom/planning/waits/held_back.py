"""
What is not begun far too soon, since what comes after it is held until a minute.

Syrup is not boiled at dawn for pears that are ripe at noon: it may wait a quarter of an
hour. Whoever goes by a plan holds it back, so the simulated days do too: until half of
that wait is left, or the minute of the plan where that is sooner.
"""

from __future__ import annotations

from collections.abc import Mapping

from stillroom.planning.problem import Batch
from stillroom.planning.waits.precedence_net import Floor, Precedence

ON_PURPOSE = "begun late on purpose, at"


def held_back(net: Precedence, batch: Batch) -> list[Floor]:
    """
    Return floors for the steps of a batch after which there is a longest wait.

    Each is the minute from which half of that wait is enough, with the planned minutes
    of the batch and the floors that there are; never later than the step is planned.
    """
    number = {step.id: net.number[batch.id, step.id] for step in batch.steps}
    nodes = {step: net.nodes[n] for step, n in number.items()}
    sooner = _floors(net, number)
    # as many rounds as there are steps are enough for a chain of all of them
    for _ in batch.steps:
        for link in batch.links:
            over = sooner[link.before] + nodes[link.before].planned_min
            since = over + link.at_least_min
            sooner[link.after] = max(sooner[link.after], since)
    kept = dict.fromkeys(number, 0)
    for _ in batch.steps:
        for link in batch.links:
            if link.at_most_min is None:
                continue
            follows = max(sooner[link.after], kept[link.after])
            node = nodes[link.before]
            soon = follows - link.at_most_min - node.planned_min
            if soon > sooner[link.before]:  # where it may be held, to the middle of it
                soon += link.at_most_min - link.at_most_min // 2
            kept[link.before] = max(kept[link.before], min(soon, node.start_min))
    return [
        Floor(node=number[step], minute=minute, what=ON_PURPOSE)
        for step, minute in kept.items()
        if minute > sooner[step]
    ]


def _floors(net: Precedence, number: Mapping[str, int]) -> dict[str, int]:
    found = dict.fromkeys(number, 0)
    for step, n in number.items():
        found[step] = max((f.minute for f in net.floors if f.node == n), default=0)
    return found
