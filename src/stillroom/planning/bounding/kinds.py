"""
Batches that differ in nothing but their name, and what one of them asks for.

What is asked is never more than what a plan needs: a tie that makes a ring is left out,
and steps of one pot share its burner unless they lie apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from stillroom.planning.bounding.bounds import able_people, after_closing_min
from stillroom.planning.bounding.cheapest import NEVER, Tree, cheapest, tree_of
from stillroom.planning.bounding.marks import Mark, Minutes, asked, cost
from stillroom.planning.bounding.supplies import Fires, Hands, Mills, Pots, Supply
from stillroom.planning.network import UNTIED, Network, network_of
from stillroom.planning.problem import Batch, Problem

PARTS_OF_THE_DAY = 4
"""In each of them the cheapest place of a batch is looked for: fewer rounds."""


@dataclass(frozen=True, slots=True)
class Closing:
    """When the jars of a batch are closed, and how long they may stand so."""

    chain: int
    offset: int
    """From the chain's start to the jars closed. [min]"""
    jars: int
    process: str
    wait_min: int | None
    """`None` where nothing is said of it."""


@dataclass(frozen=True, slots=True)
class Kind:
    """So many like batches, and what each of them asks for."""

    batch: Batch
    count: int
    earliest: tuple[int, ...]
    """Of each chain. [min]"""
    latest: tuple[int | None, ...]
    """Of each chain, by the clock; `None` where nothing is said. [min]"""
    tail: tuple[int, ...]
    """Least time from each chain's start to the end of the day. [min]"""
    tree: Tree
    marks: tuple[tuple[Mark, ...], ...]
    """Of each chain."""
    closing: Closing | None

    def last_start(self, chain: int, end: int) -> int:
        """Latest start of a chain in a day that ends at ``end``. [min]"""
        by_the_clock = self.latest[chain]
        latest = end - self.tail[chain]
        return latest if by_the_clock is None else min(latest, by_the_clock)

    def fits(self, starts: Sequence[int], end: int) -> bool:
        """Whether a batch with these starts is done when the day ends."""
        return all(s <= self.last_start(c, end) for c, s in enumerate(starts))

    def cheapest(
        self, spent: Sequence[Minutes | None], jar: Minutes | None, end: int
    ) -> list[tuple[int, list[int]]]:
        """
        Least cost of one batch in a day that ends at ``end``, and its starts.

        The first is the cheapest of all; others are the cheapest of a part of the day.

        ``spent`` is the price of all minutes before each, of each supply; ``jar`` the
        price of each jar closed at each minute.
        """
        costs = []
        for chain, low in enumerate(self.earliest):
            high = self.last_start(chain, end)
            if high < low:
                return [(NEVER, [])]
            line = np.full(end + 1, NEVER, dtype=np.int64)
            line[low : high + 1] = cost(self.marks[chain], spent, low, high)
            closing = self.closing
            if closing is not None and closing.chain == chain and jar is not None:
                since, until = low + closing.offset, high + closing.offset
                line[low : high + 1] += closing.jars * jar[since : until + 1]
            costs.append(line)
        return cheapest(costs, self.tree, PARTS_OF_THE_DAY)


def kinds_of(problem: Problem, supplies: Sequence[Supply]) -> tuple[Kind, ...]:
    """The batches of a day, the like ones counted."""
    alike: dict[tuple[object, ...], list[Batch]] = {}
    for b in problem.batches:
        key = (b.jars, b.process, b.pots, b.ready_after, b.closed_wait_at_most_min)
        alike.setdefault((*key, b.steps, b.links, b.windows), []).append(b)
    return tuple(
        _kind(problem, supplies, group[0], len(group)) for group in alike.values()
    )


def _kind(
    problem: Problem,
    supplies: Sequence[Supply],
    batch: Batch,
    count: int,
) -> Kind:
    network = network_of(batch)
    closing = _closing(batch, network)
    after = after_closing_min(problem, batch)
    tails = []
    for chain in network.chains:
        root = chain.members[0][0]
        tail = network.tail[root]
        if closing is not None:
            for i in _closing_steps(batch):
                lag = network.lag[root][i]
                if lag != UNTIED:
                    tail = max(tail, lag + batch.steps[i].duration_min + after)
        tails.append(tail)
    marks: list[list[Mark]] = [[] for _ in network.chains]
    for number, supply in enumerate(supplies):
        for mark in _asked_of(problem, batch, network, number, supply):
            marks[mark.chain].append(mark)
    roots = [chain.members[0][0] for chain in network.chains]
    return Kind(
        batch,
        count,
        tuple(_earliest(batch, network, root) for root in roots),
        tuple(_latest(batch, network, root) for root in roots),
        tuple(tails),
        tree_of(batch, network),
        tuple(map(tuple, marks)),
        closing,
    )


