"""
What something asks of a supply, as marks in time, and what that costs at a price.

A pot that is held from minute 10 to 30 is two marks: one less at its start and one more
at its end, each times the price of all minutes before it. What a batch asks, whatever
its steps, is then a sum over marks, and each of them hangs on one chain alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Minutes = NDArray[np.int64]
"""A whole figure for each minute, or for each stretch of them."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A start (negative weight) or an end (positive) of asking for a supply."""

    supply: int
    """Position in the list of supplies."""
    chain: int
    """The chain of no-wait steps that it moves with."""
    offset: int
    """From the chain's start. [min]"""
    weight: int


def asked(
    supply: int, weight: int, since: tuple[int, int], until: tuple[int, int]
) -> tuple[Mark, Mark]:
    """The two marks of asking so much between two moments, each a chain and offset."""
    return (
        Mark(supply, since[0], since[1], -weight),
        Mark(supply, until[0], until[1], weight),
    )


def stretches(marks: Iterable[tuple[int, int]], width: int, count: int) -> Minutes:
    """
    Weighted minutes in each of ``count`` stretches of ``width`` minutes.

    Parameters
    ----------
    marks : iterable of tuple of int
        Minute and weight of each mark of one supply; the weights sum to nothing.
    width : int
        Of a stretch. [min]
    count : int
        How many stretches.

    Returns
    -------
    array
        Minutes times weight. [min]
    """
    pairs = np.array(list(marks), dtype=np.int64).reshape(-1, 2)
    passed = pairs[:, :1] - np.arange(count, dtype=np.int64) * width
    total: Minutes = pairs[:, 1] @ np.minimum(np.maximum(passed, 0), width)
    return total


def before(prices: Minutes, width: int, end: int) -> Minutes:
    """Price of all minutes before each minute 0 .. ``end``, of prices by stretch."""
    by_minute = np.repeat(prices, width)[:end]
    return np.concatenate([np.zeros(1, dtype=np.int64), np.cumsum(by_minute)])


def cost(
    marks: Sequence[Mark], spent: Sequence[Minutes | None], low: int, high: int
) -> Minutes:
    """
    What marks of one chain cost for each of its starts ``low`` .. ``high``.

    ``spent`` has `before` of each supply, `None` where it costs nothing at all.
    """
    total = np.zeros(high - low + 1, dtype=np.int64)
    for mark in marks:
        line = spent[mark.supply]
        if line is not None:
            total += mark.weight * line[low + mark.offset : high + mark.offset + 1]
    return total
