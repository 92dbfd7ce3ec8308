"""
The rest of a day that has begun, for the solver: least change, not a new plan.

Rules and variables are those of the whole day; the canner has rules of its own here,
because a load may be in it. What only the past can have broken costs points.
"""

from __future__ import annotations

from stillroom.planning.begun.burners_left import was_taken
from stillroom.planning.begun.put_off import PutOff
from stillroom.planning.begun.residual import (
    NOW,
    Residual,
)
from stillroom.planning.cpsat import constraints
from stillroom.planning.cpsat.people import Guards, add_hands
from stillroom.planning.cpsat.replan_goal import add_goal
from stillroom.planning.cpsat.replan_hint import of_the_old_order
from stillroom.planning.cpsat.replan_loads import add_loads, out_of
from stillroom.planning.cpsat.rest import LONGER_DAY_MIN, RestModel, Running, Slip
from stillroom.planning.cpsat.rinse_parts import Kept
from stillroom.planning.cpsat.variables import (
    Block,
    DayModel,
    Hands,
    Piece,
    make_variables,
    slots_needed,
)
from stillroom.planning.happened import Happened
from stillroom.planning.hot_jars import LABOUR_QUARTERS, LIFT_WITHIN_MIN
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import PlacedLoad, Timetable


def rest_model(
    residual: Residual,
    happened: Happened,
    old: Timetable,
    later: PutOff,
    firm: frozenset[str] = frozenset(),
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
    firm : frozenset of str
        People who do not stay longer.
    """
    problem, now = residual.problem, happened.now_min
    horizon = problem.horizon_min + LONGER_DAY_MIN
    to_come = _to_come(old, happened)
    used = {c: len(loads) for c, loads in to_come.items()}
    slots = slots_needed(problem, used)
    day = make_variables(problem, horizon=horizon, slots=slots, earliest_finish=now)
    model = RestModel(day, Guards(day.model, later=True, firm=firm))
    guards = model.guards
    jars = sum(b.jars for b in problem.batches if b.process is not None)
    guards.more_places = day.model.new_int_var(0, jars, "more places")
    _add_now(model, residual, now)
    _add_late_rests(model, residual)
    _add_begun_loads(model, happened)
    _add_standing(model, happened)
    constraints.add_time_lags(day)
    constraints.add_windows(day)
    add_hands(day, guards, residual.not_free)
    _keep_rinsed(day, residual, now)
    constraints.add_pots(day)
    constraints.add_mills(day)
    constraints.add_fires(day)
    add_loads(model, residual, happened, old)
    constraints.add_finish(day)
    add_goal(model, residual, happened, old, to_come)
    model.of_old = of_the_old_order(model, residual, old, to_come, later, now)
    model.slip = _slip(problem, happened, old, later)
    return model


def _slip(
    problem: Problem, happened: Happened, old: Timetable, later: PutOff
) -> Slip | None:
    """Where the old plan cannot be kept, `None` where all of it can."""
    begun = happened.begun
    loads = {load.id for load in happened.loads}
    planned = {(s.batch, s.step): s.start_min for s in old.steps}
    planned |= {(x.id, "lower"): x.lower_min for x in old.loads if x.id not in loads}
    put_off = [
        at for key, at in planned.items() if key not in begun and later.start[key] != at
    ]
    if not put_off:
        return None
    ends = {(s.batch, s.step): s.end_min for s in old.steps}
    late = [begun[key].end_min - end for key, end in ends.items() if key in begun]
    since = min(put_off)
    return Slip(
        since_min=since,
        late_min=max([0, *late]),
        away=tuple((a, b) for p in problem.people for a, b in p.away if b > since),
    )


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
            key = (block.batch, batch.steps[i].id)
            burner = residual.burner.get(key, residual.stays_on.get(key))
            if burner is not None and class_of[burner] in block.at:
                cp.add(block.at[class_of[burner]] == 1)
                break
        else:
            if block.in_pot and block.batch in residual.on_fire:
                here = class_of[residual.on_fire[block.batch]]
                stays = block.at.get(here, cp.new_constant(0))
                # as in any plan: to another fire with a minute between
                cp.add(block.start >= now + 1).only_enforce_if(~stays)
    for line in day.slots.values():
        for slot in line:
            cp.add(slot.lower >= now)


def _keep_rinsed(day: DayModel, residual: Residual, now: int) -> None:
    """What waits rinsed is held for the batch that it waits for."""
    size_of = {p.id: p.size for p in residual.problem.pots}
    for w in residual.rinsed:
        since = max(now, w.since_min)
        day.kept.append(Kept(w.tool, w.batch, size_of.get(w.name, ""), since))


def _add_late_rests(model: RestModel, residual: Residual) -> None:
    """A rest after the last minute meant for it is a limit that gives way."""
    cp = model.day.model
    for person in residual.problem.people:
        rests = zip(
            person.breaks,
            model.day.breaks[person.id],
            residual.rest_by[person.id],
            strict=True,
        )
        for rest, start, by in rests:
            if rest.latest_start_min <= by:
                continue
            over = cp.new_int_var(0, rest.latest_start_min - by, f"{start} late")
            cp.add(over >= start - by)
            model.rests.append((person.id, over))


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
        model.lifts.append((load.id, over))


def _add_standing(model: RestModel, happened: Happened) -> None:
    """Canners that have had a load are on their fires still, with jars or without."""
    now = happened.now_min
    canner_of = {c.id: c for c in model.day.problem.canners}
    for name, load in model.before.items():
        mine = set(canner_of[name].burners)
        gone_by = min(now, load.out_min)
        a_pot = any(s.burner in mine and s.end_min > gone_by for s in happened.steps)
        another = any(
            mine & set(canner_of[x.canner].burners) and x.stands_until_min > gone_by
            for x in happened.loads
            if x.canner != name
        )
        others = was_taken(model.day.problem, canner_of[name], gone_by, now)
        if not (a_pot or another or others):
            out = out_of(model, load, canner_of[name].unload_min)
            since = max(now, load.done_min)
            if isinstance(out, int):
                out = max(since, out)
            model.day.stands[name] = since, out


def _add_hands_on(day: DayModel, person: str, start: int, length: int) -> None:
    hands = Hands("", (), {person: day.model.new_constant(1)})
    day.hands.append(hands)
    begins = day.model.new_constant(start)
    day.pieces.append(Piece(hands, begins, length, LABOUR_QUARTERS))
