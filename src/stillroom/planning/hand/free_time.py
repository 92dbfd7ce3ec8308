"""
Who and what is free at which minutes, for planning by hand.

Minutes are the bits of whole numbers: bit t of a pattern says that minute t is free. A
placement is then a few shifts and masks, which keeps the by-hand plan quick.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from stillroom.planning.hot_jars import LABOUR_QUARTERS
from stillroom.planning.problem import Batch, Burner, Person, Problem
from stillroom.planning.rinses import Tool, contents_of, wash_of
from stillroom.planning.timetable import PlacedBreak, PlacedLoad, PlacedStep

QUARTERS = 4
A_COPY_S = 25e-6
"""What planning by hand takes for each copy of the kitchen: 20 to 35 microseconds on
eight days of 52 to 240 jars. [s]"""


def minutes(start: int, end: int) -> int:
    """
    Pattern of the minutes ``start`` to ``end``, the end not included.

    What was begun before the day's first minute has no bits there.

    Examples
    --------
    >>> bin(minutes(2, 4)), bin(minutes(-3, 1)), minutes(-3, -1)
    ('0b1100', '0b1', 0)
    """
    if start < 0:
        start = 0
    return ((1 << (end - start)) - 1) << start if end > start else 0


def room_for(pattern: int, length: int) -> int:
    """
    Pattern of the starts from which ``length`` minutes on end are free.

    Examples
    --------
    >>> bin(room_for(0b1110111, 3))
    '0b10001'
    """
    for shift in doublings(length):
        pattern &= pattern >> shift
    return pattern


@cache
def doublings(length: int) -> tuple[int, ...]:
    """Shifts that together reach over so many minutes, each at most twice as far."""
    shifts, done = [], 1
    while done < length:
        shifts.append(min(done, length - done))
        done += shifts[-1]
    return tuple(shifts)


def first_minute(pattern: int) -> int | None:
    """Lowest minute of a pattern."""
    return (pattern & -pattern).bit_length() - 1 if pattern else None


def each_minute(pattern: int) -> Iterator[int]:
    """Minutes of a pattern, earliest first."""
    while pattern:
        low = pattern & -pattern
        yield low.bit_length() - 1
        pattern ^= low


Levels = tuple[int, int, int, int]
"""Patterns of the minutes with at least 1, 2, 3 and 4 quarters free."""


def taken(levels: Levels, start: int, end: int, quarters: int) -> Levels:
    """Levels after ``quarters`` of a person are given from ``start`` to ``end``."""
    span = minutes(start, end)
    kept = ~span
    return (
        (levels[0] & kept) | (levels[quarters] & span if quarters < QUARTERS else 0),
        (levels[1] & kept) | (levels[1 + quarters] & span if quarters < 3 else 0),
        (levels[2] & kept) | (levels[2 + quarters] & span if quarters < 2 else 0),
        (levels[3] & kept) | (levels[3 + quarters] & span if quarters < 1 else 0),
    )


@dataclass(slots=True)
class HandLoad:
    """A load while the day is planned by hand; a later batch may still join it."""

    placed: PlacedLoad
    latest_lower_min: int
    stands_from_min: int
    """Since when its canner stands on its fire for it: it may have stayed there."""


@dataclass(frozen=True, slots=True)
class Left:
    """The last wash of a pot or mill, which may become a rinse."""

    contents: str
    batch: str
    step: str
    saved_min: int


@dataclass(slots=True)
class Tally:
    """How much was tried, counted and not timed: the same on every machine."""

    copies: int = 0
    """Kitchens copied to try something in."""

    @property
    def work_s(self) -> float:
        """About what it takes of a core. [s]"""
        return A_COPY_S * self.copies


@dataclass(slots=True)
class FreeKitchen:
    """What is still free, and what has been placed."""

    hands: dict[str, Levels]
    burners: dict[str, int]
    pot_free_from: dict[str, int]
    mill_free_from: list[int]
    loads: dict[str, list[HandLoad]]
    steps: list[PlacedStep] = field(default_factory=list)
    breaks: list[PlacedBreak] = field(default_factory=list)
    left_in: dict[str, Left] = field(default_factory=dict)
    """By pot, or by the number of a mill."""
    tally: Tally = field(default_factory=Tally)
    """Shared with its copies."""

    def copy(self) -> FreeKitchen:
        """The same kitchen, to try something in."""
        self.tally.copies += 1
        return FreeKitchen(
            tally=self.tally,
            hands=dict(self.hands),
            burners=dict(self.burners),
            pot_free_from=dict(self.pot_free_from),
            mill_free_from=list(self.mill_free_from),
            loads={k: [replace(held) for held in v] for k, v in self.loads.items()},
            steps=list(self.steps),
            breaks=list(self.breaks),
            left_in=dict(self.left_in),
        )

    def become(self, other: FreeKitchen) -> None:
        """Take over what was tried in ``other``."""
        self.hands, self.burners = other.hands, other.burners
        self.pot_free_from = other.pot_free_from
        self.mill_free_from = other.mill_free_from
        self.loads, self.steps, self.breaks = other.loads, other.steps, other.breaks
        self.left_in = other.left_in

    def give(self, person: str, start: int, end: int, quarters: int) -> bool:
        """Give a person's attention; `False`, and nothing done, where it is lacking."""
        if quarters == 0:
            return True
        if minutes(start, end) & ~self.hands[person][quarters - 1]:
            return False
        self.hands[person] = taken(self.hands[person], start, end, quarters)
        return True

    def take_burner(self, burner: str, start: int, end: int) -> bool:
        """Hold a burner; `False`, and nothing held, where it is not free."""
        span = minutes(start, end)
        if span & ~self.burners[burner]:
            return False
        self.burners[burner] &= ~span
        return True

    def leave(self, name: str, batch: Batch, tool: Tool) -> None:
        """Note what was in a pot or mill, and what a rinse of it would save."""
        self.left_in.pop(name, None)
        wash = wash_of(batch, tool)
        if wash is not None and wash.rinse_min is not None:
            saved = wash.duration_min - wash.rinse_min
            self.left_in[name] = Left(contents_of(batch), batch.id, wash.id, saved)

    def saved_by_rinsing(self, name: str, contents: str) -> int:
        """Minutes by which a pot or mill is free sooner for the same contents."""
        left = self.left_in.get(name)
        return left.saved_min if left and left.contents == contents else 0

    def rinse(self, name: str, people: Sequence[Person], horizon_min: int) -> None:
        """The last wash of a pot or mill becomes a rinse; its hands are free sooner."""
        left = self.left_in.pop(name)
        for n, s in enumerate(self.steps):
            if (s.batch, s.step) == (left.batch, left.step):
                end = s.end_min - left.saved_min
                self.steps[n] = replace(s, end_min=end, rinsed=True)
                for person in people:
                    if person.id == s.person:
                        self.release_hands(person, horizon_min)

    def release_hands(self, person: Person, horizon_min: int) -> None:
        """Work out a person's levels again from what is placed now."""
        levels = at_work(person, horizon_min)
        for rest in self.breaks:
            if rest.person == person.id:
                levels = taken(levels, rest.start_min, rest.end_min, QUARTERS)
        for s in self.steps:
            if s.person == person.id:
                levels = taken(levels, s.start_min, s.end_min, s.quarters)
        for line in self.loads.values():
            for load in (held.placed for held in line):
                q = LABOUR_QUARTERS
                if load.lowered_by == person.id:
                    levels = taken(levels, load.lower_min, load.lowered_min, q)
                if load.lifted_by == person.id:
                    levels = taken(levels, load.lift_min, load.out_min, q)
        self.hands[person.id] = levels


