"""How the jars of a day's batches go to those who wait for them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TypeVar

K = TypeVar("K")


def jars_had(
    asked: Mapping[K, int], batches: Iterable[tuple[int, Collection[K]]]
) -> dict[K, int]:
    """
    Return how many of its jars each want gets.

    Parameters
    ----------
    asked : mapping
        Jars of each want, the earliest due first: it is served first.
    batches : iterable
        Jars of each batch, and the wants that they may go to.

    Examples
    --------
    Where one batch serves both, the later one gets what the other leaves.

    >>> jars_had({"by nine": 4, "by noon": 8}, [(10, ["by nine", "by noon"])])
    {'by nine': 4, 'by noon': 6}
    """
    given = jars_given(asked, batches)
    return {want: sum(mine.get(want, 0) for mine in given) for want in asked}


def jars_given(
    asked: Mapping[K, int], batches: Iterable[tuple[int, Collection[K]]]
) -> list[dict[K, int]]:
    """
    Return how many jars each batch gives to each want; see `jars_had`.

    >>> jars_given({"by nine": 4}, [(3, ["by nine"]), (8, ["by nine", "by noon"])])
    [{'by nine': 3}, {'by nine': 1}]
    """
    left = list(batches)
    given: list[dict[K, int]] = [{} for _ in left]
    for want, jars in asked.items():
        lacking = jars
        for n, (there, wants) in enumerate(left):
            if want in wants:
                got = min(there, lacking)
                given[n][want] = got
                lacking -= got
                left[n] = (there - got, wants)
    return given
