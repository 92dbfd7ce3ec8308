"""
Loads that are over without a whole process: what was said of a load, and what it frees.

Every jar of such a load broke and the glass is out, or its jars were given up. Its
canner is free then, and its minutes are no longer kept. Jars that broke hold it as long
as nobody has said that the glass is out: it is cleared out cold.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from stillroom.planning.problem import Batch, Problem
from stillroom.planning.timetable import PlacedLoad, Timetable


@dataclass(frozen=True, slots=True, kw_only=True)
class SeenLoad:
    """What was said of a load."""

    boil_min: int | None = None
    """When it came to a full boil that was not lost since."""
    lifted_min: int | None = None
    lost: bool = False
    """Its boil was lost, and is not back."""
    is_over: bool = False
    """It gets no whole process any more: its jars broke and the glass is out, or they
    were given up. ``lifted_min`` is since when it is out, where that is known."""


def over_without_a_process(
    problem: Problem,
    plan: Timetable,
    seen: Mapping[str, SeenLoad],
    in_canners: Collection[PlacedLoad],
    now_min: int,
) -> dict[str, PlacedLoad]:
    """
    Return the loads that are over, with their fire off a minute ago at the latest.

    So the next load of the canner is not lowered into its water while that is hot.
    What was said to be out is out since then, and what was in a canner that is known to
    hold another load was out before that. Of any other nobody knows: it rests as after
    a process, so that a canner under pressure is opened no sooner, and is emptied then.
    """
    rest_of = {canner.id: canner.rest_min for canner in problem.canners}
    found = {}
    for load in plan.loads:
        said = seen.get(load.id)
        if said is None or not said.is_over:
            continue
        boiled = said.boil_min
        since = [
            other.lower_min
            for other in in_canners
            if other.canner == load.canner
            and (boiled is None or other.lower_min > boiled)
        ]
        is_out = said.lifted_min is not None or bool(since)
        out = now_min if said.lifted_min is None else said.lifted_min
        found[load.id] = _ended(load, boiled, min([out, now_min - 1, *since]))
        if not is_out:
            lift = found[load.id].done_min + rest_of[load.canner]
            found[load.id] = replace(
                found[load.id],
                lift_min=lift,
                out_min=lift + load.out_min - load.lift_min,
            )
    return found


def with_jars_left(batches: Iterable[Batch], plan: Timetable) -> tuple[Batch, ...]:
    """Return batches with the jars that came, or may come, to a whole process."""
    gone: dict[str, int] = {}
    for load in plan.loads:
        for name, count in load.jars if load.is_cut_short else ():
            gone[name] = gone.get(name, 0) + count
    return tuple(replace(b, jars=b.jars - gone.get(b.id, 0)) for b in batches)


def _ended(load: PlacedLoad, boiled_min: int | None, end: int) -> PlacedLoad:
    """The load out at a minute; where nobody saw it boil it takes no minute at all."""
    by = 0 if boiled_min is None else min(end, boiled_min) - load.boil_min
    was = (load.heat_min, load.lower_min, load.lowered_min, load.boil_min)
    heat, lower, lowered, boil = (end if boiled_min is None else m + by for m in was)
    return replace(
        load,
        heat_min=heat,
        lower_min=lower,
        lowered_min=lowered,
        boil_min=boil,
        done_min=end,
        lift_min=end,
        out_min=end,
        fire_free_min=end,
    )
