"""
Prices as a proof that a day cannot end by some minute, in whole figures throughout.

Give every minute of every hand, fire, pot, mill and canner a price, none of them
negative. In a plan, nothing is asked for more than there is; so what all batches and
loads pay together is never more than what all there is costs. If even the cheapest
place of each batch and load pays more, then there is no plan. That holds for any prices
whatever, wherever they came from, and it is reckoned here without rounding.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from stillroom.planning.bounding.canning import Canning
from stillroom.planning.bounding.cheapest import NEVER
from stillroom.planning.bounding.kinds import Kind
from stillroom.planning.bounding.marks import Minutes, before
from stillroom.planning.bounding.pairs import Pair, Pairs


@dataclass(frozen=True, slots=True)
class Stretches:
    """A day cut into equal stretches; a price holds for all minutes of one."""

    end: int
    """The day's end. [min]"""
    width: int
    """[min]"""

    @property
    def count(self) -> int:
        """How many; the last may be cut off by the day's end."""
        return -(-self.end // self.width)

    def of(self, minute: int) -> int:
        """The stretch that a minute lies in; the day's end belongs to the last."""
        return min(minute // self.width, self.count - 1)

    def last_ride(self, closed: int, wait_min: int | None) -> int:
        """Last stretch for lowering jars that were closed in a stretch."""
        if wait_min is None:
            return self.count - 1
        return min(
            self.count - 1, ((closed + 1) * self.width - 1 + wait_min) // self.width
        )


@dataclass(frozen=True, slots=True)
class Rest:
    """A break: how long it takes a person away in each stretch, for each start."""

    shares: tuple[tuple[int, int], ...]
    """Supplies that lose by it, and how much in a minute."""
    taken: Minutes
    """Minutes, a row for each start, a column for each stretch."""


@dataclass(frozen=True, slots=True)
class Prices:
    """Whole and not negative, one for each stretch."""

    supply: tuple[Minutes, ...]
    """Of a minute of each supply."""
    closed: tuple[Minutes, ...]
    """Of a jar of each sort that is closed and must ride."""
    place: tuple[Minutes, ...]
    """Of a place in each kind of load."""
    pan: dict[int, int]
    """Of a supply with stirrings, of each minute that a pan may lie beside one."""
    load: tuple[int, ...]
    """What one more load is worth to each family, or costs it: this may be negative."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What prices prove, and the cheapest places found on the way."""

    surplus: int
    """What must be paid more than all there is costs; above 0 there is no plan."""
    batches: tuple[tuple[tuple[int, tuple[int, ...]], ...], ...]
    """Of each kind: costs of one and the starts of its chains, the cheapest first."""
    loads: tuple[tuple[int, int, int], ...]
    """Of each kind of load: cost, lowering, minutes that it is lifted late."""
    pairs: dict[int, tuple[Pair, ...]]
    """Of a supply, pairs of stirrings that spare most, less the pans they take."""


def weigh(
    day: Stretches,
    prices: Prices,
    kinds: Sequence[Kind],
    canning: Canning,
    rests: Sequence[Rest],
    there: Sequence[Minutes],
    spared: Sequence[int],
    pairs: Mapping[int, Pairs],
) -> Verdict:
    """
    What the cheapest batches, loads and breaks pay, less what all there is costs.

    ``there`` is how much there is of each supply in each stretch, in minutes; and
    ``spared`` how much more may be asked of it, at the dearest time of the day;
    ``pairs`` are the stirrings of a supply of which two may be at once.
    """
    spent: list[Minutes | None] = [
        before(line, day.width, day.end) if line.any() else None
        for line in prices.supply
    ]
    closed = _no_dearer_than_places(day, prices, canning)
    jar = [np.append(np.repeat(c, day.width)[: day.end], c[-1]) for c in closed]
    batches = []
    surplus = 0
    for kind in kinds:
        line = None
        if kind.closing is not None:
            sort = [(j.process, j.wait_min) for j in canning.jars]
            mine = sort.index((kind.closing.process, kind.closing.wait_min))
            line = jar[mine]
        places = kind.cheapest(spent, line, day.end)
        batches.append(tuple((cost, tuple(starts)) for cost, starts in places))
        surplus += kind.count * places[0][0]
    loads = []
    most: dict[int, int] = {}
    for n, load in enumerate(canning.kinds):
        place = np.append(
            np.repeat(prices.place[n], day.width)[: day.end], prices.place[n][-1]
        )
        cost, lowered, late = load.cheapest(spent, place, day.end)
        for family, worth in zip(canning.families, prices.load, strict=True):
            if n in family.kinds and cost < NEVER:
                cost -= worth
        loads.append((cost, lowered, late))
        if cost < 0:  # so many of them there could be at most
            most[n] = cost * load.canners * (day.end // max(1, load.cycle))
    surplus += sum(most.values())
    for family, worth in zip(canning.families, prices.load, strict=True):
        surplus += worth * (family.least if worth >= 0 else family.most)
    for rest in rests:
        paid = np.zeros(len(rest.taken), dtype=np.int64)
        for supply, share in rest.shares:
            paid += share * (rest.taken @ prices.supply[supply])
        surplus += int(paid.min())
    for line, many in zip(prices.supply, there, strict=True):
        surplus -= int(line @ many)
    both: dict[int, tuple[Pair, ...]] = {}
    for n, more in enumerate(spared):
        if spent[n] is None:
            continue
        dearest = int(prices.supply[n].max())
        if n in pairs:
            surplus -= pairs[n].by_pans(dearest, more, prices.pan[n])
        else:
            surplus -= more * dearest
    for n, stirred in pairs.items():
        paid_before = spent[n]
        if paid_before is None or surplus <= 0:  # nothing to be proven by it
            continue
        spares, both[n] = stirred.by_pairs(paid_before, day.end, prices.pan[n])
        surplus -= spares
    return Verdict(surplus, tuple(batches), tuple(loads), both)


def _no_dearer_than_places(
    day: Stretches, prices: Prices, canning: Canning
) -> list[Minutes]:
    """
    Price of a closed jar: no more than its cheapest place within its wait.

    Rounding may have put it above that; then it could gain by riding.
    """
    found = []
    for sort, line, rides in zip(
        canning.jars, prices.closed, canning.rides, strict=True
    ):
        capped = line.copy()
        for closed in range(day.count):
            last = day.last_ride(closed, sort.wait_min)
            for n in rides:
                cheapest = int(prices.place[n][closed : last + 1].min())
                capped[closed] = min(int(capped[closed]), cheapest)
        found.append(capped)
    return found
