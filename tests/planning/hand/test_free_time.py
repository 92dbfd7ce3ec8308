"""Minutes as bits: against sets of minutes, one by one."""

from __future__ import annotations

import pytest

from stillroom.planning.hand.free_time import (
    each_minute,
    first_minute,
    minutes,
    room_for,
    taken,
)

PATTERNS = (0b0, 0b1, 0b1110111, 0b1101100, (1 << 40) - 1, 0b1011 << 30)


def as_set(pattern: int) -> set[int]:
    return {n for n in range(80) if pattern >> n & 1}


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_minutes_of_a_pattern_are_told_earliest_first(pattern: int) -> None:
    there = sorted(as_set(pattern))
    assert list(each_minute(pattern)) == there
    assert first_minute(pattern) == (there[0] if there else None)


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("length", [1, 2, 3, 4, 7, 8])
def test_there_is_room_from_each_minute_with_all_after_it_free(
    pattern: int, length: int
) -> None:
    there = as_set(pattern)
    fits = {n for n in there if all(n + k in there for k in range(length))}
    assert as_set(room_for(pattern, length)) == fits


@pytest.mark.parametrize(
    ("start", "end", "there"),
    [(3, 5, {3, 4}), (0, 1, {0}), (-2, 1, {0}), (4, 4, set()), (5, 3, set())],
)
def test_a_span_ends_before_its_last_minute(
    start: int, end: int, there: set[int]
) -> None:
    assert as_set(minutes(start, end)) == there


@pytest.mark.parametrize("quarters", [1, 2, 3, 4])
@pytest.mark.parametrize("free", [0, 1, 2, 3, 4])
def test_what_is_given_is_not_given_twice(free: int, quarters: int) -> None:
    """So many quarters free at ten minutes; some are given from 2 to 5."""
    levels = tuple(minutes(0, 10) if free >= n else 0 for n in (1, 2, 3, 4))
    left = taken(levels, 2, 5, quarters)  # type: ignore[arg-type]
    for n, pattern in zip((1, 2, 3, 4), left, strict=True):
        inside = {2, 3, 4} if free - quarters >= n else set()
        outside = {0, 1, *range(5, 10)} if free >= n else set()
        assert as_set(pattern) == inside | outside
