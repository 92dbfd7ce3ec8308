"""
From counted to named: which pot, burner and mill, by colouring intervals.

Intervals of depth n can always be given n names: counting in the model is exact.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """Something that holds one of several like things for a time."""

    key: Hashable
    start: int
    end: int
    of: str = ""
    """What it holds it for."""


def named(spans: Sequence[Span], names: Sequence[str]) -> dict[Hashable, str]:
    """
    A name for each span so that no two hold one name at once.

    Raises
    ------
    ValueError
        If at some minute there are more spans than names.
    """
    free_from = dict.fromkeys(names, 0)
    held_last = dict.fromkeys(names, "")
    given: dict[Hashable, str] = {}
    for span in sorted(spans, key=lambda s: (s.start, s.end)):
        free = [name for name in names if free_from[name] <= span.start]
        if not free:
            raise ValueError(f"{span.key}: all of {', '.join(names)} are held")
        # one that held the like, then the one used last: the others stay on their shelf
        like = [name for name in free if span.of and held_last[name] == span.of]
        name = max(like or free, key=lambda n: (free_from[n], -names.index(n)))
        given[span.key], free_from[name] = name, span.end
        held_last[name] = span.of
    return given
