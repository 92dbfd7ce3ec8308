"""
A day run event by event: the same policy as the pass forward, told another way.

A heap of happenings in the order of the clock; nothing is known of arrays, of the order
in which the pass goes, or of days other than the one that is run. What does not change
from day to day is made ready once, as for the pass, so that neither is held up.
"""

from __future__ import annotations

import heapq
import math
import random
from collections.abc import Sequence

from stillroom.methods.step import Spread
from stillroom.planning.day_odds.draws import SHARED_SLOW_DAY, log_widths
from stillroom.planning.waits.precedence import Precedence


class Happenings:
    """The network of a plan, made ready to be run a day at a time."""

    def __init__(self, net: Precedence) -> None:
        groups = range(len(net.members))
        self.nodes = len(net.nodes)
        self.waiting_for = [0 for _ in groups]
        self.waiters: list[list[tuple[int, float]]] = [[] for _ in net.nodes]
        for arc in net.arcs:
            group = net.group_of[arc.after]
            self.waiting_for[group] += 1
            lead = float(arc.lag_min - net.offset[arc.after])
            self.waiters[arc.before].append((group, lead))
        self.earliest = [0.0 for _ in groups]
        for floor in net.floors:
            group = net.group_of[floor.node]
            minute = float(floor.minute - net.offset[floor.node])
            self.earliest[group] = max(self.earliest[group], minute)
        inner: list[list[tuple[int, int]]] = [[] for _ in net.nodes]
        for arc in net.inner:
            inner[arc.after].append((arc.before, arc.lag_min))
        self.members = [
            [(n, net.offset[n], inner[n], net.nodes[n].is_work) for n in members]
            for members in net.members
        ]
        self.at_once = [
            (self.earliest[g], g) for g in groups if self.waiting_for[g] == 0
        ]
        heapq.heapify(self.at_once)

    def run_one_day(self, minutes: Sequence[float]) -> tuple[list[float], float]:
        """
        Start of each node, and the end of the last work, on a day of these durations.

        A group is called as soon as the last of all that it waits for has begun,
        because its end can then be told; its steps follow one another at their own
        pace.
        """
        waiting_for, earliest = self.waiting_for.copy(), self.earliest.copy()
        waiters, members = self.waiters, self.members
        start = [0.0] * self.nodes
        last = 0.0
        happenings = self.at_once.copy()
        push, pop = heapq.heappush, heapq.heappop
        while happenings:
            now, group = pop(happenings)
            for node, offset, after, is_work in members[group]:
                if after:
                    begins = max(start[b] + minutes[b] + lag for b, lag in after)
                else:
                    begins = now + offset
                start[node] = begins
                over = begins + minutes[node]
                if is_work and over > last:
                    last = over
                for other, lead in waiters[node]:
                    if over + lead > earliest[other]:
                        earliest[other] = over + lead
                    waiting_for[other] -= 1
                    if waiting_for[other] == 0:
                        push(happenings, (earliest[other], other))
        return start, last


class OneDayAtATime:
    """Durations drawn when the day is run, with the law of `draws`, one by one."""

    def __init__(
        self,
        planned_min: Sequence[int],
        spreads: Sequence[Spread | None],
        *,
        seed: int = 1,
        rho: float = SHARED_SLOW_DAY,
    ) -> None:
        self.drawn = random.Random(seed)
        self.shared, self.own = math.sqrt(rho), math.sqrt(1.0 - rho)
        self.laws = [
            (float(planned), None if spread is None else log_widths(spread))
            for planned, spread in zip(planned_min, spreads, strict=True)
        ]

    def minutes(self) -> list[float]:
        """Durations of the next day. [min]"""
        gauss, exp = self.drawn.gauss, math.exp
        slow_day = self.shared * gauss(0.0, 1.0)
        found = []
        for planned, widths in self.laws:
            if widths is None:
                found.append(planned)
                continue
            z = slow_day + self.own * gauss(0.0, 1.0)
            found.append(planned * exp(widths[z >= 0.0] * z))
        return found


def run_one_day(net: Precedence, minutes: Sequence[float]) -> tuple[list[float], float]:
    """Run a single day; see `Happenings.run_one_day`."""
    return Happenings(net).run_one_day(minutes)
