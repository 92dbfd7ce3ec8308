"""The canner for the solver: slots for loads, jars that flow into them, its water."""

from __future__ import annotations

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.people import Guards
from stillroom.planning.cpsat.variables import DayModel, Slot, loads_of_batch
from stillroom.planning.hot_jars import LIFT_WITHIN_MIN


def add_loads(day: DayModel, guards: Guards) -> None:
    """Everything about loads."""
    for line in day.slots.values():
        before: Slot | None = None
        for slot in line:
            add_clock(day, slot)
            add_water(day, before, slot)
            add_places(day, slot)
            before = slot
        if before is not None:  # after the last load the fire goes off with its process
            day.model.add(before.fire_free == before.done)
    add_flows(day)
    add_closed_wait(day)
    add_counter(day, guards)


def add_clock(day: DayModel, slot: Slot) -> None:
    """Lowering, boil, process, rest, lifting; an absent load lies at the day's end."""
    model, canner = day.model, slot.canner
    minutes = {
        p.id: canner.minutes_up(p.id) - canner.come_up_min + p.minutes
        for p in day.problem.processes
    }
    process = sum(minutes[k] * literal for k, literal in slot.kind.items())
    to_boil = canner.load_min + canner.come_up_min
    model.add(slot.done == slot.lower + to_boil + process).only_enforce_if(slot.present)
    rested = slot.lift - slot.done - canner.rest_min
    model.add_linear_constraint(rested, 0, LIFT_WITHIN_MIN).only_enforce_if(
        slot.present
    )
    model.add(slot.lift + canner.unload_min <= day.horizon).only_enforce_if(
        slot.present
    )
    model.add(sum(slot.kind.values()) == slot.present)
    for time in (slot.heat, slot.lower, slot.done, slot.lift, slot.fire_free):
        model.add(time == day.horizon).only_enforce_if(~slot.present)
    model.add_implication(slot.hot, slot.present)


def add_water(day: DayModel, before: Slot | None, slot: Slot) -> None:
    """
    Heated from cold, reheated, or hot still.

    It is hot where the flame stayed on since the load before, reheated where at least
    the canner stayed on its fire, and heated as at first where a pot came in between.
    """
    model, canner = day.model, slot.canner
    if before is None:
        model.add(slot.hot == 0)
        model.add(slot.stays == 0)
        model.add(slot.heat == slot.lower - canner.first_heat_min).only_enforce_if(
            slot.present
        )
        return
    model.add_implication(slot.present, before.present)
    add_ways_to_heat(day, slot)
    model.add(slot.lower - before.out <= canner.stays_hot_min).only_enforce_if(slot.hot)
    model.add(slot.heat == slot.lower).only_enforce_if(slot.hot)
    model.add(before.fire_free == slot.lower).only_enforce_if(slot.hot)
    model.add(before.fire_free == before.done).only_enforce_if(~slot.hot)
    model.add(slot.heat >= before.out).only_enforce_if(slot.present)


def add_ways_to_heat(day: DayModel, slot: Slot) -> None:
    """How long the water of a load after another is heated, if it is not hot."""
    model, canner = day.model, slot.canner
    model.add_implication(slot.hot, slot.stays)
    model.add_implication(slot.stays, slot.present)
    model.add(slot.heat == slot.lower - canner.reheat_min).only_enforce_if(
        slot.stays, ~slot.hot
    )
    model.add(slot.heat == slot.lower - canner.first_heat_min).only_enforce_if(
        slot.present, ~slot.stays
    )


def add_places(day: DayModel, slot: Slot) -> None:
    """Not more jars than places, none of a process that may not ride, no empty load."""
    model = day.model
    process_of = {p.id: p for p in day.problem.processes}
    places = sum(
        slot.canner.places[process_of[k].jar] * literal
        for k, literal in slot.kind.items()
    )
    model.add(sum(slot.jars.values()) <= places)
    for batch in day.problem.batches:
        if batch.id not in slot.jars or batch.process is None:
            continue
        jars, aboard = slot.jars[batch.id], slot.aboard[batch.id]
        model.add(jars >= aboard)
        model.add(jars == 0).only_enforce_if(~aboard)
        kinds = [k for k in process_of[batch.process].may_ride_in if k in slot.kind]
        model.add_bool_or(*(slot.kind[k] for k in kinds), ~aboard)
    model.add_bool_or(*slot.aboard.values(), ~slot.present)


def add_flows(day: DayModel) -> None:
    """Every jar rides once; a batch is spread over as few loads as its rule allows."""
    for batch in day.problem.batches:
        if batch.process is None:
            continue
        mine = [s for s in day.all_slots() if batch.id in s.jars]
        day.model.add(sum(s.jars[batch.id] for s in mine) == batch.jars)
        if not day.spread_at_will:
            spread = loads_of_batch(day.problem, batch)
            day.model.add(sum(s.aboard[batch.id] for s in mine) <= spread)
        day.model.add_bool_or(s.aboard[batch.id] for s in mine)


def add_closed_wait(day: DayModel) -> None:
    """Closed before it is lowered, and not too long before."""
    for batch in day.problem.batches:
        if batch.process is None:
            continue
        closing = [
            day.end(batch, i)
            for i, s in enumerate(batch.steps)
            if batch.ready_after in ("", s.id)
        ]
        longest = batch.closed_wait_at_most_min
        for slot in day.all_slots():
            if batch.id not in slot.aboard:
                continue
            for closed in closing:
                day.model.add(slot.lower - closed >= 0).only_enforce_if(
                    slot.aboard[batch.id]
                )
            if len(closing) == 1:
                day.model.add(slot.lower - closing[0] <= longest).only_enforce_if(
                    slot.aboard[batch.id]
                )


def add_counter(day: DayModel, guards: Guards) -> None:
    """Room for the jars that cool; a sum where none is cold before the day ends."""
    model, counter = day.model, day.problem.counter
    slots = day.all_slots()
    total = sum(b.jars for b in day.problem.batches if b.process is not None)
    before = sum(jars for jars, until in counter.taken if until > 0)
    if not slots or total + before <= counter.places or counter.cooling_min == 0:
        return
    literal = guards.on(f"the counter has room for {counter.places} cooling jars")
    if not guards.loose and counter.cooling_min >= day.horizon and not before:
        model.add(sum(j for s in slots for j in s.jars.values()) <= counter.places)
        return
    room: int | cp_model.LinearExpr = counter.places
    if literal is not None:
        most = total + before
        room = most - (most - counter.places) * literal
    elif guards.more_places is not None:
        room = counter.places + guards.more_places
    stands: list[cp_model.IntervalVar] = []
    jars: list[cp_model.IntVar | int] = []
    for n, (standing, until) in enumerate(counter.taken):
        if until > 0:
            stands.append(
                model.new_fixed_size_interval_var(0, until, f"of the day before {n}")
            )
            jars.append(standing)
    for slot in slots:
        stands.append(
            model.new_optional_fixed_size_interval_var(
                slot.out, counter.cooling_min, slot.present, f"{slot.lift} cools"
            )
        )
        aboard = model.new_int_var(
            0, max(slot.canner.places.values()), f"{slot.lift} n"
        )
        model.add(aboard == sum(slot.jars.values()))
        jars.append(aboard)
    model.add_cumulative(stands, jars, room)
