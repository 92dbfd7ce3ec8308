"""
What is free and what has been placed while a plan is made by turns.

Minutes are the bits of whole numbers, as in `free_time`; a copy is a few short lists.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.hand.free_time import (
    Levels,
    at_work,
    minutes,
    not_ours,
    room_for,
    taken,
)
from stillroom.planning.sequence.compiled import Compiled


@dataclass(frozen=True, slots=True)
class Placed:
    """A chain with its minute, and who and what it takes, in the order of its parts."""

    batch: int
    chain: int
    start: int
    people: tuple[int, ...]
    burners: tuple[int, ...]
    rinsed: bool = False


@dataclass(frozen=True, slots=True)
class Load:
    """A load in a canner."""

    process: int
    batches: tuple[int, ...]
    lower: int
    done: int
    lift: int
    out: int
    lowered_by: int
    lifted_by: int
    heat: int
    hot: bool
    fire_free: int


@dataclass(frozen=True, slots=True)
class PlacedSoFar:
    """What is placed of a batch so far."""

    starts: dict[int, int]
    """By chain."""
    hands: dict[str, int]
    """Who does the steps of a word."""
    fires: tuple[tuple[int, int, int], ...]
    """(start, end, burner) of its pot."""


@dataclass(frozen=True, slots=True)
class Unwashed:
    """A pot or mill that is washed, or rinsed, before its next use or at the end."""

    batch: int
    since: int
    """From when on it may be washed, by the links. [min]"""


class Room:
    """What is free, and what has been placed."""

    __slots__ = (
        "begun",
        "burners",
        "closed",
        "end",
        "hands",
        "holds",
        "lines",
        "placed",
        "tool_of",
        "tools",
        "unwashed",
    )

    hands: list[Levels]
    burners: list[int]
    """Minutes without a pot, and not somebody else's, by burner; canners apart."""
    holds: list[int]
    """Minutes for which each canner holds its burners."""
    tools: list[int]
    """Minutes at which each pot and mill is free; none after a use without its wash."""
    unwashed: list[Unwashed | None]
    lines: list[tuple[Load, ...]]
    placed: list[Placed]
    tool_of: dict[tuple[int, int], int]
    """Pot and mill by (batch, kind)."""
    begun: dict[int, PlacedSoFar]
    """By batch, of those that are not placed whole yet."""
    closed: dict[int, int]
    """By batch, of those that are."""
    end: int

    def copy(self) -> Room:
        """The same, to try something in."""
        new = Room.__new__(Room)
        new.hands = self.hands[:]
        new.burners = self.burners[:]
        new.holds = self.holds[:]
        new.tools = self.tools[:]
        new.unwashed = self.unwashed[:]
        new.lines = self.lines[:]
        new.placed = self.placed[:]
        new.tool_of = self.tool_of.copy()
        new.begun = self.begun.copy()
        new.closed = self.closed.copy()
        new.end = self.end
        return new

    def become(self, other: Room) -> None:
        """Take over what was tried in ``other``."""
        for name in Room.__slots__:
            setattr(self, name, getattr(other, name))

    def give(self, person: int, start: int, length: int, quarters: int) -> None:
        """Take a person's attention, which is free."""
        self.hands[person] = taken(self.hands[person], start, start + length, quarters)

    def fire(self, day: Compiled, burner: int) -> int:
        """Minutes at which a burner is free for a pot."""
        free = self.burners[burner]
        for canner in day.covered_by[burner]:
            free &= ~self.holds[canner]
        return free

    def fire_for(self, day: Compiled, canner: int) -> int:
        """Minutes at which no pot and no other canner is on a canner's burners."""
        free = -1
        for burner in day.covers[canner]:
            free &= self.burners[burner]
            for other in day.covered_by[burner]:
                if other != canner:
                    free &= ~self.holds[other]
        return free


def morning(day: Compiled, rests: list[list[int]]) -> Room | None:
    """
    The kitchen before anything is placed but the breaks.

    Parameters
    ----------
    day : Compiled
        The day.
    rests : list of list of int
        For each person the minute from which each break is wished; it begins at the
        first minute of its window that is free from then on, else at the last before.

    Returns
    -------
    Room or None
        `None` where a break has no room. The breaks are in ``rests`` as placed.
    """
    problem = day.problem
    horizon = problem.horizon_min
    room = Room.__new__(Room)
    room.hands = [at_work(p, horizon) for p in problem.people]
    whole = minutes(0, horizon)
    room.burners = [whole & ~not_ours(burner) for burner in problem.burners]
    room.holds = [0] * len(problem.canners)
    room.tools = [whole] * day.tools
    room.unwashed = [None] * day.tools
    room.lines = [()] * len(problem.canners)
    room.placed, room.tool_of, room.begun, room.closed = [], {}, {}, {}
    room.end = 0
    for n, person in enumerate(problem.people):
        for k, rest in enumerate(person.breaks):
            window = minutes(rest.earliest_min, rest.latest_start_min + 1)
            free = room.hands[n][person.quarters - 1]
            free = room_for(free, rest.duration_min) & window
            later = free >> max(0, rests[n][k]) << max(0, rests[n][k])
            if later:
                start = (later & -later).bit_length() - 1
            elif free:
                start = free.bit_length() - 1
            else:
                return None
            rests[n][k] = start
            room.give(n, start, rest.duration_min, person.quarters)
    return room
