"""When people are free while the day goes on, and in how many pieces."""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.problem import Person
from stillroom.planning.timetable import Timetable


@dataclass(frozen=True, slots=True)
class Piece:
    """Free minutes on end; a rest in the midst of them does not cut them in two."""

    start_min: int
    end_min: int
    free_min: int
    """Minutes of it that are neither rest nor absence."""


def free_pieces(
    plan: Timetable, person: Person, kept: tuple[tuple[int, int], ...] = ()
) -> tuple[Piece, ...]:
    """
    Free time of one person from coming to leaving, or to the end of all work.

    Parameters
    ----------
    plan : Timetable
        The plan of a day.
    person : Person
        One of the people of that day.
    kept : tuple of (int, int)
        Further spans that are not hers: she stays by a canner. [min]

    Returns
    -------
    tuple of Piece
        By the clock. A piece ends where a step, a load or an absence begins.
    """
    until = min(person.leaves_min, plan.finish_min)
    rests = [(r.start_min, r.end_min) for r in plan.breaks if r.person == person.id]
    pieces: list[Piece] = []
    at = person.arrives_min
    away = [span for span in person.away if span[0] < span[1]]
    for start, end in [*sorted([*busy(plan, person), *away, *kept]), (until, until)]:
        stop = min(start, until)
        if stop > at:
            free = stop - at - sum(max(0, min(stop, b) - max(at, a)) for a, b in rests)
            if free > 0:
                pieces.append(Piece(at, stop, free))
        at = max(at, end)
    return tuple(pieces)


def busy(plan: Timetable, person: Person) -> list[tuple[int, int]]:
    """Work of a person, start and end: steps, and loads lowered and lifted."""
    taken = [(s.start_min, s.end_min) for s in plan.steps if s.person == person.id]
    for load in plan.loads:
        if load.lowered_by == person.id:
            taken.append((load.lower_min, load.lowered_min))
        if load.lifted_by == person.id:
            taken.append((load.lift_min, load.out_min))
    return taken


def longest(pieces: tuple[Piece, ...]) -> Piece | None:
    """The longest piece, the latest of equals; `None` where there is none."""
    return max(pieces, key=lambda p: (p.free_min, p.start_min), default=None)
