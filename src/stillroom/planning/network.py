"""
The links of one batch as a network of time lags, closed under its longest paths.

Steps whose distance is fixed, directly or through others, form one *chain*: it has one
start, and the rest of it follows at fixed offsets (no-wait).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from stillroom.methods.step import Link, Step
from stillroom.planning.problem import Batch

UNTIED = -(10**9)
"""Lag between two steps that no path ties together."""


@dataclass(frozen=True, slots=True)
class Chain:
    """Steps at fixed distances: (position of the step, offset from the start)."""

    members: tuple[tuple[int, int], ...]
    length_min: int


@dataclass(frozen=True, slots=True)
class Network:
    """Longest paths between the starts of a batch's steps, and its chains."""

    lag: tuple[tuple[int, ...], ...]
    """``start[j] >= start[i] + lag[i][j]``; `UNTIED` where nothing is said. [min]"""
    earliest: tuple[int, ...]
    """Earliest start of each step when the day starts at 0. [min]"""
    tail: tuple[int, ...]
    """Least time from a step's start to the end of the whole batch. [min]"""
    chains: tuple[Chain, ...]
    chain_of: tuple[int, ...]
    offset: tuple[int, ...]


class CircularLinks(ValueError):
    """The links ask that a step starts after itself."""

    def __init__(self, steps: tuple[str, ...]) -> None:
        super().__init__(", ".join(steps))
        self.steps = steps


def network_of(batch: Batch) -> Network:
    """
    Network of a batch.

    Raises
    ------
    CircularLinks
        If no start times satisfy the links at all.
    """
    return _network(batch.steps, batch.links)


@lru_cache(maxsize=512)
def _network(steps: tuple[Step, ...], links: tuple[Link, ...]) -> Network:
    position = {step.id: i for i, step in enumerate(steps)}
    n = len(steps)
    lag = [[UNTIED] * n for _ in range(n)]
    for i in range(n):
        lag[i][i] = 0
    for link in links:
        i, j = position[link.before], position[link.after]
        length = steps[i].duration_min
        lag[i][j] = max(lag[i][j], length + link.at_least_min)
        if link.at_most_min is not None:
            lag[j][i] = max(lag[j][i], -(length + link.at_most_min))
    _close(lag)
    looped = tuple(steps[i].id for i in range(n) if lag[i][i] > 0)
    if looped:
        raise CircularLinks(looped)
    earliest = tuple(max(0, *(lag[i][j] for i in range(n))) for j in range(n))
    tail = tuple(
        max(lag[i][j] + steps[j].duration_min for j in range(n)) for i in range(n)
    )
    chains, chain_of, offset = _chains(steps, lag, earliest)
    return Network(tuple(map(tuple, lag)), earliest, tail, chains, chain_of, offset)


def _close(lag: list[list[int]]) -> None:
    n = len(lag)
    for k in range(n):
        through = lag[k]
        for i in range(n):
            first = lag[i][k]
            if first == UNTIED:
                continue
            row = lag[i]
            for j in range(n):
                if through[j] != UNTIED and first + through[j] > row[j]:
                    row[j] = first + through[j]


def _chains(
    steps: tuple[Step, ...], lag: list[list[int]], earliest: tuple[int, ...]
) -> tuple[tuple[Chain, ...], tuple[int, ...], tuple[int, ...]]:
    n = len(steps)
    chain_of, offset = [-1] * n, [0] * n
    chains: list[Chain] = []
    for first in sorted(range(n), key=lambda i: (earliest[i], i)):
        if chain_of[first] >= 0:
            continue
        tied = [
            j
            for j in range(n)
            if lag[first][j] != UNTIED and lag[first][j] + lag[j][first] == 0
        ]
        root = min(tied, key=lambda j: lag[first][j])
        members = []
        for j in sorted(tied, key=lambda j: lag[root][j]):
            chain_of[j], offset[j] = len(chains), lag[root][j]
            members.append((j, lag[root][j]))
        length = max(o + steps[j].duration_min for j, o in members)
        chains.append(Chain(tuple(members), length))
    return tuple(chains), tuple(chain_of), tuple(offset)
