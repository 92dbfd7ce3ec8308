"""
The cheapest way to place one batch, when every minute of everything has its price.

The chains of a batch are tied by least and greatest distances. Where the ties form a
tree, each chain's best start for every start of the chain before it is a running least
(dynamic programming over the tree): exact, and a few passes over the minutes of the
day. Where they form a ring, the weakest tie of it is left out, so that the figure can
only be too small.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from stillroom.planning.bounding.marks import Minutes
from stillroom.planning.network import Network
from stillroom.planning.problem import Batch

NEVER = 2**55
"""Cost of a minute at which a chain cannot start; no sum of prices comes near it."""


@dataclass(frozen=True, slots=True)
class Tie:
    """The other chain starts so long after this one, from and to; `None`: no limit."""

    other: int
    least: int | None
    most: int | None


Tree = dict[int, list[Tie]]
"""Of each chain, its ties, each told from both sides; no rings."""


def tree_of(batch: Batch, network: Network) -> Tree:
    """The ties between a batch's chains, without rings: the tightest are kept."""
    position = {step.id: i for i, step in enumerate(batch.steps)}
    found: dict[tuple[int, int], tuple[int, int | None]] = {}
    for link in batch.links:
        i, j = position[link.before], position[link.after]
        one, other = network.chain_of[i], network.chain_of[j]
        if one == other or (other, one) in found:
            continue
        shift = batch.steps[i].duration_min + network.offset[i] - network.offset[j]
        least = shift + link.at_least_min
        most = None if link.at_most_min is None else shift + link.at_most_min
        if (one, other) in found:
            known_least, known_most = found[one, other]
            least = max(least, known_least)
            if most is None or (known_most is not None and known_most < most):
                most = known_most
        found[one, other] = least, most

    def looseness(item: tuple[tuple[int, int], tuple[int, int | None]]) -> object:
        (one, other), (least, most) = item
        return most is None, -least if most is None else most - least, one, other

    leader = list(range(len(network.chains)))

    def leading(chain: int) -> int:
        while leader[chain] != chain:
            chain = leader[chain]
        return chain

    tree: Tree = defaultdict(list)
    for (one, other), (least, most) in sorted(found.items(), key=looseness):  # type: ignore[arg-type]
        if leading(one) == leading(other):
            continue
        leader[leading(one)] = leading(other)
        tree[one].append(Tie(other, least, most))
        tree[other].append(Tie(one, None if most is None else -most, -least))
    return dict(tree)


def cheapest(
    costs: list[Minutes], tree: Tree, parts: int = 1
) -> list[tuple[int, list[int]]]:
    """
    Least total cost of starting every chain, and the starts.

    Parameters
    ----------
    costs : list of arrays
        Of each chain, the cost of starting it at minute 0, 1, ...; `NEVER` where it
        cannot. All of one length.
    tree : Tree
        The ties that must hold.
    parts : int
        The day is cut into so many parts, and the cheapest is told for each in which
        the first chain can start.

    Returns
    -------
    list of tuple
        Cost, and start of each chain, the cheapest first; its cost is at least `NEVER`
        where the ties cannot hold.
    """
    table = [line.copy() for line in costs]
    trees: list[list[tuple[int, int, Tie | None]]] = []
    seen: set[int] = set()
    for root in range(len(costs)):
        if root in seen:
            continue
        order = _from_root(root, tree)
        seen.update(chain for chain, _, _ in order)
        for chain, above, tie in reversed(order):
            if tie is not None:
                table[above] += running_least(table[chain], tie.least, tie.most)
        trees.append(order)
    size = len(costs[0]) if costs else 0
    edges = [size * n // parts for n in range(parts + 1)]
    found = []
    for low, high in pairwise(edges):
        if high > low:
            found.append(_from_table(table, trees, low, high))
    return sorted(found, key=lambda place: place[0]) or [(0, [])]


def _from_table(
    table: list[Minutes],
    trees: list[list[tuple[int, int, Tie | None]]],
    since: int,
    until: int,
) -> tuple[int, list[int]]:
    """The cheapest starts with the first chain of all within some minutes."""
    total, starts = 0, [0] * len(table)
    for n, order in enumerate(trees):
        for chain, above, tie in order:
            low, high = 0, len(table[chain]) - 1
            if tie is None and n == 0:
                low, high = since, until - 1
            if tie is not None:
                if tie.least is not None:
                    low = max(0, starts[above] + tie.least)
                if tie.most is not None:
                    high = min(high, starts[above] + tie.most)
            if high < low:
                return NEVER, starts
            starts[chain] = low + int(np.argmin(table[chain][low : high + 1]))
        root = order[0][0]
        total += int(table[root][starts[root]])
        if total >= NEVER:
            return NEVER, starts
    return total, starts


def _from_root(root: int, tree: Tree) -> list[tuple[int, int, Tie | None]]:
    """Chains of one tree from its root on: chain, the one above, and their tie."""
    order: list[tuple[int, int, Tie | None]] = []
    open_: list[tuple[int, int, Tie | None]] = [(root, -1, None)]
    while open_:
        chain, above, tie = open_.pop()
        order.append((chain, above, tie))
        open_ += [(t.other, chain, t) for t in tree.get(chain, ()) if t.other != above]
    return order


def running_least(line: Minutes, least: int | None, most: int | None) -> Minutes:
    """
    Of each minute, the least of a line from ``least`` to ``most`` minutes later.

    `None` is no limit on that side; what lies outside the line is `NEVER`.
    """
    size = len(line)
    if least is None or most is None:
        if most is None:
            through = np.minimum.accumulate(line[::-1])[::-1]
            at = np.arange(size) + (0 if least is None else least)
            inside = at < size
        else:
            through = np.minimum.accumulate(line)
            at = np.arange(size) + most
            inside = at >= 0
        found = np.full(size, NEVER, dtype=np.int64)
        found[inside] = through[np.clip(at[inside], 0, size - 1)]
        return found
    width, reach = most - least + 1, 1
    if width < 1:
        return np.full(size, NEVER, dtype=np.int64)
    edge = np.full(max(size, width), NEVER, dtype=np.int64)
    padded = np.concatenate([edge, line, edge])
    while reach * 2 <= width:
        padded[:-reach] = np.minimum(padded[:-reach], padded[reach:])
        reach *= 2
    if reach < width:
        rest = width - reach
        padded[:-rest] = np.minimum(padded[:-rest], padded[rest:])
    at = np.arange(size) + least + len(edge)
    inside = (at >= 0) & (at < len(padded))
    found = np.full(size, NEVER, dtype=np.int64)
    found[inside] = padded[at[inside]]
    return found
