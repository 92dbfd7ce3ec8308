"""A solution as a timetable, and a timetable as a hint for what it speaks of."""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Callable, Hashable
from dataclasses import replace

from ortools.sat.python import cp_model

from stillroom.planning.cpsat.constraints import like_canners, ordering_step, twins
from stillroom.planning.cpsat.names import Span, named
from stillroom.planning.cpsat.variables import Block, DayModel, Slot
from stillroom.planning.problem import Batch
from stillroom.planning.rinses import Tool, contents_of, next_in, wash_of
from stillroom.planning.timetable import PlacedBreak, PlacedLoad, PlacedStep, Timetable
from stillroom.planning.words.canner_moved import loads_after_a_move

Value = Callable[[cp_model.LinearExpr], int]


def timetable_of(day: DayModel, value: Value) -> Timetable:
    """The timetable that a solution stands for, with pots, burners and mills named."""
    burners = _burners(day, value)
    pots = _pots(day, value)
    mills = _mills(day, value)
    person: dict[tuple[str, int], str] = {}
    for hands in day.hands:
        who = next(p for p, literal in hands.by.items() if value(literal))
        person.update({(hands.batch, i): who for i in hands.steps})
    steps = []
    for batch in day.problem.batches:
        for i, step in enumerate(batch.steps):
            start = value(day.start(batch.id, i))
            rinse = day.rinses.get((batch.id, i))
            steps.append(
                PlacedStep(
                    batch=batch.id,
                    step=step.id,
                    start_min=start,
                    end_min=value(day.end(batch, i)),
                    person=person.get((batch.id, i)),
                    quarters=step.attention_quarters,
                    pot=pots.get(batch.id) if step.in_pot else None,
                    burner=burners.get((batch.id, i)),
                    mill=mills.get(batch.id) if step.on_mill else None,
                    rinsed=rinse is not None and bool(value(rinse.rinsed)),
                )
            )
    steps.sort(key=lambda s: (s.start_min, s.batch, s.end_min))
    loads = [_load(day, slot, value) for slot in day.all_slots() if value(slot.present)]
    loads.sort(key=lambda load: (load.lower_min, load.id))
    breaks = [
        PlacedBreak(
            person=p.id,
            start_min=value(start),
            end_min=value(start) + rest.duration_min,
        )
        for p in day.problem.people
        for rest, start in zip(p.breaks, day.breaks[p.id], strict=True)
    ]
    return Timetable(steps=tuple(steps), loads=tuple(loads), breaks=tuple(breaks))


def _load(day: DayModel, slot: Slot, value: Value) -> PlacedLoad:
    minutes = {p.id: p.minutes for p in day.problem.processes}
    process = next(k for k, literal in slot.kind.items() if value(literal))
    lower, done, lift = value(slot.lower), value(slot.done), value(slot.lift)
    return PlacedLoad(
        id=f"{slot.canner.id}/{slot.index + 1}",
        canner=slot.canner.id,
        process=process,
        process_min=minutes[process],
        jars=tuple((b, value(n)) for b, n in slot.jars.items() if value(n)),
        hot=bool(value(slot.hot)),
        heat_min=value(slot.heat),
        lower_min=lower,
        lowered_min=lower + slot.canner.load_min,
        boil_min=done - minutes[process],
        done_min=done,
        lift_min=lift,
        out_min=lift + slot.canner.unload_min,
        fire_free_min=value(slot.fire_free),
        lowered_by=next(p for p, v in slot.lowered_by.items() if value(v)),
        lifted_by=next(p for p, v in slot.lifted_by.items() if value(v)),
    )


def _pots(day: DayModel, value: Value) -> dict[str, str]:
    spans: dict[str, list[Span]] = {}
    for batch in day.problem.batches:
        if batch.id not in day.pot_size:
            continue
        size = next(s for s, v in day.pot_size[batch.id].items() if value(v))
        spans.setdefault(size, []).append(_span(day, batch, "in_pot", value))
    found: dict[str, str] = {}
    for size, held in spans.items():
        pots = [p.id for p in day.problem.pots if p.size == size]
        found.update(_named_in_turn(day, value, Tool.POT, held, pots))
    return found


