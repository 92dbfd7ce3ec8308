"""
The rest of a day that has begun, for the solver: least change, not a new plan.

Rules and variables are those of the whole day; the canner has rules of its own here,
because a load may be in it. What only the past can have broken costs points.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from stillroom.planning.check_loads import LIFT_WITHIN_MIN
from stillroom.planning.cpsat import constraints
from stillroom.planning.cpsat import loads as load_rules
from stillroom.planning.cpsat.objective import end_and_lateness
from stillroom.planning.cpsat.people import Guards, add_hands
from stillroom.planning.cpsat.reading import timetable_of
from stillroom.planning.cpsat.variables import (
    Block,
    Day,
    Expr,
    Hands,
    Piece,
    Slot,
    make_variables,
    slots_needed,
)
from stillroom.planning.happened import Happened
from stillroom.planning.put_off import PutOff
from stillroom.planning.residual import LABOUR_QUARTERS, NOW, Residual
from stillroom.planning.timetable import PlacedLoad, Timetable

LONGER_DAY_MIN = 240
"""How much longer than planned a slipping day may get."""

OLD_ORDER_S = 0.4
"""How long the old order is tried before any other. [s]"""

END_POINTS = 20
MOVED_POINTS = 3
HAND_POINTS = 5
LOAD_POINTS = 5
BROKEN_POINTS = 50


@dataclass(slots=True)
class Running:
    """A load that has begun, and who lifts it when."""

    load: PlacedLoad
    lift: Expr | int
    by: dict[str, cp_model.IntVar]
    """Empty where the hands are on it already."""


@dataclass(slots=True)
class RestModel:
    """The model of the rest of a day."""

    day: Day
    guards: Guards
    running: list[Running] = field(default_factory=list)
    before: dict[str, PlacedLoad] = field(default_factory=dict)
    """The last load of each canner that has begun."""
    points: list[Expr] = field(default_factory=list)
    overtime: cp_model.IntVar | None = None
    broken: list[tuple[str, cp_model.IntVar]] = field(default_factory=list)
    """What gives way, and by how many minutes."""
    hints: list[tuple[cp_model.IntVar, int]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Rest:
    """A plan for the rest of the day, in the names of the residual problem."""

    timetable: Timetable
    """Open steps, the running ones from now on, and loads still to come."""
    lifts: dict[str, tuple[int, str | None]]
    """Load that has begun to the minute it is lifted, and by whom if that is open."""
    hot_after: dict[str, int]
    """Load that has begun to the minute until which its fire is kept on."""
    broken: tuple[tuple[str, int], ...]
    longer_min: dict[str, int]
    """Person to the minutes they stay on."""
    places: int
    """More places on the counter than there are."""
    proven: bool


def rest_model(
    residual: Residual,
    happened: Happened,
    old: Timetable,
    later: PutOff,
) -> RestModel:
    """
    Model of the rest of a day.

    Parameters
    ----------
    residual : Residual
        What is left.
    happened : Happened
        What has begun.
    old : Timetable
        The plan so far, to be changed least.
    later : PutOff
        The old order kept: where the search begins.
    """
    problem, now = residual.problem, happened.now_min
    horizon = problem.horizon_min + LONGER_DAY_MIN
    to_come = _to_come(old, happened)
    used = {c: len(loads) for c, loads in to_come.items()}
    slots = slots_needed(problem, used)
    day = make_variables(problem, horizon=horizon, slots=slots, earliest_finish=now)
    model = RestModel(day, Guards(day.model, later=True))
    guards = model.guards
    jars = sum(b.jars for b in problem.batches if b.process is not None)
    guards.more_places = day.model.new_int_var(0, jars, "more places")
    _add_now(model, residual, now)
    _add_begun_loads(model, happened)
    constraints.add_time_lags(day)
    add_hands(day, guards)
    constraints.add_pots(day)
    constraints.add_mills(day)
    constraints.add_fires(day)
    _add_loads(model, residual, happened, old)
    constraints.add_finish(day)
    _add_end(model, residual, happened)
    _add_soft(model, residual, happened)
    _add_least_change(model, residual, old, to_come)
    _hint(model, residual, old, to_come, later, now)
    return model


def _to_come(old: Timetable, happened: Happened) -> dict[str, list[PlacedLoad]]:
    """Loads of the old plan that have not begun, by canner."""
    begun = {load.id for load in happened.loads}
    lines: dict[str, list[PlacedLoad]] = {}
    for load in sorted(old.loads, key=lambda load: load.lower_min):
        if load.id not in begun:
            lines.setdefault(load.canner, []).append(load)
    return lines


# --- now, and what has begun ------------------------------------------------------


def _add_now(model: RestModel, residual: Residual, now: int) -> None:
    """Nothing begins in the past; what has begun stays with its person and tools."""
    day, cp = model.day, model.day.model
    size_of = {p.id: p.size for p in residual.problem.pots}
    class_of = {name: c for c, k in enumerate(day.classes) for name in k.burners}
    for batch in residual.problem.batches:
        begun = batch.steps[0].id == NOW
        for i, step in enumerate(batch.steps):
            if step.id == NOW:
                cp.add(day.start(batch.id, i) == now)
            elif not begun:
                cp.add(day.start(batch.id, i) >= now)
        if batch.id in residual.pot:
            for size, literal in day.pot_size.get(batch.id, {}).items():
                cp.add(literal == int(size == size_of[residual.pot[batch.id]]))
    for hands in day.hands:
        batch = next(b for b in residual.problem.batches if b.id == hands.batch)
        for i in hands.steps:
            who = residual.fixed_hands.get((hands.batch, batch.steps[i].id))
            if who in hands.by:
                cp.add(hands.by[who] == 1)
                break
    for block in day.blocks:
        batch = next(b for b in residual.problem.batches if b.id == block.batch)
        for i in block.steps:
            burner = residual.burner.get((block.batch, batch.steps[i].id))
            if burner is not None and class_of[burner] in block.at:
                cp.add(block.at[class_of[burner]] == 1)
                break
    for line in day.slots.values():
        for slot in line:
            cp.add(slot.lower >= now)


def _add_begun_loads(model: RestModel, happened: Happened) -> None:
    """Their fire burns on, somebody is lowering them, and somebody will lift them."""
    day, cp, now = model.day, model.day.model, happened.now_min
    canner_of = {c.id: c for c in day.problem.canners}
    lifters = [p.id for p in day.problem.people if "lift" in p.skills]
    for load in happened.loads:
        last = model.before.get(load.canner)
        if last is None or last.lower_min < load.lower_min:
            model.before[load.canner] = load
        canner = canner_of[load.canner]
        if load.done_min > now:
            burns, begins = load.done_min - now, cp.new_constant(now)
            for c, alike in enumerate(day.classes):
                if load.canner not in alike.canners:
                    continue
                for name in alike.burners:
                    always = cp.new_constant(1)
                    day.blocks.append(
                        Block(
                            f"{load.id} {name}", (), begins, burns, False, {c: always}
                        )
                    )
        if load.lowered_min > now:
            _add_hands_on(day, load.lowered_by, now, load.lowered_min - now)
        if load.out_min <= now:
            continue
        if load.lift_min < now:
            _add_hands_on(day, load.lifted_by, now, load.out_min - now)
            model.running.append(Running(load, load.lift_min, {}))
            continue
        earliest = max(now, load.done_min + canner.rest_min)
        latest = max(earliest, load.done_min + canner.rest_min + LIFT_WITHIN_MIN)
        lift = cp.new_int_var(earliest, latest + LONGER_DAY_MIN, f"{load.id} lift")
        by = {p: cp.new_bool_var(f"{load.id} lifted by {p}") for p in lifters}
        hands = Hands("", (), by)
        day.hands.append(hands)
        day.pieces.append(Piece(hands, lift, canner.unload_min, LABOUR_QUARTERS))
        model.running.append(Running(load, lift, by))
        over = cp.new_int_var(0, LONGER_DAY_MIN, f"{load.id} lifted late")
        cp.add(over >= lift - latest)
        model.broken.append((f"load {load.id} is lifted out too late", over))


def _add_hands_on(day: Day, person: str, start: int, length: int) -> None:
    hands = Hands("", (), {person: day.model.new_constant(1)})
    day.hands.append(hands)
    begins = day.model.new_constant(start)
    day.pieces.append(Piece(hands, begins, length, LABOUR_QUARTERS))


# --- loads -------------------------------------------------------------------------


def _add_loads(
    model: RestModel, residual: Residual, happened: Happened, old: Timetable
) -> None:
    day = model.day
    for canner, line in day.slots.items():
        before: Slot | None = None
        for slot in line:
            load_rules.add_clock(day, slot)
            if before is not None:
                load_rules.add_water(day, before, slot)
            elif canner in model.before:
                _add_water_after(model, slot, happened)
            else:
                load_rules.add_water(day, None, slot)
                lit = [x.heat_min for x in old.loads if x.canner == canner]
                since = min(min(lit, default=happened.now_min), happened.now_min)
                day.model.add(slot.heat >= since).only_enforce_if(slot.present)
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
        most = residual.closed_wait_min[batch.id]
        model.broken.append(
            (f"closed jars of {batch.id} wait at most {most} min", over)
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
        model.broken.append(
            (f"closed jars of {batch.id} wait at most {most} min", over)
        )


def _add_water_after(model: RestModel, slot: Slot, happened: Happened) -> None:
    """The next load after one that has begun: hot if the flame is or can be kept."""
    cp, now, canner = model.day.model, happened.now_min, slot.canner
    load = model.before[canner.id]
    out = _out(model, load, canner.unload_min)
    kept = load.done_min >= now or load.fire_free_min >= now
    since = max(now, load.done_min)
    if not kept:
        cp.add(slot.hot == 0)
    cp.add(slot.lower - out <= canner.stays_hot_min).only_enforce_if(slot.hot)
    # the fire that is kept on for its sake is held as a part of this load's own
    cp.add(slot.heat == since).only_enforce_if(slot.hot)
    cp.add(slot.lower >= out).only_enforce_if(slot.present)
    cp.add(slot.heat == slot.lower - canner.reheat_min).only_enforce_if(
        slot.present, ~slot.hot
    )
    cp.add(slot.heat >= out).only_enforce_if(slot.present, ~slot.hot)
    # warming may have begun before now, where the canner stood empty
    cp.add(slot.heat >= min(now, load.out_min)).only_enforce_if(slot.present)


def _out(model: RestModel, load: PlacedLoad, unload_min: int) -> Expr | int:
    for running in model.running:
        if running.load.id == load.id and running.by:
            return running.lift + unload_min
    return load.out_min


def _add_counter(model: RestModel, happened: Happened) -> None:
    """Room for the jars that cool; those that are out already keep their places."""
    day, cp = model.day, model.day.model
    counter = day.problem.counter
    slots = day.all_slots()
    begun = sum(load.count for load in happened.loads)
    total = begun + sum(b.jars for b in day.problem.batches if b.process is not None)
    if total <= counter.places or counter.cooling_min == 0:
        return
    stands: list[cp_model.IntervalVar] = []
    jars: list[cp_model.IntVar | int] = []
    for load in happened.loads:
        start = min(load.out_min, day.horizon)
        stands.append(
            cp.new_fixed_size_interval_var(start, counter.cooling_min, f"{load.id} c")
        )
        jars.append(load.count)
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


# --- what is made small -----------------------------------------------------------


def _add_end(model: RestModel, residual: Residual, happened: Happened) -> None:
    """The day's end and late wants count loads that have begun, too."""
    day, cp = model.day, model.day.model
    assert day.finish is not None
    canner_of = {c.id: c for c in day.problem.canners}
    for load in happened.loads:
        out = _out(model, load, canner_of[load.canner].unload_min)
        cp.add(day.finish >= out)
        made = {name for name, _ in load.jars}
        for want, (_, late) in zip(day.problem.wants, day.late, strict=True):
            if any(
                b.id in made for b in day.problem.batches if b.product == want.product
            ):
                cp.add(late >= out - want.by_min)
    model.overtime = cp.new_int_var(0, LONGER_DAY_MIN, "after the end of the day")
    cp.add(model.overtime >= day.finish - day.problem.horizon_min)
    model.points.append(END_POINTS * end_and_lateness(day))
    price: list[cp_model.IntVar] = [*model.guards.stays_on.values(), model.overtime]
    assert model.guards.more_places is not None
    price.append(model.guards.more_places)
    model.points += [BROKEN_POINTS * p for p in price]


