"""
Arcs and hours of a network that need not be looked at: others imply them on every day.

An arc is implied where some way round through other groups already holds the later one
back as long, even if everything on the way took no time at all; an hour, where what is
waited for is itself held until then. The pass forward gives the same minutes without.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stillroom.planning.waits.precedence import Precedence

NEVER = -(10**9)
"""Nothing holds the one back for the other."""

Lags = NDArray[np.int64]


def arcs_that_matter(net: Precedence) -> dict[tuple[int, int], int]:
    """
    Return the arcs that no others imply.

    Parameters
    ----------
    net : Precedence
        A network whose groups are in order.

    Returns
    -------
    dict
        By (node before, group after), the least minutes from the end of the node to the
        start of the group; it is negative where a later member of the group waits.
    """
    asked: dict[tuple[int, int], int] = {}
    for arc in net.arcs:
        key = arc.before, net.group_of[arc.after]
        lag = arc.lag_min - net.offset[arc.after]
        asked[key] = max(asked.get(key, lag), lag)
    out: list[list[tuple[int, int]]] = [[] for _ in net.nodes]
    for (before, group), lag in asked.items():
        out[before].append((group, lag))
    follows: list[list[tuple[int, int]]] = [[] for _ in net.nodes]
    for arc in net.inner:
        follows[arc.before].append((arc.after, arc.lag_min))
    by_start = _begins_after(net)
    groups = len(net.members)
    from_group: dict[int, Lags] = {}
    kept: dict[tuple[int, int], int] = {}
    for group in reversed(net.order):
        from_node: dict[int, Lags] = {}
        for node in reversed(net.members[group]):
            reach = np.full(groups, NEVER, dtype=np.int64)
            for other, lag in follows[node]:
                if other in from_node:
                    np.maximum(reach, from_node[other] + lag, out=reach)
            ways = [(g, lag, from_group[g] + lag) for g, lag in out[node]]
            for g, lag in out[node]:
                through = [way[g] for other, _, way in ways if other != g]
                if max([int(reach[g]), *map(int, through)]) < lag:
                    kept[node, g] = lag
            for _, _, way in ways:
                np.maximum(reach, way, out=reach)
            from_node[node] = reach
        here = np.full(groups, NEVER, dtype=np.int64)
        for node in net.members[group]:
            np.maximum(here, from_node[node] + by_start[node], out=here)
        here[group] = 0
        from_group[group] = here
    return kept


def floors_that_matter(
    net: Precedence, waits: Sequence[Sequence[tuple[int, float]]], floors: list[float]
) -> list[float | None]:
    """
    Return the least start of each group, where nothing that it waits for implies it.

    Parameters
    ----------
    net : Precedence
        A network whose groups are in order.
    waits : sequence of sequence of (int, float)
        For each group, what it waits for: the node and the lag. [min]
    floors : list of float
        For each group, the minute before which it does not begin. [min]

    Returns
    -------
    list of float or None
        The same, `None` where it begins no sooner even if nothing took any time. [min]
    """
    by_start = _begins_after(net)
    least_end: list[float] = [0.0] * len(net.nodes)
    found: list[float | None] = list(floors)
    for group in net.order:
        held = [least_end[before] + lag for before, lag in waits[group]]
        if held and max(held) >= floors[group]:
            found[group] = None
        begins = max([floors[group], *held])
        for node in net.members[group]:
            least_end[node] = begins + by_start[node]
    return found


def _begins_after(net: Precedence) -> list[int]:
    """Least minutes of each node's start after its group's, if nothing took time."""
    inner: list[list[tuple[int, int]]] = [[] for _ in net.nodes]
    for arc in net.inner:
        inner[arc.after].append((arc.before, arc.lag_min))
    least = list(net.offset)
    for members in net.members:
        for node in members:
            if inner[node]:
                least[node] = max(least[before] + lag for before, lag in inner[node])
    return least
