"""
What is made small while the rest of a day is planned again.

The end of the day and late wants first; then what gives way; then every change.
"""

from __future__ import annotations

from ortools.sat.python import cp_model

from stillroom.planning.begun.residual import NOW, Residual
from stillroom.planning.cpsat.objective import end_and_lateness
from stillroom.planning.cpsat.replan_loads import out_of
from stillroom.planning.cpsat.rest import LONGER_DAY_MIN, RestModel
from stillroom.planning.happened import Happened
from stillroom.planning.timetable import PlacedLoad, Timetable

END_POINTS = 20
MOVED_POINTS = 3
HAND_POINTS = 5
LOAD_POINTS = 5
BROKEN_POINTS = 200


def add_goal(
    model: RestModel,
    residual: Residual,
    happened: Happened,
    old: Timetable,
    to_come: dict[str, list[PlacedLoad]],
) -> None:
    """Make the end, what gives way, and change small: points summed in one goal."""
    _add_end(model, happened)
    _add_soft(model, residual)
    _add_least_change(model, residual, old, to_come)
    model.day.model.minimize(model.goal)


def _add_end(model: RestModel, happened: Happened) -> None:
    """The day's end and late wants count loads that have begun, too."""
    day, cp = model.day, model.day.model
    assert day.finish is not None
    canner_of = {c.id: c for c in day.problem.canners}
    for load in happened.loads:
        out = out_of(model, load, canner_of[load.canner].unload_min)
        cp.add(day.finish >= out)
        made = {name for name, _ in load.jars}
        for want, (_, late) in zip(day.problem.wants, day.late, strict=True):
            if any(
                b.id in made for b in day.problem.batches if want.product in b.serves
            ):
                cp.add(late >= out - want.by_min)
    model.overtime = cp.new_int_var(0, LONGER_DAY_MIN, "after the end of the day")
    cp.add(model.overtime >= day.finish - day.problem.horizon_min)
    model.points.append(END_POINTS * end_and_lateness(day))
    price: list[cp_model.IntVar] = [*model.guards.stays_on.values(), model.overtime]
    assert model.guards.more_places is not None
    price.append(model.guards.more_places)
    model.points += [BROKEN_POINTS * p for p in price]


def _add_soft(model: RestModel, residual: Residual) -> None:
    """Limits whose first step is past: kept if they can be, at a price if not."""
    day, cp = model.day, model.day.model
    place = {
        (b.id, s.id): i for b in residual.problem.batches for i, s in enumerate(b.steps)
    }
    for soft in residual.soft:
        if (soft.batch, soft.after) not in place:
            continue  # it has begun, soon enough or not
        over = cp.new_int_var(0, day.horizon, f"{soft.limit} gives way")
        start = day.start(soft.batch, place[soft.batch, soft.after])
        if soft.since_before:
            if (soft.batch, soft.before) not in place:
                continue
            batch = next(b for b in residual.problem.batches if b.id == soft.batch)
            start = start - day.end(batch, place[soft.batch, soft.before])
        cp.add(over >= start - soft.by_min)
        model.waits.append((soft.limit, over))
    model.points += [BROKEN_POINTS * over for over in model.over]


def _add_least_change(
    model: RestModel,
    residual: Residual,
    old: Timetable,
    to_come: dict[str, list[PlacedLoad]],
) -> None:
    """Minutes moved, anchors moved, hands changed, batches in another load."""
    day = model.day
    placed = {(s.batch, s.step): s for s in old.steps}
    for batch in residual.problem.batches:
        network = day.networks[batch.id]
        for chain, start in zip(network.chains, day.starts[batch.id], strict=True):
            if any(
                batch.steps[i].id == NOW
                or (batch.id, batch.steps[i].id) in residual.running
                for i, _ in chain.members
            ):
                continue
            root = batch.steps[chain.members[0][0]].id
            _add_moved(model, start, placed[batch.id, root].start_min)
    for hands in day.hands:
        if not hands.steps:
            continue
        batch = next(b for b in residual.problem.batches if b.id == hands.batch)
        who = placed[hands.batch, batch.steps[hands.steps[0]].id].person
        if who in hands.by:
            model.points.append(HAND_POINTS * (1 - hands.by[who]))
    for canner, line in day.slots.items():
        loads = to_come.get(canner, [])
        for slot, load in zip(line, loads, strict=False):
            _add_moved(model, slot.lower, load.lower_min, only_if=slot.present)
            for name, literal in slot.aboard.items():
                # jars of one batch are not parted over two loads for nothing
                there = any(name == made for made, _ in load.jars)
                other = 1 - literal if there else literal
                model.points.append(LOAD_POINTS * other)
            for who, by in (
                (load.lowered_by, slot.lowered_by),
                (load.lifted_by, slot.lifted_by),
            ):
                if who in by:
                    model.points.append(HAND_POINTS * (slot.present - by[who]))
    for running in model.running:
        if running.load.lifted_by in running.by:
            by_whom = running.by[running.load.lifted_by]
            model.points.append(HAND_POINTS * (1 - by_whom))
            assert isinstance(running.lift, cp_model.IntVar)
            _add_moved(model, running.lift, running.load.lift_min)
    rests = {
        p.id: [r for r in old.breaks if r.person == p.id] for p in day.problem.people
    }
    for person, starts in day.breaks.items():
        for start, rest in zip(reversed(starts), reversed(rests[person]), strict=False):
            _add_moved(model, start, rest.start_min)


def _add_moved(
    model: RestModel,
    start: cp_model.IntVar,
    was: int,
    *,
    only_if: cp_model.IntVar | None = None,
) -> None:
    cp = model.day.model
    by = cp.new_int_var(0, model.day.horizon, f"{start} moved by")
    moved = cp.new_bool_var(f"{start} moved")
    for way in (start - was, was - start):
        if only_if is None:
            cp.add(by >= way)
        else:
            cp.add(by >= way).only_enforce_if(only_if)
    cp.add(by == 0).only_enforce_if(~moved)
    model.points += [by, MOVED_POINTS * moved]
