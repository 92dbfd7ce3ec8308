"""Arcs of a plan's network as they come, and the order of its groups."""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field

from stillroom.planning.waits.precedence_net import Arc, Precedence, Tie


@dataclass(slots=True)
class Building:
    """Arcs as they come: those against the plan's order of groups wait for the end."""

    net: Precedence
    against: list[Arc] = field(default_factory=list)

    def with_the_order(self, before: int, after: int) -> bool:
        """Whether the group of ``before`` starts first in the plan."""
        net = self.net
        a, b = net.group_of[before], net.group_of[after]
        return (net.group_start_min(a), self._length(a), a) < (
            net.group_start_min(b),
            self._length(b),
            b,
        )

    def _length(self, group: int) -> int:
        # of two that start at once, what takes no time comes first
        nodes = self.net.nodes
        return int(any(nodes[i].planned_min for i in self.net.members[group]))

    def tie(self, before: int, after: int, lag: int, tie: Tie, what: str) -> bool:
        """Tie two nodes; `False` where it is against the order, and may be dropped."""
        if self.net.group_of[before] == self.net.group_of[after]:
            return True
        arc = Arc(before=before, after=after, lag_min=lag, tie=tie, what=what)
        if self.with_the_order(before, after):
            self.net.arcs.append(arc)
            return True
        self.against.append(arc)
        return False

    def settle(self) -> None:
        """Add what makes no circle, and put the groups in order."""
        follows: list[set[int]] = [set() for _ in self.net.members]
        group_of = self.net.group_of
        for arc in self.net.arcs:
            follows[group_of[arc.before]].add(group_of[arc.after])
        # what a batch's links ask comes before what is only an order of work
        self.against.sort(key=lambda a: a.tie not in (Tie.LINK, Tie.JARS))
        for arc in self.against:
            a, b = group_of[arc.before], group_of[arc.after]
            if _reaches(follows, b, a):
                self.net.dropped.append(arc)
            else:
                follows[a].add(b)
                self.net.arcs.append(arc)
        self.net.order = self._sorted(follows)

    def _sorted(self, follows: list[set[int]]) -> list[int]:
        waits = [0] * len(follows)
        for after in follows:
            for group in after:
                waits[group] += 1
        open_ = [
            (self.net.group_start_min(g), g) for g, n in enumerate(waits) if n == 0
        ]
        heapq.heapify(open_)
        order: list[int] = []
        while open_:
            _, group = heapq.heappop(open_)
            order.append(group)
            for other in follows[group]:
                waits[other] -= 1
                if waits[other] == 0:
                    heapq.heappush(open_, (self.net.group_start_min(other), other))
        if len(order) != len(follows):
            raise ValueError("the plan's order goes in a circle")
        return order


def _reaches(follows: list[set[int]], start: int, goal: int) -> bool:
    seen, open_ = {start}, [start]
    while open_:
        here = open_.pop()
        if here == goal:
            return True
        for other in follows[here] - seen:
            seen.add(other)
            open_.append(other)
    return False
