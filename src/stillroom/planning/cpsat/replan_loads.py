"""Loads of the rest of a day: a canner may be in use, and jars may stand closed."""

from __future__ import annotations

from ortools.sat.python import cp_model

from stillroom.planning.begun.residual import Residual
from stillroom.planning.cpsat import loads as load_rules
from stillroom.planning.cpsat.rest import RestModel
from stillroom.planning.cpsat.variables import Expr, Slot
from stillroom.planning.happened import Happened
from stillroom.planning.problem import CLOSED
from stillroom.planning.timetable import PlacedLoad, Timetable


def add_loads(
    model: RestModel, residual: Residual, happened: Happened, old: Timetable
) -> None:
    """Every rule of loads, and what closed jars wait beyond their time."""
    day = model.day
    for canner, line in day.slots.items():
        before: Slot | None = None
        for slot in line:
            load_rules.add_clock(day, slot)
            if before is not None:
                load_rules.add_water(day, before, slot)
            elif canner in model.before:
                _add_water_after(model, slot, happened, old)
            else:
                load_rules.add_water(day, None, slot)
                lit = _lit_min(canner, happened, old)
                if lit is None:
                    planned = [x.heat_min for x in old.loads if x.canner == canner]
                    lit = min([*planned, happened.now_min])
                day.model.add(slot.heat >= lit).only_enforce_if(slot.present)
            if before is None:
                _add_fire_is_free(model, slot, happened)
            load_rules.add_places(day, slot)
            before = slot
        if before is not None:
            day.model.add(before.fire_free == before.done)
    load_rules.add_flows(day)
    load_rules.add_closed_wait(day)
    _add_counter(model, happened)
    _add_soft_closed_waits(model, residual)
    for batch in residual.problem.batches:
        if batch.id not in residual.closed_min:
            continue
        by = residual.closed_min[batch.id] + residual.closed_wait_min[batch.id]
        over = day.model.new_int_var(0, day.horizon, f"{batch.id} waits closed")
        for slot in day.all_slots():
            if batch.id in slot.aboard:
                day.model.add(over >= slot.lower - by).only_enforce_if(
                    slot.aboard[batch.id]
                )
        model.waits.append(((batch.id, CLOSED, ""), over))


def _add_fire_is_free(model: RestModel, slot: Slot, happened: Happened) -> None:
    """Warming may have begun before now, but not while a pot was on its fire."""
    free = [
        s.end_min
        for s in happened.steps
        if s.burner in slot.canner.burners and s.end_min <= happened.now_min
    ]
    model.day.model.add(slot.heat >= max(free, default=0)).only_enforce_if(
        slot.present, ~slot.hot
    )


def _add_soft_closed_waits(model: RestModel, residual: Residual) -> None:
    """Jars that cannot be closed later although they will wait."""
    day = model.day
    for batch in residual.problem.batches:
        step = residual.closed_softly.get(batch.id)
        place = {s.id: i for i, s in enumerate(batch.steps)}
        if step not in place or batch.id in residual.closed_min:
            continue
        most = residual.closed_soft_min[batch.id]
        over = day.model.new_int_var(0, day.horizon, f"{batch.id} waits closed")
        for slot in day.all_slots():
            if batch.id in slot.aboard:
                wait = slot.lower - day.end(batch, place[step])
                day.model.add(over >= wait - most).only_enforce_if(
                    slot.aboard[batch.id]
                )
        model.waits.append(((batch.id, CLOSED, ""), over))


def _lit_min(canner: str, happened: Happened, old: Timetable) -> int | None:
    """
    Since when a canner warms for its next load: from now on where nobody has lit it.

    `None` where all is taken to have been lit as planned.
    """
    if happened.lit is None:
        return None
    begun = {load.id for load in happened.loads}
    said = [
        happened.lit[x.id]
        for x in old.loads
        if x.canner == canner and x.id in happened.lit and x.id not in begun
    ]
    return min([*said, happened.now_min])


def _add_water_after(
    model: RestModel, slot: Slot, happened: Happened, old: Timetable
) -> None:
    """The next load after one that has begun: hot if the flame is or can be kept."""
    cp, now, canner = model.day.model, happened.now_min, slot.canner
    load = model.before[canner.id]
    out = out_of(model, load, canner.unload_min)
    kept = load.done_min >= now or load.fire_free_min >= now
    since = max(now, load.done_min)
    if not kept:
        cp.add(slot.hot == 0)
    if canner.id not in model.day.stands:
        cp.add(slot.stays == 0)
    load_rules.add_ways_to_heat(model.day, slot)
    cp.add(slot.lower - out <= canner.stays_hot_min).only_enforce_if(slot.hot)
    # the fire that is kept on for its sake is held as a part of this load's own
    cp.add(slot.heat == since).only_enforce_if(slot.hot)
    cp.add(slot.lower >= out).only_enforce_if(slot.present)
    cp.add(slot.heat >= out).only_enforce_if(slot.present, ~slot.hot)
    # warming may have begun before now, where the canner stood empty and its fire was
    # not kept on any more for a load that has not come
    off = load.fire_free_min if load.fire_free_min < now else load.done_min
    empty = min(now, max(load.out_min, off))
    cp.add(slot.heat >= empty).only_enforce_if(slot.present)
    lit = _lit_min(canner.id, happened, old)
    if lit is not None:
        cp.add(slot.heat >= lit).only_enforce_if(slot.present, ~slot.hot)


def out_of(model: RestModel, load: PlacedLoad, unload_min: int) -> Expr | int:
    """Minute at which a load that has begun is out."""
    for running in model.running:
        if running.load.id == load.id and running.by:
            return running.lift + unload_min
    return load.out_min


def _add_counter(model: RestModel, happened: Happened) -> None:
    """Room for jars that cool; those out, and of the day before, keep their places."""
    day, cp = model.day, model.day.model
    counter = day.problem.counter
    slots = day.all_slots()
    there = sum(load.count for load in happened.loads)
    there += sum(standing for standing, until in counter.taken if until > 0)
    total = there + sum(b.jars for b in day.problem.batches if b.process is not None)
    if total <= counter.places or counter.cooling_min == 0:
        return
    stands: list[cp_model.IntervalVar] = []
    jars: list[cp_model.IntVar | int] = []
    for load in happened.loads:
        start = out_of(model, load, load.out_min - load.lift_min)
        if isinstance(start, int):
            start = min(start, day.horizon)
        stands.append(
            cp.new_fixed_size_interval_var(start, counter.cooling_min, f"{load.id} c")
        )
        jars.append(load.count)
    for n, (standing, until) in enumerate(counter.taken):
        if until > 0:
            stands.append(
                cp.new_fixed_size_interval_var(0, until, f"of the day before {n}")
            )
            jars.append(standing)
    for slot in slots:
        stands.append(
            cp.new_optional_fixed_size_interval_var(
                slot.out, counter.cooling_min, slot.present, f"{slot.lift} cools"
            )
        )
        aboard = cp.new_int_var(0, max(slot.canner.places.values()), f"{slot.lift} n")
        cp.add(aboard == sum(slot.jars.values()))
        jars.append(aboard)
    assert model.guards.more_places is not None
    cp.add_cumulative(stands, jars, counter.places + model.guards.more_places)
