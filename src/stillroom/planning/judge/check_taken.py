"""The judge of burners that are somebody else's: nothing of ours is on them then."""

from __future__ import annotations

from collections.abc import Iterator

from stillroom.planning.judge.breach import About, Breach, breach
from stillroom.planning.judge.check_tools import named
from stillroom.planning.problem import Burner, Problem
from stillroom.planning.spoken_of import Minute, TheLoad
from stillroom.planning.timetable import PlacedLoad, Timetable


def taken_breaches(problem: Problem, timetable: Timetable) -> tuple[Breach, ...]:
    """What is on a burner while it is taken; all that is named is in the day."""
    found: list[Breach] = []
    for burner in problem.burners:
        for start, end in burner.taken:
            if start < end:
                found += _pots(burner, start, end, timetable)
                found += _canners(problem, burner, start, end, timetable)
    return tuple(found)


def _pots(
    burner: Burner, start: int, end: int, timetable: Timetable
) -> Iterator[Breach]:
    for s in timetable.steps:
        if s.burner == burner.id and s.start_min < end and start < s.end_min:
            yield breach(named(s), *_on(burner, start, end))


def _canners(
    problem: Problem, burner: Burner, start: int, end: int, timetable: Timetable
) -> Iterator[Breach]:
    """A canner from the first flame for a load until its jars are out, or longer."""
    over = {c.id for c in problem.canners if burner.id in c.burners}
    for load in timetable.loads:
        if load.canner not in over:
            continue
        if load.heat_min < end and start < load.out_min:
            yield breach(TheLoad(load.id), *_on(burner, start, end))
        if _kept_on(load, start, end):
            yield breach(
                "the fire kept on after ",
                TheLoad(load.id),
                *_on(burner, start, end),
                about=About.FIRE,
                load=load.id,
            )


def _kept_on(load: PlacedLoad, start: int, end: int) -> bool:
    """Whether its flame burns on for the next load in some of these minutes."""
    return max(load.out_min, start) < min(load.fire_free_min, end)


def _on(burner: Burner, start: int, end: int) -> tuple[str | Minute, ...]:
    return (
        f" is on burner {burner.id}, which is taken ",
        Minute(start),
        " to ",
        Minute(end),
    )