def _add_soft(model: RestModel, residual: Residual, happened: Happened) -> None:
    """Limits whose first step is past: kept if they can be, at a price if not."""
    day, cp = model.day, model.day.model
    place = {
        (b.id, s.id): i for b in residual.problem.batches for i, s in enumerate(b.steps)
    }
    for soft in residual.soft:
        if (soft.batch, soft.after) not in place:
            continue  # it has begun, soon enough or not
        over = cp.new_int_var(0, day.horizon, f"{soft.what} broken")
        start = day.start(soft.batch, place[soft.batch, soft.after])
        if soft.before:
            if (soft.batch, soft.before) not in place:
                continue
            batch = next(b for b in residual.problem.batches if b.id == soft.batch)
            start = start - day.end(batch, place[soft.batch, soft.before])
        cp.add(over >= start - soft.by_min)
        model.broken.append((soft.what, over))
    model.points += [BROKEN_POINTS * over for _, over in model.broken]


def _add_least_change(
    model: RestModel,
    residual: Residual,
    old: Timetable,
    to_come: dict[str, list[PlacedLoad]],
) -> None:
    """Minutes moved, anchors moved, hands changed, batches in another load."""
    day, cp = model.day, model.day.model
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
                if any(name == made for made, _ in load.jars):
                    model.points.append(LOAD_POINTS * (1 - literal))
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
    cp.minimize(cp_model.LinearExpr.sum(model.points))


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


