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
    left = list(batches)
    had = dict.fromkeys(asked, 0)
    for want, jars in asked.items():
        for n, (there, wants) in enumerate(left):
            if want in wants:
                got = min(there, jars - had[want])
                had[want] += got
                left[n] = (there - got, wants)
    return had
