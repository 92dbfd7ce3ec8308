"""Where the search begins: the old order, put off as far as the past asks."""

from __future__ import annotations

from ortools.sat.python import cp_model

from stillroom.planning.begun.put_off import PutOff
from stillroom.planning.begun.residual import NOW, Residual
from stillroom.planning.cpsat.reading import rinse_hints
from stillroom.planning.cpsat.rest import RestModel
from stillroom.planning.timetable import PlacedLoad, Timetable
from stillroom.planning.words.canner_moved import loads_after_a_move


def hints_of_the_old_order(
    model: RestModel,
    residual: Residual,
    old: Timetable,
    to_come: dict[str, list[PlacedLoad]],
    later: PutOff,
    now: int,
) -> list[tuple[cp_model.IntVar, int]]:
    """
    Return a value for each decision under the old order.

    Which of them may be left open is noted in ``model.loose``: water that would have
    grown cold, jars that would have stood, or a lift that comes late may ask for other
    minutes.
    """
    of_loads: set[int] = set()
    of_lifts: set[int] = set()
    of_work: set[int] = set()
    model.loose = (of_loads, of_lifts, of_work)
    day = model.day
    placed = {(s.batch, s.step): s for s in old.steps}
    size_of = {p.id: p.size for p in residual.problem.pots}
    class_of = {name: c for c, k in enumerate(day.classes) for name in k.burners}
    hints: list[tuple[cp_model.IntVar, int]] = []
    for batch in residual.problem.batches:
        network = day.networks[batch.id]
        for chain, var in zip(network.chains, day.starts[batch.id], strict=True):
            root = batch.steps[chain.members[0][0]].id
            at = now if root == NOW else later.start[batch.id, root]
            hints.append((var, max(now, at)))
            of_work.add(var.index)
        pot = next((s.pot for s in old.steps if s.batch == batch.id and s.pot), None)
        for size, literal in day.pot_size.get(batch.id, {}).items():
            hints.append((literal, int(pot is not None and size_of[pot] == size)))
    hints += rinse_hints(day, old)
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
    moved = loads_after_a_move(residual.problem, old)
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
                stays = load.id not in moved and (n > 0 or canner in model.before)
                hints.append((slot.stays, int(stays)))
                of_loads |= {v.index for v, _ in hints[-4:]}
                hints += [
                    (v, int(p == load.lowered_by)) for p, v in slot.lowered_by.items()
                ]
                hints += [
                    (v, int(p == load.lifted_by)) for p, v in slot.lifted_by.items()
                ]
                of_lifts |= {v.index for v in slot.lifted_by.values()}
    for running in model.running:
        if running.by:
            assert isinstance(running.lift, cp_model.IntVar)
            hints.append((running.lift, later.start[running.load.id, "lift"]))
            hints += [
                (v, int(p == running.load.lifted_by)) for p, v in running.by.items()
            ]
            of_lifts |= {running.lift.index, *(v.index for v in running.by.values())}
    for person, starts in day.breaks.items():
        rests = [r for r in old.breaks if r.person == person]
        for start, rest in zip(reversed(starts), reversed(rests), strict=False):
            at = max(now, later.breaks.get(rest, rest.start_min))
            if at <= max(start.proto.domain):  # else it goes where it still may
                hints.append((start, at))
                of_lifts.add(start.index)
    return hints