# --- search -------------------------------------------------------------------------


def _hint(
    model: RestModel,
    residual: Residual,
    old: Timetable,
    to_come: dict[str, list[PlacedLoad]],
    later: PutOff,
    now: int,
) -> None:
    """Begin from the old order, put off as far as the past asks."""
    day = model.day
    placed = {(s.batch, s.step): s for s in old.steps}
    size_of = {p.id: p.size for p in residual.problem.pots}
    class_of = {name: c for c, k in enumerate(day.classes) for name in k.burners}
    hints = model.hints
    for batch in residual.problem.batches:
        network = day.networks[batch.id]
        for chain, var in zip(network.chains, day.starts[batch.id], strict=True):
            root = batch.steps[chain.members[0][0]].id
            at = now if root == NOW else later.start[batch.id, root]
            hints.append((var, max(now, at)))
        pot = next((s.pot for s in old.steps if s.batch == batch.id and s.pot), None)
        for size, literal in day.pot_size.get(batch.id, {}).items():
            hints.append((literal, int(pot is not None and size_of[pot] == size)))
    steps = {b.id: b.steps for b in residual.problem.batches}
    for hands in day.hands:
        if hands.steps:
            who = placed[hands.batch, steps[hands.batch][hands.steps[0]].id].person
            hints += [(v, int(p == who)) for p, v in hands.by.items()]
    for block in day.blocks:
        if block.steps:
            was = placed[block.batch, steps[block.batch][block.steps[0]].id].burner
            at = class_of[str(was)]
            hints += [(v, int(c == at)) for c, v in block.at.items()]
    for canner, line in day.slots.items():
        loads = to_come.get(canner, [])
        for n, slot in enumerate(line):
            load = loads[n] if n < len(loads) else None
            hints.append((slot.present, int(load is not None)))
            jars = dict(load.jars) if load else {}
            for name, var in slot.jars.items():
                hints.append((var, jars.get(name, 0)))
            if load is not None:
                hints.append((slot.lower, later.start[load.id, "lower"]))
                hints.append((slot.lift, later.start[load.id, "lift"]))
                hints.append((slot.hot, int(load.hot)))
                hints += [
                    (v, int(p == load.lowered_by)) for p, v in slot.lowered_by.items()
                ]
                hints += [
                    (v, int(p == load.lifted_by)) for p, v in slot.lifted_by.items()
                ]
    for running in model.running:
        if running.by:
            assert isinstance(running.lift, cp_model.IntVar)
            hints.append((running.lift, later.start[running.load.id, "lift"]))
            hints += [
                (v, int(p == running.load.lifted_by)) for p, v in running.by.items()
            ]
    for person, starts in day.breaks.items():
        rests = [r for r in old.breaks if r.person == person]
        for start, rest in zip(reversed(starts), reversed(rests), strict=False):
            at = max(now, later.breaks.get(rest, rest.start_min))
            if at <= max(start.proto.domain):  # else it goes where it still may
                hints.append((start, at))