def _named_in_turn(
    day: DayModel, value: Value, tool: Tool, spans: list[Span], names: list[str]
) -> dict[str, str]:
    """Names by batch: those between which there is only a rinse share one."""
    then = {f.before: f.after for f in day.follows if f.tool is tool and value(f.holds)}
    of = {str(span.key): span for span in spans}
    firsts = [name for name in of if name not in then.values()]
    lines: dict[str, list[str]] = {}
    for first in firsts:
        lines[first] = [first]
        while (last := lines[first][-1]) in then:
            lines[first].append(then[last])
    whole = [
        replace(of[first], end=max(of[name].end for name in line))
        for first, line in lines.items()
    ]
    given = named(whole, names)
    return {name: given[first] for first, line in lines.items() for name in line}


def _mills(day: DayModel, value: Value) -> dict[str, int]:
    spans = [
        _span(day, batch, "on_mill", value)
        for batch in day.problem.batches
        if any(s.on_mill for s in batch.steps)
    ]
    mills = [str(n + 1) for n in range(day.problem.mills)]
    given = _named_in_turn(day, value, Tool.MILL, spans, mills)
    return {batch: int(name) for batch, name in given.items()}


def _span(day: DayModel, batch: Batch, what: str, value: Value) -> Span:
    inside = [i for i, s in enumerate(batch.steps) if getattr(s, what)]
    start = min(value(day.start(batch.id, i)) for i in inside)
    end = max(value(day.end(batch, i)) for i in inside)
    return Span(batch.id, start, end, contents_of(batch))


def _burners(day: DayModel, value: Value) -> dict[tuple[str, int], str]:
    """Fires of one pot that touch become one span; canners take their classes whole."""
    found: dict[tuple[str, int], str] = {}
    for c, alike in enumerate(day.classes):
        mine = [b for b in day.blocks if c in b.at and value(b.at[c])]
        mine.sort(key=lambda b: value(b.start))
        merged: dict[Hashable, tuple[list[Block], int, int]] = {}
        latest: dict[str, Hashable] = {}
        for n, block in enumerate(mine):
            start = value(block.start)
            end = start + block.length
            key = latest.get(block.batch) if block.in_pot else None
            if key is not None and merged[key][2] >= start:
                blocks, first, last = merged[key]
                merged[key] = ([*blocks, block], first, max(last, end))
                continue
            merged[n] = ([block], start, end)
            if block.in_pot:
                latest[block.batch] = n
        spans = [Span(k, start, end) for k, (_, start, end) in merged.items()]
        for k, name in named(spans, alike.burners).items():
            for block in merged[k][0]:
                found.update({(block.batch, i): name for i in block.steps})
    return found


# --- the other way round ----------------------------------------------------------


def in_list_order(day: DayModel, plan: Timetable) -> Timetable:
    """The same plan with twins closed, and like canners used, in the model's order."""
    new_name: dict[str, str] = {}
    placed = {(s.batch, s.step): s for s in plan.steps}
    for group in twins(day.problem.batches):
        closing = group[0].steps[ordering_step(group[0])].id
        order = sorted(group, key=lambda b: placed[b.id, closing].end_min)
        new_name.update({b.id: g.id for b, g in zip(order, group, strict=True)})
    steps = [replace(s, batch=new_name.get(s.batch, s.batch)) for s in plan.steps]
    loads = [
        replace(load, jars=tuple((new_name.get(b, b), n) for b, n in load.jars))
        for load in plan.loads
    ]
    canner, burner = _canners_by_use(day, plan)
    steps = [replace(s, burner=burner.get(s.burner or "", s.burner)) for s in steps]
    loads = [replace(x, canner=canner.get(x.canner, x.canner)) for x in loads]
    return replace(plan, steps=tuple(steps), loads=tuple(loads))


def _canners_by_use(
    day: DayModel, plan: Timetable
) -> tuple[dict[str, str], dict[str, str]]:
    """Old to new name of canners, and of the burners that they cover."""
    used = Tally(load.canner for load in plan.loads)
    canner: dict[str, str] = {}
    burner: dict[str, str] = {}
    like = {
        b.id: (b.power_w, sorted(b.takes or ()), b.taken_apart)
        for b in day.problem.burners
    }
    covers = {
        c.id: sorted(c.burners, key=lambda b: like[b]) for c in day.problem.canners
    }
    for group in like_canners(day):
        order = sorted(group, key=lambda c: -used[c])
        for old, new in zip(order, group, strict=True):
            canner[old] = new
            burner.update(zip(covers[old], covers[new], strict=True))
    return canner, burner