def _earliest(batch: Batch, network: Network, step: int) -> int:
    """Earliest start of a step, by its batch and by the clock. [min]"""
    position = {s.id: i for i, s in enumerate(batch.steps)}
    ready = [
        window.earliest_min + network.lag[position[window.step]][step]
        for window in batch.windows
    ]
    return max([network.earliest[step], *ready])


def _latest(batch: Batch, network: Network, step: int) -> int | None:
    """Latest start of a step by the clock; `None` where no limit bears on it. [min]"""
    position = {s.id: i for i, s in enumerate(batch.steps)}
    seen = [
        window.latest_min - lag
        for window in batch.windows
        if window.latest_min is not None
        and (lag := network.lag[step][position[window.step]]) != UNTIED
    ]
    return min(seen, default=None)


def _closing_steps(batch: Batch) -> list[int]:
    if batch.process is None:
        return []
    return [i for i, s in enumerate(batch.steps) if batch.ready_after in ("", s.id)]


def _closing(batch: Batch, network: Network) -> Closing | None:
    steps = _closing_steps(batch)
    if not steps or batch.process is None:
        return None
    last = max(steps, key=lambda i: network.earliest[i] + batch.steps[i].duration_min)
    return Closing(
        network.chain_of[last],
        network.offset[last] + batch.steps[last].duration_min,
        batch.jars,
        batch.process,
        batch.closed_wait_at_most_min if len(steps) == 1 else None,
    )


def _asked_of(
    problem: Problem,
    batch: Batch,
    network: Network,
    number: int,
    supply: Supply,
) -> Iterator[Mark]:
    """Marks of what a batch asks of one supply."""

    def at(step: int, minute: int) -> tuple[int, int]:
        return network.chain_of[step], network.offset[step] + minute

    if isinstance(supply, Hands):
        for i, step in enumerate(batch.steps):
            if not step.attention_quarters:
                continue
            if not able_people(problem, batch, i) <= supply.people:
                continue
            weight = supply.weigh(step.attention_quarters)
            if weight and step.duration_min:
                yield from asked(number, weight, at(i, 0), at(i, step.duration_min))
    elif isinstance(supply, Fires):
        for i in _apart_on_fire(batch, network):
            step = batch.steps[i]
            if step.burner_w >= supply.power_w:
                yield from asked(number, 1, at(i, 0), at(i, step.duration_min))
    elif isinstance(supply, Pots):
        inside = [i for i, s in enumerate(batch.steps) if s.in_pot]
        if batch.pots and inside and supply.sizes >= set(batch.pots):
            first, last = _held_at_least(batch, network, inside)
            until = at(last, batch.steps[last].duration_min)
            yield from asked(number, 1, at(first, 0), until)
    elif isinstance(supply, Mills):
        on_it = [i for i, s in enumerate(batch.steps) if s.on_mill]
        if on_it:
            first, last = _held_at_least(batch, network, on_it)
            until = at(last, batch.steps[last].duration_min)
            yield from asked(number, 1, at(first, 0), until)


def _apart_on_fire(batch: Batch, network: Network) -> list[int]:
    """Steps on a fire; of those in the pot, only such as never lie side by side."""
    found: list[int] = []
    in_pot: list[int] = []
    lag, steps = network.lag, batch.steps
    for i, step in enumerate(steps):
        if step.burner_w <= 0:
            continue
        if step.in_pot:
            if not all(
                lag[i][j] >= step.duration_min or lag[j][i] >= steps[j].duration_min
                for j in in_pot
            ):
                continue
            in_pot.append(i)
        found.append(i)
    return found


def _held_at_least(batch: Batch, network: Network, on: list[int]) -> tuple[int, int]:
    """First and last of some steps, as far apart as is sure: held between them."""
    pairs = [(i, j) for i in on for j in on if network.lag[i][j] >= 0]
    return max(
        pairs, key=lambda p: network.lag[p[0]][p[1]] + batch.steps[p[1]].duration_min
    )