def solve_rest(
    model: RestModel, *, until: float, workers: int = 2, seed: int = 1
) -> Rest | None:
    """
    Any plan first, then the one of least change; `None` where none was found in time.

    Parameters
    ----------
    model : RestModel
        Of `rest_model`.
    until : float
        `time.monotonic` at which it must be over. [s]
    workers : int
        Search threads.
    seed : int
        Of the search.
    """
    cp = model.day.model
    for var, value in model.hints:
        cp.add_hint(var, value)
    goal = cp_model.LinearExpr.sum(model.points)
    cp.clear_objective()  # type: ignore[no-untyped-call]
    # mostly the old order, put off, holds as it is; else any plan near it
    first = _solver(min(until, time.monotonic() + OLD_ORDER_S), 1, seed)
    first.parameters.fix_variables_to_their_hinted_value = True
    status = first.solve(cp)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        first = _solver(until, workers, seed)
        first.parameters.stop_after_first_solution = True
        status = first.solve(cp)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    cp.clear_hints()  # type: ignore[no-untyped-call]
    for index, value in enumerate(first.response_proto.solution):
        cp.add_hint(cp.get_int_var_from_proto_index(index), value)
    cp.minimize(goal)
    second = _solver(until, workers, seed)
    status = second.solve(cp)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return _rest(model, first, proven=False)
    return _rest(model, second, proven=status == cp_model.OPTIMAL)


def _solver(until: float, workers: int, seed: int) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = seed
    solver.parameters.max_time_in_seconds = max(0.05, until - time.monotonic())
    return solver


def _rest(model: RestModel, solver: cp_model.CpSolver, *, proven: bool) -> Rest:
    value = solver.value
    hot_after = {}
    for canner, load in model.before.items():
        line = model.day.slots[canner]
        if line and value(line[0].present) and value(line[0].hot):
            hot_after[load.id] = value(line[0].lower)
    lifts = {
        r.load.id: (
            value(r.lift),
            next((p for p, v in r.by.items() if value(v)), None),
        )
        for r in model.running
    }
    assert model.overtime is not None
    assert model.guards.more_places is not None
    broken = [(what, value(over)) for what, over in model.broken if value(over)]
    if value(model.overtime):
        broken.append(("the day ends in time", value(model.overtime)))
    return Rest(
        timetable=timetable_of(model.day, value),
        lifts=lifts,
        hot_after=hot_after,
        broken=tuple(broken),
        longer_min={p: value(v) for p, v in model.guards.stays_on.items() if value(v)},
        places=value(model.guards.more_places),
        proven=proven,
    )
