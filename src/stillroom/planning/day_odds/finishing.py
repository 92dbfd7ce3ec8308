"""
Only the finish of many days: the pass forward with its rows used again at once.

Most rows of a pass are waited for by few others that come soon after. Where only the
finish is asked for, a row is given back as soon as nothing waits for it any more: some
dozen rows then do for a whole day, and they stay in the processor's cache.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

import numpy as np

from stillroom.planning.day_odds.draws import Array
from stillroom.planning.day_odds.forward import Operand, Pass

DAYS_AT_ONCE = 10_000
"""More days than this are passed in parts, so that rows stay in the cache."""


class Source(Protocol):
    """Where durations come from: drawn as they are needed, or drawn already."""

    days: int

    def row(self, number: int, first: int, room: Array) -> Array | float:
        """Durations of a node from day ``first`` on, perhaps in ``room``. [min]"""


class Drawn:
    """Durations that are there already, shape (nodes, days). [min]"""

    def __init__(self, minutes: Array) -> None:
        self.minutes, self.days = minutes, minutes.shape[1]

    def row(self, number: int, first: int, room: Array) -> Array | float:
        """Return a part of the row; nothing is copied."""
        return self.minutes[number, first : first + len(room)]


Move = tuple[Callable[..., object] | None, Operand, Operand, int]
"""An instruction on rooms; `None` takes the durations of a node into one."""


class Finishing:
    """A pass made ready to give finishes and nothing else."""

    def __init__(self, ready: Pass) -> None:
        self.ready = ready
        steps, last = _each_value_once(ready)
        self.moves, self.rooms, self.last = _in_few_rooms(steps, last)

    def finishes(self, source: Source | Array) -> Array:
        """
        Return the end of the last work of each day.

        Parameters
        ----------
        source : Draws or ndarray of shape (nodes, days)
            Durations. [min]

        Returns
        -------
        ndarray of shape (days,)
            [min]
        """
        if isinstance(source, np.ndarray):
            source = Drawn(source)
        found = np.zeros(source.days, dtype=np.float32)
        many = min(source.days, DAYS_AT_ONCE)
        rooms = np.empty((self.rooms, many), dtype=np.float32)
        for first in range(0, source.days, many):
            here = found[first : first + many]
            self._play(source, first, list(rooms[:, : len(here)]), here)
        return found

    def _play(
        self, source: Source, first: int, rooms: list[Array], finish: Array
    ) -> None:
        rows: list[Array | float] = [*rooms]
        for does, one, other, out in self.moves:
            if does is None:
                rows[out] = source.row(int(one), first, rooms[out])
                continue
            does(
                rows[one] if type(one) is int else one,
                rows[other] if type(other) is int else other,
                out=rooms[out],
            )
            rows[out] = rooms[out]
        if self.last is not None:
            finish[:] = rows[self.last]


def _each_value_once(ready: Pass) -> tuple[list[Move], Operand | None]:
    """
    The instructions with a new number for each value, without those in vain.

    Durations of a node are its number, negative and less one; a sum with nothing is the
    value itself.
    """
    nodes = len(ready.net.nodes)
    finish = 3 * nodes + 2
    now: dict[int, Operand] = {2 * nodes + n: -n - 1 for n in range(nodes)}
    steps: list[Move] = []
    for does, one, other, out in ready.instructions:
        a = now[one] if isinstance(one, int) and one in now else one
        b = now[other] if isinstance(other, int) else other
        if out == finish and finish not in now:
            now[out] = b  # the first end of work is the last one so far
        elif does is np.add and b == 0.0 and isinstance(b, float):
            now[out] = a
        else:
            steps.append((does, a, b, len(steps)))
            now[out] = len(steps) - 1
    last = now.get(finish)
    needed = {last}
    kept: list[Move] = []
    for step in reversed(steps):
        if step[3] in needed:
            kept.append(step)
            needed.update(x for x in step[1:3] if isinstance(x, int))
    return kept[::-1], last


def _in_few_rooms(
    steps: list[Move], last: Operand | None
) -> tuple[list[Move], int, int | None]:
    """Rooms for values: one is free as soon as nothing waits for what is in it."""
    until: dict[int, int] = {}
    for at, (_, one, other, _) in enumerate(steps):
        until.update({x: at for x in (one, other) if isinstance(x, int)})
    if isinstance(last, int):
        until[last] = len(steps)
    room_of: dict[int, int] = {}
    free: list[int] = []
    moves: list[Move] = []
    rooms = 0

    def room_for(value: int) -> int:
        nonlocal rooms
        if not free:
            free.append(rooms)
            rooms += 1
        room_of[value] = free.pop()
        return room_of[value]

    for at, (does, one, other, out) in enumerate(steps):
        for value in (one, other):
            if isinstance(value, int) and value < 0 and value not in room_of:
                moves.append((None, -value - 1, 0.0, room_for(value)))
        a = room_of[one] if isinstance(one, int) else one
        b = room_of[other] if isinstance(other, int) else other
        for value in {one, other}:
            if isinstance(value, int) and until[value] == at:
                free.append(room_of[value])
        moves.append((does, a, b, room_for(out)))
    return moves, rooms, None if last is None else room_of[int(last)]
