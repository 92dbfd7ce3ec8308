"""
One pass forward through the network of a plan, for many days at once; and one back.

A row for each node, a column for each day: ``start = max(floor, end of what it waits
for + lag)`` in topological order. The order of the sums and maxima depends on the plan
alone, so it is written down once, as a list of instructions on whole rows; each pass
only plays it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stillroom.methods.step import Spread
from stillroom.planning.day_odds.draws import Array
from stillroom.planning.day_odds.implied import arcs_that_matter, floors_that_matter
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Timetable
from stillroom.planning.waits.precedence import Part, Precedence

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
    minutes = np.array([float(n.planned_min) for n in net.nodes])
    return minutes.reshape(-1, 1)


def spreads_of(
    net: Precedence, problem: Problem, plan: Timetable
) -> list[Spread | None]:
    """Spread of each node; what is published or waited for by the clock has none."""
    of_step = {(b.id, s.id): s.spread for b in problem.batches for s in b.steps}
    canner = {c.id: c for c in problem.canners}
    of_load = {
        load.id: canner[load.canner].spread_up(load.process) for load in plan.loads
    }
    found: list[Spread | None] = []
    for node in net.nodes:
        if node.part is Part.STEP:
            found.append(of_step[node.of, node.step])
        elif node.part is Part.COME_UP:
            found.append(of_load[node.of])
        else:
            found.append(None)
    return found


Operand = int | float
"""A row by its number, or minutes."""
Instruction = tuple[Callable[..., object], Operand, Operand, int]
"""A sum or a maximum of two operands, and the row that it is written to."""


class Pass:
    """The network made ready for passes; it can be used again with other durations."""

    def __init__(self, net: Precedence) -> None:
        self.net = net
        groups = len(net.members)
        # what was begun before the day's first minute was not begun at it
        floors = [min(0.0, float(net.group_start_min(g))) for g in range(groups)]
        for floor in net.floors:
            group = net.group_of[floor.node]
            minute = float(floor.minute - net.offset[floor.node])
            floors[group] = max(floors[group], minute)
        waits: list[list[tuple[int, float]]] = [[] for _ in range(groups)]
        for (before, group), lag in arcs_that_matter(net).items():
            waits[group].append((before, float(lag)))
        self.waits = [tuple(w) for w in waits]
        self.floor = floors_that_matter(net, self.waits, floors)
        inner: list[list[tuple[int, float]]] = [[] for _ in net.nodes]
        for arc in net.inner:
            inner[arc.after].append((arc.before, float(arc.lag_min)))
        self.inner = [tuple(i) for i in inner]
        self.work = [n for n, node in enumerate(net.nodes) if node.is_work]
        self.instructions = _Written(self).instructions

    def forward(self, minutes: Array) -> Days:
        """
        Return the days that these durations lead to.

        Parameters
        ----------
        minutes : ndarray of shape (nodes, days)
            [min]
        """
        start = np.empty_like(minutes)
        end = np.empty_like(minutes)
        finish = np.zeros(minutes.shape[1], dtype=minutes.dtype)
        spare = np.empty((2, minutes.shape[1]), dtype=minutes.dtype)
        # rows by the numbers that the instructions know them by
        rows = [*start, *end, *minutes, *spare, finish]
        for does, one, other, out in self.instructions:
            does(
                rows[one] if type(one) is int else one,
                rows[other] if type(other) is int else other,
                out=rows[out],
            )
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


class _Written:
    """The instructions of a pass, as they are written down."""

    def __init__(self, ready: Pass) -> None:
        self.ready, self.nodes = ready, len(ready.net.nodes)
        self.instructions: list[Instruction] = []
        self.sum_room, self.begin_room = 3 * self.nodes, 3 * self.nodes + 1
        for group in ready.net.order:
            self._group(group)
        self._finish(3 * self.nodes + 2)

    def _group(self, group: int) -> None:
        ready, net = self.ready, self.ready.net
        members = net.members[group]
        head = members[0]
        plain = not ready.inner[head] and not net.offset[head]
        begins = head if plain else self.begin_room
        self._latest(ready.waits[group], ready.floor[group], begins)
        for n in members:
            if ready.inner[n]:
                self._latest(ready.inner[n], None, n)
            elif n != begins:
                self._write(np.add, begins, float(net.offset[n]), n)
            self._write(np.add, n, 2 * self.nodes + n, self.nodes + n)

    def _latest(
        self, waits: tuple[tuple[int, float], ...], floor: float | None, out: int
    ) -> None:
        """The latest of all that is waited for; ends with one lag are joined first."""
        by_lag: dict[float, list[int]] = {}
        for before, lag in waits:
            by_lag.setdefault(lag, []).append(self.nodes + before)
        begun = False
        for lag in sorted(by_lag, key=lambda lag: lag == 0.0):
            first, *others = by_lag[lag]
            room = self.sum_room if begun else out
            joined: int = first
            if lag == 0.0 and begun:  # straight into what is there already
                for end in by_lag[lag]:
                    self._write(np.maximum, out, end, out)
                continue
            for end in others:
                self._write(np.maximum, joined, end, room)
                joined = room
            if lag != 0.0 or joined == first:
                self._write(np.add, joined, lag, room)
            if begun:
                self._write(np.maximum, out, room, out)
            begun = True
        if floor is None:
            return
        if not begun:
            self._write(np.maximum, floor, floor, out)
        else:
            self._write(np.maximum, out, floor, out)

    def _finish(self, out: int) -> None:
        """The last end of work; what surely has work after it is not looked at."""
        ready, net = self.ready, self.ready.net
        last = set(ready.work)
        for group, waits in enumerate(ready.waits):
            if any(net.nodes[n].is_work for n in net.members[group]):
                last -= {before for before, lag in waits if lag >= 0.0}
        for n in ready.work:
            last -= {before for before, lag in ready.inner[n] if lag >= 0.0}
        for n in sorted(last):
            self._write(np.maximum, out, self.nodes + n, out)

    def _write(
        self, does: Callable[..., object], one: Operand, other: Operand, out: int
    ) -> None:
        self.instructions.append((does, one, other, out))
