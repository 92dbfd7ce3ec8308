"""
One pass forward through the network of a plan, for many days at once; and one back.

A row for each node, a column for each day: ``start = max(floor, end of what it waits
for + lag)`` in topological order.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stillroom.methods.step import Spread
from stillroom.planning.draws import Array
from stillroom.planning.precedence import Part, Precedence
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable

TIGHT_MIN = 1e-6
"""Two minutes nearer than this are the same minute. [min]"""


@dataclass(frozen=True, slots=True)
class Days:
    """Starts and ends of all nodes on many days. [min]"""

    start: Array
    """Shape (nodes, days)."""
    end: Array
    """Shape (nodes, days)."""
    finish: Array
    """Shape (days,): end of the last work; breaks do not count."""


def planned_minutes(net: Precedence) -> Array:
    """Planned durations, shape (nodes, 1). [min]"""
    return np.array([[float(n.planned_min)] for n in net.nodes])


def spreads_of(
    net: Precedence, problem: Problem, plan: Timetable
) -> list[Spread | None]:
    """Spread of each node; what is published or waited for by the clock has none."""
    of_step = {(b.id, s.id): s.spread for b in problem.batches for s in b.steps}
    come_up = {c.id: c.come_up_spread for c in problem.canners}
    of_load = {load.id: come_up[load.canner] for load in plan.loads}
    found: list[Spread | None] = []
    for node in net.nodes:
        if node.part is Part.STEP:
            found.append(of_step[node.of, node.step])
        elif node.part is Part.COME_UP:
            found.append(of_load[node.of])
        else:
            found.append(None)
    return found


class Pass:
    """The network made ready for passes; it can be used again with other durations."""

    def __init__(self, net: Precedence) -> None:
        self.net = net
        groups = len(net.members)
        self.floor = [0.0] * groups
        for floor in net.floors:
            group = net.group_of[floor.node]
            minute = float(floor.minute - net.offset[floor.node])
            self.floor[group] = max(self.floor[group], minute)
        waits: list[dict[int, float]] = [{} for _ in range(groups)]
        for arc in net.arcs:
            group = net.group_of[arc.after]
            lag = float(arc.lag_min - net.offset[arc.after])
            here = waits[group]
            here[arc.before] = max(here.get(arc.before, lag), lag)
        self.waits = [tuple(w.items()) for w in waits]
        inner: list[list[tuple[int, float]]] = [[] for _ in net.nodes]
        for arc in net.inner:
            inner[arc.after].append((arc.before, float(arc.lag_min)))
        self.inner = [tuple(i) for i in inner]
        self.work = [n for n, node in enumerate(net.nodes) if node.is_work]

    def forward(self, minutes: Array) -> Days:
        """
        Return the days that these durations lead to.

        Parameters
        ----------
        minutes : ndarray of shape (nodes, days)
            [min]
        """
        net = self.net
        start = np.empty_like(minutes)
        end = np.empty_like(minutes)
        room = np.empty(minutes.shape[1])
        begins = np.empty(minutes.shape[1])
        for group in net.order:
            begins.fill(self.floor[group])
            for before, lag in self.waits[group]:
                if lag == 0.0:
                    np.maximum(begins, end[before], out=begins)
                else:
                    np.add(end[before], lag, out=room)
                    np.maximum(begins, room, out=begins)
            for n in net.members[group]:
                row = start[n]
                if self.inner[n]:
                    row.fill(-np.inf)
                    for before, lag in self.inner[n]:
                        np.add(end[before], lag, out=room)
                        np.maximum(row, room, out=row)
                else:
                    np.add(begins, float(net.offset[n]), out=row)
                np.add(row, minutes[n], out=end[n])
        work = end[self.work]
        finish = work.max(axis=0) if self.work else np.zeros(minutes.shape[1])
        return Days(start, end, finish)

    def on_longest_path(self, days: Days) -> NDArray[np.bool_]:
        """
        Whether each node lies on a longest path to the finish of each day.

        Returns
        -------
        ndarray of bool, shape (nodes, days)
        """
        net = self.net
        held = np.zeros(days.start.shape, dtype=bool)
        for n in self.work:
            held[n] = days.end[n] >= days.finish - TIGHT_MIN
        for group in reversed(net.order):
            members = net.members[group]
            begins = days.start[members[0]]
            for n in reversed(members):
                for before, lag in self.inner[n]:
                    tight = days.end[before] + lag >= days.start[n] - TIGHT_MIN
                    held[before] |= held[n] & tight
            # a member that follows none of the others still starts with the group
            whole = np.zeros(days.start.shape[1], dtype=bool)
            for n in members:
                if not self.inner[n]:
                    whole |= held[n]
            for before, lag in self.waits[group]:
                tight = days.end[before] + lag >= begins - TIGHT_MIN
                held[before] |= whole & tight
        return held
