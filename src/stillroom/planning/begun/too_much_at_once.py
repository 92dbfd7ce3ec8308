"""What nobody said to have begun, and somebody has no hands for: it has not begun."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from stillroom.planning.happened import QUARTERS, Key
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedStep


def too_much_at_once(
    problem: Problem, begun: Mapping[Key, PlacedStep], now: int, said: Collection[Key]
) -> list[Key]:
    """Steps that nobody said, and for which somebody has no hands left now."""
    has = {person.id: person.quarters for person in problem.people}
    found = []
    runs = sorted(
        (key for key, s in begun.items() if s.end_min > now),
        key=lambda key: (key not in said, begun[key].start_min),
    )
    asked: dict[str, int] = {}
    for key in runs:
        s = begun[key]
        if s.person is None:
            continue
        asked[s.person] = asked.get(s.person, 0) + s.quarters
        if asked[s.person] > has.get(s.person, QUARTERS) and key not in said:
            asked[s.person] -= s.quarters
            found.append(key)
    return found
