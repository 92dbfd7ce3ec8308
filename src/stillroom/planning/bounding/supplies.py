"""
What a kitchen has, minute by minute, that batches and loads ask for.

A supply of hands belongs to a group of people and to one way of counting quarters; it
is asked for by all that nobody outside the group can do. Fires are counted from a power
upwards, pots by the sizes that a batch may be made in.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stillroom.planning.bounding.bounds import WHOLE_HANDS, able_people, lifters_of
from stillroom.planning.bounding.pairs import Pairs, pairs_of
from stillroom.planning.bounding.pans import HALF_OF_ONE, side_by_side_min
from stillroom.planning.bounding.stirrings import (
    after_long_cooking,
    beside_pans,
    stirrings,
)
from stillroom.planning.problem import Burner, Canner, Person, Problem

QUARTERS = {0: 0, 1: 1, 2: 2, 3: 3, 4: 4}


@dataclass(frozen=True, slots=True)
class Hands:
    """Hands of a group, by one way of counting."""

    people: frozenset[str]
    count: str
    """"quarters", "whole", or "each" thing as a whole (see `pans`)."""

    def of(self, person: Person) -> int:
        """How much one person has; who minds a baby has less."""
        return self.weigh(person.quarters)

    def weigh(self, quarters: int) -> int:
        """Quarters as they are counted here."""
        if self.count == "quarters":
            return QUARTERS[quarters]
        if self.count == "each":
            return int(quarters >= HALF_OF_ONE)
        return WHOLE_HANDS[quarters]


@dataclass(frozen=True, slots=True)
class Fires:
    """Burners of a power and more. [W]"""

    power_w: float


@dataclass(frozen=True, slots=True)
class Pots:
    """Pots of any of these sizes."""

    sizes: frozenset[str]


@dataclass(frozen=True, slots=True)
class Mills:
    """All mills."""


@dataclass(frozen=True, slots=True)
class Canners:
    """Canners that are alike in all that counts here."""

    ids: tuple[str, ...]


Supply = Hands | Fires | Pots | Mills | Canners


def supplies_of(problem: Problem) -> tuple[Supply, ...]:
    """Everything in a kitchen that can be short."""
    return (
        *_hands(problem),
        *_fires(problem),
        *_pots(problem),
        *([Mills()] if problem.mills else ()),
        *(Canners(tuple(c.id for c in alike)) for alike in like_canners(problem)),
    )


def lifters(problem: Problem) -> frozenset[str]:
    """Who lowers a load and lifts it out."""
    return frozenset(p.id for p in lifters_of(problem))


def like_canners(problem: Problem) -> list[list[Canner]]:
    """Canners gathered by their places, their times and the fires that they cover."""
    alike: dict[tuple[object, ...], list[Canner]] = {}
    power = {b.id: b.power_w for b in problem.burners}
    for c in problem.canners:
        times = (c.first_heat_min, c.reheat_min, c.load_min, c.come_up_min)
        key = (
            *times,
            tuple(sorted((of, up.minutes) for of, up in c.come_up_of.items())),
            c.rest_min,
            c.unload_min,
            tuple(sorted(c.places.items())),
            tuple(sorted(power[b] for b in c.burners)),
        )
        alike.setdefault(key, []).append(c)
    return list(alike.values())


def capacity(problem: Problem, supply: Supply, end: int) -> NDArray[np.int64]:
    """How much there is of a supply in each minute 0 .. ``end`` - 1."""
    if isinstance(supply, Hands):
        there = np.zeros(end, dtype=np.int64)
        for person in problem.people:
            if person.id in supply.people:
                there += supply.of(person) * is_there(person, end)
        return there
    match supply:
        case Fires(power_w):
            strong = (b for b in problem.burners if b.power_w >= power_w)
            return sum((is_ours(b, end) for b in strong), np.zeros(end, dtype=np.int64))
        case Pots(sizes):
            many = sum(p.size in sizes for p in problem.pots)
        case Mills():
            many = problem.mills
        case Canners(ids):
            many = len(ids)
    return np.full(end, many, dtype=np.int64)


def spared_min(problem: Problem, supply: Supply, end: int) -> int:
    """
    How much more than there is may be asked of a supply at most, anywhere in a day.

    Of hands where each thing counts as whole: what two things side by side spare, but
    for the pairs of stirrings that `spared_by_pairs` knows of. [min]
    """
    if not isinstance(supply, Hands) or supply.count != "each":
        return 0
    if after_long_cooking(problem):
        return beside_pans(problem, supply.people, end).minutes
    return side_by_side_min(problem, supply.people)


def spared_by_pairs(problem: Problem, supply: Supply, end: int) -> Pairs | None:
    """Pairs of stirrings that may be at once in some hands, where that costs before."""
    if not isinstance(supply, Hands) or supply.count != "each":
        return None
    if not stirrings(problem, supply.people) or not after_long_cooking(problem):
        return None
    return pairs_of(problem, supply.people, end)


def is_there(person: Person, end: int) -> NDArray[np.int64]:
    """1 in each minute at which a person has come, has not left and is not away."""
    there = np.ones(end, dtype=np.int64)
    there[: max(0, min(person.arrives_min, end))] = 0
    there[max(0, min(person.leaves_min, end)) :] = 0
    for gone, back in person.away:
        there[max(0, gone) : max(0, back)] = 0
    return there


def is_ours(burner: Burner, end: int) -> NDArray[np.int64]:
    """1 in each minute at which a burner is not somebody else's."""
    ours = np.ones(end, dtype=np.int64)
    for start, over in burner.taken:
        ours[max(0, start) : max(0, over)] = 0
    return ours


def _hands(problem: Problem) -> Iterator[Hands]:
    everyone = frozenset(p.id for p in problem.people)
    groups = {everyone} | {
        able_people(problem, batch, i)
        for batch in problem.batches
        for i, step in enumerate(batch.steps)
        if step.attention_quarters
    }
    if problem.canners and any(b.process is not None for b in problem.batches):
        groups.add(lifters(problem))
    for group in sorted(groups - {frozenset()}, key=lambda g: (len(g), sorted(g))):
        yield Hands(group, "quarters")
        yield Hands(group, "whole")
        if any(
            step.attention_quarters == HALF_OF_ONE
            and able_people(problem, batch, i) <= group
            for batch in problem.batches
            for i, step in enumerate(batch.steps)
        ):
            yield Hands(group, "each")


def _fires(problem: Problem) -> Iterator[Fires]:
    powers = {s.burner_w for b in problem.batches for s in b.steps if s.burner_w > 0}
    yield from (Fires(power) for power in sorted(powers))


def _pots(problem: Problem) -> Iterator[Pots]:
    sizes = {
        frozenset(b.pots)
        for b in problem.batches
        if b.pots and any(s.in_pot for s in b.steps)
    }
    yield from (Pots(s) for s in sorted(sizes, key=sorted))
