"""
Many plans made by turns, each a move away from one before: the start of the search.

A move puts a load or a batch elsewhere in the order, lets batches share a load or ride
apart, or changes who is asked first. What is no worse is gone on from; taking what is a
little worse too, less and less so, found no better plans in as many. Plans are counted,
so that a seed says what is found.
"""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from stillroom.planning.problem import Problem
from stillroom.planning.sequence.compiled import Compiled, compiled
from stillroom.planning.sequence.decode import (
    add,
    done_at,
    finished,
    timetable_of,
    worth,
)
from stillroom.planning.sequence.moves import Moves, Turns, first_turns, turns_like
from stillroom.planning.sequence.room import Room, morning
from stillroom.planning.timetable import Timetable

EVENNESS = 1.0
"""What the mean minute at which goods are there weighs against the finish."""
ORDERS_TRIED = 40
"""Where no plain order fits the day, others are tried until so many are."""


@dataclass(slots=True)
class _Made:
    """A plan and what was placed before each of its loads."""

    turns: Turns
    rooms: list[Room]
    rests: list[list[int]]
    room: Room
    worth: int
    cost: float


class Walk:
    """From plan to plan."""

    def __init__(self, day: Compiled, seed: int) -> None:
        self.day, self.drawn = day, random.Random(seed)
        self.made = 0
        self.best: _Made | None = None
        self.now: _Made | None = None
        self.moves = Moves(day, self.drawn)
        self.seen: set[object] = set()

    def begin(self, like: Timetable | None = None) -> None:
        """Make the first plans, one of them like a given one; go on from the best."""
        near = [] if like is None else [turns_like(self.day, like)]
        for turns in (*near, *first_turns(self.day)):
            found = self.make(turns, None, math.inf)
            if found is not None and (self.now is None or found.cost < self.now.cost):
                self.now = self.best = found
        turns = first_turns(self.day)[0]
        while self.now is None and self.made < ORDERS_TRIED:
            rides = list(turns.rides)
            self.drawn.shuffle(rides)
            self.now = self.best = self.make(
                replace(turns, rides=tuple(rides)), None, math.inf
            )

    def step(self) -> bool:
        """Make one move; whether a plan better than all before was found."""
        if self.now is None:
            return False
        turns, since = self.moves.moved(self.now.turns)
        key = self.moves.key(turns)
        if key in self.seen:
            self.made += 1  # so that it comes to an end where all is seen
            return False
        self.seen.add(key)
        found = self.make(turns, (self.now, since), self.now.cost)
        if found is None or found.cost > self.now.cost:
            return False
        self.now = found
        if self.best is None or found.worth < self.best.worth:
            self.best = found
            return True
        return False

    def make(
        self, turns: Turns, after: tuple[_Made, int] | None, limit: float
    ) -> _Made | None:
        """The plan of some turns; `None` where it does not fit or passes a limit."""
        self.made += 1
        if after is None or after[1] < 0 or after[1] >= len(after[0].rooms):
            rests = [list(r) for r in turns.rests]
            room = morning(self.day, rests)
            rooms: list[Room] = []
            first = 0
        else:
            before, first = after
            rests, rooms = before.rests, before.rooms[:first]
            room = before.rooms[first]
        if room is None:
            return None
        for ride in turns.rides[first:]:
            rooms.append(room)
            room = add(self.day, room, ride)
            if room is None or worth(self.day, room) > limit:
                return None
        done = finished(self.day, room)
        if done is None:
            return None
        return _Made(turns, rooms, rests, done, worth(self.day, done), self.cost(done))

    def cost(self, room: Room) -> float:
        """Worth of a plan, and a little for how late its goods are there."""
        done = done_at(room)
        return worth(self.day, room) + EVENNESS * sum(done.values()) / len(done)


def by_turns(
    problem: Problem,
    *,
    plans: int,
    seconds: float,
    seed: int = 1,
    like: Timetable | None = None,
    on_better: Callable[[Timetable], None] | None = None,
) -> Timetable | None:
    """
    The best of many plans made by turns.

    Parameters
    ----------
    problem : Problem
        A day whose links and names hold together.
    plans : int
        How many are made.
    seconds : float
        After so long no further one is made. [s]
    seed : int
        Of the moves.
    like : Timetable, optional
        One of the first is as near to it as turns come.
    on_better : callable, optional
        Called with each that is better than all before.

    Returns
    -------
    Timetable or None
        `None` where none fits, or a batch must be split over several loads.
    """
    until = time.monotonic() + seconds
    day = compiled(problem)
    if day is None or not day.made:
        return None
    walk = Walk(day, seed)
    walk.begin(like)
    while walk.now is not None and walk.made < plans and time.monotonic() < until:
        better = walk.step()
        if better and on_better is not None and walk.best is not None:
            on_better(timetable_of(day, walk.best.room, walk.best.rests))
    if walk.best is None:
        return None
    return timetable_of(day, walk.best.room, walk.best.rests)
