"""Loads by turns: where a load finds a canner, its water and fire, and two lifts."""

from __future__ import annotations

from dataclasses import replace

from stillroom.planning.hand.free_time import minutes, room_for
from stillroom.planning.hot_jars import LABOUR_QUARTERS, LIFT_WITHIN_MIN
from stillroom.planning.sequence.compiled import Compiled
from stillroom.planning.sequence.room import Load, Room

MINUTES_TRIED = 60
"""Minutes at which a load is tried in a canner where water or fire forbid it."""


def process_for(day: Compiled, batches: tuple[int, ...]) -> int | None:
    """The shortest process that jars of all these batches may share, in a canner."""
    together: frozenset[int] | None = None
    jars = 0
    for b in batches:
        own = day.made[b].process
        if own is None:
            return None
        rides = day.rides[own]
        together = rides if together is None else together & rides
        jars += day.made[b].jars
    processes = day.problem.processes
    held = [
        p
        for p in sorted(together or ())
        if any(c.places.get(processes[p].jar, 0) >= jars for c in day.problem.canners)
    ]
    return min(held, key=lambda p: (processes[p].minutes, p), default=None)


def lowerings(day: Compiled, room: Room, process: int, jars: int) -> int:
    """Minutes, as bits, at which a load may be lowered; water and fire apart."""
    some = 0
    for canner in range(len(day.problem.canners)):
        some |= _lowerings_in(day, room, canner, process, jars)
    return some


def _lowerings_in(
    day: Compiled, room: Room, canner: int, process: int, jars: int
) -> int:
    it = day.problem.canners[canner]
    what = day.problem.processes[process]
    if it.places.get(what.jar, 0) < jars:
        return 0
    free = minutes(min(it.first_heat_min, it.reheat_min), day.problem.horizon_min)
    for load in room.lines[canner]:
        free &= ~minutes(load.lower, load.out)
    lift_after = it.load_min + it.minutes_up(what.id) + what.minutes + it.rest_min
    lift, to_lift = 0, _lifts(day, room, it.unload_min)
    for later in range(LIFT_WITHIN_MIN + 1):
        lift |= to_lift >> (lift_after + later)
    fits = room_for(free, lift_after + it.unload_min)
    return fits & lift & _lifts(day, room, it.load_min)


def _lifts(day: Compiled, room: Room, length: int) -> int:
    some = 0
    for person in day.lifters:
        some |= room_for(room.hands[person][LABOUR_QUARTERS - 1], max(1, length))
    return some


def lower(
    day: Compiled,
    room: Room,
    process: int,
    batches: tuple[int, ...],
    since: int,
    first_canner: int,
    lift_after: int,
) -> int | None:
    """
    Lower a load as early as it can be from a minute on; the minute, or `None`.

    Of canners that serve equally soon it is ``first_canner``, or the next.
    """
    many = len(day.problem.canners)
    jars = sum(day.made[b].jars for b in batches)
    best: tuple[int, int, tuple[Load, ...], int] | None = None
    for n in range(many):
        canner = (first_canner + n) % many
        mask = _lowerings_in(day, room, canner, process, jars) >> since << since
        fire = room.fire_for(day, canner)
        tried = 0
        while mask and tried < MINUTES_TRIED:
            low = mask & -mask
            mask ^= low
            tried += 1
            start = low.bit_length() - 1
            if best is not None and start >= best[0]:
                break
            found = _load_at(
                day, room, canner, process, batches, start, fire, lift_after
            )
            if found is not None:
                best = (start, canner, *found)
                break
    if best is None:
        return None
    start, canner, line, hold = best
    room.lines[canner], room.holds[canner] = line, hold
    load = next(x for x in line if x.lower == start)
    it = day.problem.canners[canner]
    room.give(load.lowered_by, start, it.load_min, LABOUR_QUARTERS)
    room.give(load.lifted_by, load.lift, it.unload_min, LABOUR_QUARTERS)
    room.end = max(room.end, load.out)
    return start


def _load_at(
    day: Compiled,
    room: Room,
    canner: int,
    process: int,
    batches: tuple[int, ...],
    start: int,
    fire: int,
    lift_after: int,
) -> tuple[tuple[Load, ...], int] | None:
    it = day.problem.canners[canner]
    lowered_by = _who(day, room, start, it.load_min)
    if lowered_by is None:
        return None
    what = day.problem.processes[process]
    done = start + it.load_min + it.minutes_up(what.id) + what.minutes
    rested = done + it.rest_min
    for lift in range(rested + lift_after, rested + LIFT_WITHIN_MIN + 1):
        lifted_by = _who(day, room, lift, it.unload_min)
        if lifted_by is None:
            continue
        load = Load(
            process=process,
            batches=batches,
            lower=start,
            done=done,
            lift=lift,
            out=lift + it.unload_min,
            lowered_by=lowered_by,
            lifted_by=lifted_by,
            heat=start,
            hot=False,
            fire_free=done,
        )
        line = tuple(sorted((*room.lines[canner], load), key=lambda x: x.lower))
        found = _heated(day, canner, line, fire)
        if found is not None:
            return found
    return None


def _who(day: Compiled, room: Room, start: int, length: int) -> int | None:
    span = minutes(start, start + length)
    for person in day.lifters:
        if not span & ~room.hands[person][LABOUR_QUARTERS - 1]:
            return person
    return None


def _heated(
    day: Compiled, canner: int, line: tuple[Load, ...], fire: int
) -> tuple[tuple[Load, ...], int] | None:
    """Loads of a canner with their water hot or heated, and its hold of the fire."""
    it = day.problem.canners[canner]
    hold = 0
    water: list[tuple[int, bool, int]] = []
    before: Load | None = None
    for load in line:
        hot = False
        if before is None:
            heat = load.lower - it.first_heat_min
        else:
            pause = load.lower - before.out
            kept = minutes(before.out, load.lower)
            stays = pause >= 0 and not kept & ~fire
            if stays and pause <= it.stays_hot_min:
                heat, hot = load.lower, True
                water[-1] = (*water[-1][:2], load.lower)
                hold |= kept
            elif stays and pause >= it.reheat_min:
                heat = load.lower - it.reheat_min
                hold |= kept
            elif pause >= it.first_heat_min:
                heat = load.lower - it.first_heat_min
            else:
                return None
        if heat < 0:
            return None
        span = minutes(heat, load.out)
        if span & ~fire:
            return None
        hold |= span
        water.append((heat, hot, load.done))
        before = load
    loads = tuple(
        replace(load, heat=heat, hot=hot, fire_free=fire_free)
        for load, (heat, hot, fire_free) in zip(line, water, strict=True)
    )
    return loads, hold
