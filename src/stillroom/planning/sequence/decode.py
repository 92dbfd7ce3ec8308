"""
A plan made by turns: one load after another, each with the batches that ride in it.

The batches of a load are placed in their order; where the first would wait closed for
too long until the last is, all of them are placed anew, to be closed that much later.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.planning.hand.free_time import minutes
from stillroom.planning.how_good.lateness import POINTS_A_LATE_MINUTE
from stillroom.planning.sequence.canning import lower, lowerings, process_for
from stillroom.planning.sequence.compiled import Compiled
from stillroom.planning.sequence.parts import FAR
from stillroom.planning.sequence.placing import Way, place, within
from stillroom.planning.sequence.room import Room
from stillroom.planning.sequence.washing import wash_up
from stillroom.planning.timetable import (
    PlacedBreak,
    PlacedLoad,
    PlacedStep,
    Timetable,
)

TIMES_ANEW = 8
"""How often the batches of one load are placed anew, to be closed together."""


@dataclass(frozen=True, slots=True)
class Ride:
    """The batches of one load, or one batch that rides in none."""

    batches: tuple[int, ...]
    ways: tuple[Way, ...]
    canner: int = 0
    """Which of the canners is asked first."""
    lift_after: int = 0
    """So long after its rest it is lifted out, or a little later. [min]"""


@dataclass(frozen=True, slots=True)
class Begin:
    """One batch is begun, long before the rest of it has its turn."""

    batch: int
    cut: int
    way: Way


def add(day: Compiled, before: Room, turn: Ride | Begin) -> Room | None:
    """The room with one thing more placed; `None` where it does not fit."""
    if isinstance(turn, Ride):
        return add_ride(day, before, turn)
    if turn.batch in before.closed or turn.batch in before.begun:
        return before
    whole = minutes(0, day.problem.horizon_min)
    room = before.copy()
    if place(day, room, turn.batch, turn.way, whole, turn.cut):
        return room
    return None


def add_ride(day: Compiled, before: Room, ride: Ride) -> Room | None:
    """The room with a load and its batches placed; `None` where they do not fit."""
    process = process_for(day, ride.batches)
    whole = minutes(0, day.problem.horizon_min)
    if process is None:
        room = before.copy()
        for b, way in zip(ride.batches, ride.ways, strict=True):
            if day.made[b].process is not None:
                return None
            if not place(day, room, b, way, whole):
                return None
        return room
    jars = sum(day.made[b].jars for b in ride.batches)
    wait = {b: day.made[b].wait for b in ride.batches}
    since = dict.fromkeys(ride.batches, 0)
    for _ in range(TIMES_ANEW):
        room = before.copy()
        open_at = lowerings(day, room, process, jars)
        for b, way in zip(ride.batches, ride.ways, strict=True):
            closes_in = within(open_at, 0, min(wait[b], FAR - 1), whole)
            closes_in = closes_in >> since[b] << since[b]
            if not place(day, room, b, way, closes_in):
                return None
        closed = [room.closed[b] for b in ride.batches]
        start = lower(
            day,
            room,
            process,
            ride.batches,
            max(closed),
            ride.canner,
            ride.lift_after,
        )
        if start is None:
            return None
        late = False
        for b in ride.batches:
            if room.closed[b] < start - wait[b]:
                since[b], late = start - wait[b], True
            else:
                since[b] = max(since[b], start - wait[b])
        if not late:
            return room
    return None


def finished(day: Compiled, room: Room) -> Room | None:
    """The room with all washed up; `None` where there is no time or counter for it."""
    room = room.copy()
    if not wash_up(day, room) or room.end > day.problem.horizon_min:
        return None
    counter = day.problem.counter
    loads = [
        (load.out, sum(day.made[b].jars for b in load.batches))
        for line in room.lines
        for load in line
    ]
    for at, _ in loads:
        standing = sum(n for out, n in loads if out <= at < out + counter.cooling_min)
        standing += sum(n for n, until in counter.taken if at < until)
        if standing > counter.places:
            return None
    return room


def worth(day: Compiled, room: Room) -> int:
    """Finish plus points of lateness, of what is placed."""
    if not day.late:
        return room.end
    done = done_at(room)
    late = 0
    for by, weight, batches in day.late:
        last = max((done.get(b, 0) for b in batches), default=0)
        late += weight * max(0, last - by)
    return room.end + POINTS_A_LATE_MINUTE * late


def done_at(room: Room) -> dict[int, int]:
    """Minute at which the goods of each batch that is placed are there."""
    done = dict(room.closed)
    for line in room.lines:
        for load in line:
            for b in load.batches:
                done[b] = load.out
    return done


def timetable_of(day: Compiled, room: Room, rests: list[list[int]]) -> Timetable:
    """What is placed, with names."""
    problem = day.problem
    steps: list[PlacedStep] = []
    for placed in room.placed:
        batch = problem.batches[placed.batch]
        made, network = day.made[placed.batch], day.networks[placed.batch]
        piece = made.pieces[placed.chain]
        who = {
            i: person
            for work, person in zip(piece.works, placed.people, strict=True)
            for i in work.steps
        }
        on = {
            i: burner
            for fire, burner in zip(piece.fires, placed.burners, strict=True)
            for i in fire.steps
        }
        pot = room.tool_of.get((placed.batch, 0))
        mill = room.tool_of.get((placed.batch, 1))
        for i, offset in network.chains[placed.chain].members:
            step = batch.steps[i]
            start = placed.start + offset
            takes = step.duration_min
            if placed.rinsed and step.rinse_min is not None:
                takes = step.rinse_min
            steps.append(
                PlacedStep(
                    batch=batch.id,
                    step=step.id,
                    start_min=start,
                    end_min=start + takes,
                    person=problem.people[who[i]].id if i in who else None,
                    quarters=step.attention_quarters,
                    pot=problem.pots[pot].id
                    if pot is not None and step.in_pot
                    else None,
                    burner=problem.burners[on[i]].id if i in on else None,
                    mill=mill - len(problem.pots) + 1
                    if mill is not None and step.on_mill
                    else None,
                    rinsed=placed.rinsed,
                )
            )
    steps.sort(key=lambda s: (s.start_min, s.batch, s.end_min))
    breaks = tuple(
        PlacedBreak(person=p.id, start_min=start, end_min=start + rest.duration_min)
        for p, starts in zip(problem.people, rests, strict=True)
        for rest, start in zip(p.breaks, starts, strict=True)
    )
    return Timetable(steps=tuple(steps), loads=_loads(day, room), breaks=breaks)


def _loads(day: Compiled, room: Room) -> tuple[PlacedLoad, ...]:
    problem = day.problem
    loads = []
    for canner, line in zip(problem.canners, room.lines, strict=True):
        for n, load in enumerate(line):
            process = problem.processes[load.process]
            loads.append(
                PlacedLoad(
                    id=f"{canner.id}/{n + 1}",
                    canner=canner.id,
                    process=process.id,
                    process_min=process.minutes,
                    jars=tuple(
                        (problem.batches[b].id, day.made[b].jars) for b in load.batches
                    ),
                    hot=load.hot,
                    heat_min=load.heat,
                    lower_min=load.lower,
                    lowered_min=load.lower + canner.load_min,
                    boil_min=load.done - process.minutes,
                    done_min=load.done,
                    lift_min=load.lift,
                    out_min=load.out,
                    fire_free_min=load.fire_free,
                    lowered_by=problem.people[load.lowered_by].id,
                    lifted_by=problem.people[load.lifted_by].id,
                )
            )
    return tuple(sorted(loads, key=lambda x: (x.lower_min, x.id)))