def hints_of(day: DayModel, plan: Timetable) -> list[tuple[cp_model.IntVar, int]]:
    """
    What a timetable says about the variables of a model.

    Some variables (lengths, lateness) follow from these; the solver fills them in.
    """
    plan = in_list_order(day, plan)
    placed = {(s.batch, s.step): s for s in plan.steps}
    hints: list[tuple[cp_model.IntVar, int]] = []
    size_of = {p.id: p.size for p in day.problem.pots}
    class_of = {name: c for c, k in enumerate(day.classes) for name in k.burners}
    for batch in day.problem.batches:
        network = day.networks[batch.id]
        for chain, var in zip(network.chains, day.starts[batch.id], strict=True):
            root = batch.steps[chain.members[0][0]].id
            hints.append((var, placed[batch.id, root].start_min))
        for size, literal in day.pot_size.get(batch.id, {}).items():
            pot = next(s.pot for s in plan.steps if s.batch == batch.id and s.pot)
            hints.append((literal, int(size_of[pot] == size)))
    hints += rinse_hints(day, plan)
    step_ids = {b.id: [s.id for s in b.steps] for b in day.problem.batches}
    for hands in day.hands:
        who = placed[hands.batch, step_ids[hands.batch][hands.steps[0]]].person
        hints += [(literal, int(p == who)) for p, literal in hands.by.items()]
    for block in day.blocks:
        burner = placed[block.batch, step_ids[block.batch][block.steps[0]]].burner
        at = class_of[str(burner)]
        hints += [(literal, int(c == at)) for c, literal in block.at.items()]
    for person in day.problem.people:
        rests = [r for r in plan.breaks if r.person == person.id]
        for rest, var in zip(person.breaks, day.breaks[person.id], strict=True):
            fits = next(
                r
                for r in rests
                if rest.earliest_min <= r.start_min <= rest.latest_start_min
                and r.end_min - r.start_min == rest.duration_min
            )
            rests.remove(fits)
            hints.append((var, fits.start_min))
    moved = loads_after_a_move(day.problem, plan)
    for name, line in day.slots.items():
        loads = sorted(
            (x for x in plan.loads if x.canner == name), key=lambda x: x.lower_min
        )
        for n, slot in enumerate(line):
            load = loads[n] if n < len(loads) else None
            stays = n > 0 and load is not None and load.id not in moved
            if stays and load is not None and not load.hot:
                stays = load.lower_min - load.heat_min == slot.canner.reheat_min
            hints += _slot_hints(day, slot, load, stays)
    hints += [] if day.finish is None else [(day.finish, plan.finish_min)]
    return hints


def rinse_hints(day: DayModel, plan: Timetable) -> list[tuple[cp_model.IntVar, int]]:
    """Which washes of a plan are rinses, and for whom."""
    rinsed = {(s.batch, s.step) for s in plan.steps if s.rinsed}
    batch_of = {b.id: b for b in day.problem.batches}
    hints = []
    for tool in Tool:
        then = dict(next_in(day.problem, plan, tool))
        for follow in day.follows:
            if follow.tool is tool:
                wash = wash_of(batch_of[follow.before], tool)
                only_rinsed = wash is not None and (follow.before, wash.id) in rinsed
                holds = only_rinsed and then.get(follow.before) == follow.after
                hints.append((follow.holds, int(holds)))
    return hints


def _slot_hints(
    day: DayModel, slot: Slot, load: PlacedLoad | None, stays: bool
) -> list[tuple[cp_model.IntVar, int]]:
    times = (slot.heat, slot.lower, slot.done, slot.lift, slot.fire_free)
    if load is None:
        literals = (*slot.kind.values(), *slot.jars.values(), *slot.aboard.values())
        who = (*slot.lowered_by.values(), *slot.lifted_by.values())
        absent = (slot.present, slot.hot, slot.stays, *literals, *who)
        return [(t, day.horizon) for t in times] + [(v, 0) for v in absent]
    jars = dict(load.jars)
    came = (load.heat_min, load.lower_min, load.done_min, load.lift_min)
    return [
        *zip(times, (*came, load.fire_free_min), strict=True),
        (slot.present, 1),
        (slot.hot, int(load.hot)),
        (slot.stays, int(stays)),
        *((v, int(k == load.process)) for k, v in slot.kind.items()),
        *((v, jars.get(b, 0)) for b, v in slot.jars.items()),
        *((v, int(b in jars)) for b, v in slot.aboard.items()),
        *((v, int(p == load.lowered_by)) for p, v in slot.lowered_by.items()),
        *((v, int(p == load.lifted_by)) for p, v in slot.lifted_by.items()),
    ]