def at_work(person: Person, horizon_min: int) -> Levels:
    """Levels of a person from arriving to leaving, absences taken out."""
    there = minutes(max(0, person.arrives_min), min(person.leaves_min, horizon_min))
    for gone, back in person.away:
        there &= ~minutes(max(0, gone), max(0, back))
    first, second, third, fourth = (
        there if person.quarters >= level else 0 for level in (1, 2, 3, 4)
    )
    return (first, second, third, fourth)


def not_ours(burner: Burner) -> int:
    """
    Pattern of the minutes at which a burner is somebody else's.

    >>> bin(not_ours(Burner(id="left", power_w=2000.0, taken=((2, 4), (5, 6)))))
    '0b101100'
    """
    pattern = 0
    for start, end in burner.taken:
        pattern |= minutes(start, end)
    return pattern


def empty_kitchen(problem: Problem, *, canner_keeps_burner: bool) -> FreeKitchen | None:
    """
    The kitchen in the morning, breaks at their earliest minute.

    With ``canner_keeps_burner``, a canner's burners are lent to no pot all day. `None`
    where a break has no room.
    """
    horizon = problem.horizon_min
    whole = minutes(0, horizon)
    covered = {name for canner in problem.canners for name in canner.burners}
    lent = {
        b.id: 0 if canner_keeps_burner and b.id in covered else whole & ~not_ours(b)
        for b in problem.burners
    }
    kitchen = FreeKitchen(
        hands={p.id: at_work(p, horizon) for p in problem.people},
        burners=lent,
        pot_free_from={p.id: 0 for p in problem.pots},
        mill_free_from=[0] * problem.mills,
        loads={c.id: [] for c in problem.canners},
    )
    for person in problem.people:
        for rest in sorted(person.breaks, key=lambda r: r.latest_start_min):
            window = minutes(rest.earliest_min, rest.latest_start_min + 1)
            free = kitchen.hands[person.id][person.quarters - 1]
            start = first_minute(room_for(free, rest.duration_min) & window)
            if start is None:
                return None
            end = start + rest.duration_min
            kitchen.give(person.id, start, end, person.quarters)
            kitchen.breaks.append(
                PlacedBreak(person=person.id, start_min=start, end_min=end)
            )
    return kitchen
