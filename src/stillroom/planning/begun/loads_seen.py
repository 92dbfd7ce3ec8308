"""Loads that are in a canner by now: seen to boil, or taken to be in it."""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.begun.over import SeenLoad
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad

SOON_MIN = 5
"""A canner that should boil and does not is thought to do so in so many minutes."""


def is_on_the_clock(seen: SeenLoad | None) -> bool:
    """Whether a load was said to boil, and its boil was not lost since."""
    if seen is None or seen.is_over:
        return False
    return not seen.lost and seen.boil_min is not None


def seen_load(
    problem: Problem, load: PlacedLoad, seen: SeenLoad, now: int
) -> PlacedLoad:
    """A load on the clock: its boil was seen, and perhaps how it was lifted out."""
    assert seen.boil_min is not None
    done = seen.boil_min + load.process_min
    by = seen.boil_min - load.boil_min
    rest = next(c.rest_min for c in problem.canners if c.id == load.canner)
    lift = seen.lifted_min
    if lift is None:
        lift = max(done + rest, now)
    return replace(
        load,
        heat_min=load.heat_min + by,
        lower_min=load.lower_min + by,
        lowered_min=load.lowered_min + by,
        boil_min=seen.boil_min,
        done_min=done,
        lift_min=lift,
        out_min=lift + load.out_min - load.lift_min,
        fire_free_min=done,
    )


def lowered_load(
    problem: Problem, load: PlacedLoad, start: int, now: int
) -> PlacedLoad:
    """A load in the canner that is not at a full boil."""
    by = start - load.lower_min
    boil = load.boil_min + by
    if boil <= now:
        boil = now + SOON_MIN
    done = boil + load.process_min
    rest = next(c.rest_min for c in problem.canners if c.id == load.canner)
    return replace(
        load,
        heat_min=load.heat_min + by,
        lower_min=start,
        lowered_min=load.lowered_min + by,
        boil_min=boil,
        done_min=done,
        lift_min=done + rest,
        out_min=done + rest + load.out_min - load.lift_min,
        fire_free_min=done,
    )
