"""
A day run event by event: the same policy as the pass forward, told another way.

A heap of happenings in the order of the clock; nothing is known of arrays, of the order
in which the pass goes, or of days other than the one that is run.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence

from stillroom.planning.precedence import Precedence


def run_one_day(net: Precedence, minutes: Sequence[float]) -> tuple[list[float], float]:
    """
    Start of each node, and the end of the last work, on a day of these durations.

    A group is called as soon as the last of all that it waits for has begun, because
    its end can then be told; its steps follow one another at their own pace.
    """
    waiting_for = dict.fromkeys(range(len(net.members)), 0)
    waiters: dict[int, list[tuple[int, float]]] = {}
    for arc in net.arcs:
        group = net.group_of[arc.after]
        waiting_for[group] += 1
        lead = float(arc.lag_min - net.offset[arc.after])
        waiters.setdefault(arc.before, []).append((group, lead))
    earliest = dict.fromkeys(waiting_for, 0.0)
    for floor in net.floors:
        group = net.group_of[floor.node]
        minute = float(floor.minute - net.offset[floor.node])
        earliest[group] = max(earliest[group], minute)
    inner: dict[int, list[tuple[int, int]]] = {}
    for arc in net.inner:
        inner.setdefault(arc.after, []).append((arc.before, arc.lag_min))
    start = [0.0] * len(net.nodes)
    last = 0.0
    happenings: list[tuple[float, int]] = []
    for group, missing in waiting_for.items():
        if missing == 0:
            heapq.heappush(happenings, (earliest[group], group))
    while happenings:
        now, group = heapq.heappop(happenings)
        for node in net.members[group]:
            if node in inner:
                start[node] = max(
                    start[before] + minutes[before] + lag for before, lag in inner[node]
                )
            else:
                start[node] = now + net.offset[node]
            over = start[node] + minutes[node]
            if net.nodes[node].is_work:
                last = max(last, over)
            for other, lead in waiters.get(node, ()):
                earliest[other] = max(earliest[other], over + lead)
                waiting_for[other] -= 1
                if waiting_for[other] == 0:
                    heapq.heappush(happenings, (earliest[other], other))
    return start, last
